"""The file that a parcel travels in: one way to write it, and nothing else is read."""

from __future__ import annotations

import hashlib
import io
import stat
import zipfile

import pytest
from hypothesis import given
from hypothesis import strategies as st

from docgen.share.container import MAX_BYTES, MAX_ENTRIES, MAX_ENTRY, ParcelRefused, from_bytes, to_bytes
from tests.share.archives import Entry, archive

FILES = {"manifest.yaml": b"one: 1\n", "procedures/a-b.yaml": b"two: 2\n", "engines/017/engine.yaml": b"three: 3\n"}
AGAIN = "ask the sender to pack it again with  docgen pack  and to send that file as it is"


def refusal(data: bytes) -> str:
    with pytest.raises(ParcelRefused) as caught:
        from_bytes(data)
    return str(caught.value)


def test_these_bytes_are_the_format() -> None:
    """A later version of the program must still write, and so still read, this very file."""
    data = to_bytes(FILES)
    assert hashlib.sha256(data).hexdigest() == "67234e37179820ed142881cdd8bdfb31411fc26db88d3c70f5e5bd23671d1083"
    assert from_bytes(data) == FILES


def test_an_ordinary_program_opens_it() -> None:
    with zipfile.ZipFile(io.BytesIO(to_bytes(FILES))) as opened:
        assert opened.testzip() is None
        assert opened.namelist() == sorted(FILES)


def test_the_order_that_files_are_given_in_changes_nothing() -> None:
    assert to_bytes(dict(reversed(FILES.items()))) == to_bytes(FILES)


NAMES = st.from_regex(r"[a-z][a-z0-9.-]{0,8}[a-z0-9](/[a-z][a-z0-9]{3,8}){0,3}", fullmatch=True)


@given(st.dictionaries(NAMES, st.binary(max_size=200), max_size=8))
def test_whatever_is_packed_comes_back(files: dict[str, bytes]) -> None:
    try:
        assert from_bytes(to_bytes(files)) == files or not files
    except ParcelRefused as refused:
        assert refused.name in ("device-name", "not-a-parcel", "odd-file-name"), refused  # noqa: PT017


@given(st.data())
def test_whatever_is_done_to_its_bytes_it_is_read_as_packed_or_refused(draw: st.DataObject) -> None:
    data = bytearray(to_bytes(FILES))
    for _ in range(draw.draw(st.integers(1, 6))):
        data[draw.draw(st.integers(0, len(data) - 1))] = draw.draw(st.integers(0, 255))
    cut = bytes(data[: draw.draw(st.integers(0, len(data)))]) if draw.draw(st.booleans()) else bytes(data)
    try:
        read = from_bytes(cut)
    except ParcelRefused as refused:
        assert refused.hint  # noqa: PT017  either is right
    else:
        assert to_bytes(read) == cut


def of(name: bytes, **more: object) -> bytes:
    return archive(Entry(name, **more))  # type: ignore[arg-type]


CALLED = "the parcel holds a file called"
FOLDER = "the club's folder"
OWN_PLACE = f"is a place of its own and not in {FOLDER}"
DEVICE = "which is a device on some systems and not a file"
NO_NAME = "that is no name of a file of a parcel"
DAMAGED = "the parcel is damaged or cut short"
NOT_AS_PACKED = "the parcel holds something beside its files, or says something untrue of them"
HOSTILE = {
    "leads out": (
        of(b"../club.yaml"), "path-outside",
        f'{CALLED} "../club.yaml", which leads out of {FOLDER}'),
    "leads out further down": (
        of(b"procedures/../../x.yaml"), "path-outside",
        f'{CALLED} "procedures/../../x.yaml", which leads out of {FOLDER}'),
    "leads out the other way": (
        of(b"procedures\\..\\..\\x.yaml"), "path-outside",
        f'{CALLED} "procedures\\..\\..\\x.yaml", which leads out of {FOLDER}'),
    "absolute": (
        of(b"/etc/passwd"), "absolute-path",
        f'{CALLED} "/etc/passwd", which {OWN_PLACE}'),
    "absolute with a drive": (
        of(b"C:evil.yaml"), "absolute-path",
        f'{CALLED} "C:evil.yaml", which {OWN_PLACE}'),
    "absolute on a share": (
        of(b"\\\\host\\x"), "absolute-path",
        f'{CALLED} "\\\\host\\x", which {OWN_PLACE}'),
    "a device": (
        of(b"procedures/NUL.yaml"), "device-name",
        f'{CALLED} "procedures/NUL.yaml", {DEVICE}'),
    "a device alone": (
        of(b"com1"), "device-name",
        f'{CALLED} "com1", {DEVICE}'),
    "a folder": (
        of(b"procedures/", data=b""), "folder-entry",
        'the parcel holds a folder "procedures/"; it may hold files only'),
    "hidden": (
        of(b".git/config"), "odd-file-name",
        f'{CALLED} ".git/config"; {NO_NAME}'),
    "deep": (
        of(b"a/b/c/d/e"), "odd-file-name",
        f'{CALLED} "a/b/c/d/e"; {NO_NAME}'),
    "a dot at its end": (
        of(b"procedures/a."), "odd-file-name",
        f'{CALLED} "procedures/a."; {NO_NAME}'),
    "a space at its end": (
        of(b"procedures/a.yaml "), "odd-file-name",
        f'{CALLED} "procedures/a.yaml "; {NO_NAME}'),
    "a stream behind a name": (
        of(b"ab:stream"), "odd-file-name",
        f'{CALLED} "ab:stream"; {NO_NAME}'),
    "turned round": (
        of("a\u202ey.yaml".encode(), flags=0x800), "odd-file-name",
        f'{CALLED} "a<U+202E>y.yaml"; {NO_NAME}'),
    "a byte that ends a name": (
        of(b"a.yaml\0b"), "odd-file-name",
        f'{CALLED} "a.yaml<U+0000>b"; {NO_NAME}'),
    "a long name": (
        of(b"a" * 130), "odd-file-name",
        f'{CALLED} "{"a" * 80}..."; {NO_NAME}'),
    "a link": (
        of(b"a.yaml", mode=stat.S_IFLNK | 0o777, data=b"/etc/passwd"), "link-entry",
        '"a.yaml" in the parcel is a link to another place'),
    "a device file": (
        of(b"a.yaml", mode=stat.S_IFCHR | 0o666), "link-entry",
        '"a.yaml" in the parcel is not an ordinary file'),
    "a pipe": (
        of(b"a.yaml", mode=stat.S_IFIFO | 0o666), "link-entry",
        '"a.yaml" in the parcel is not an ordinary file'),
    "locked": (
        of(b"a.yaml", flags=1), "locked-entry",
        '"a.yaml" in the parcel is locked with a password'),
    "compressed": (
        of(b"a.yaml", method=8), "compressed-entry",
        '"a.yaml" in the parcel is compressed, which a parcel never is'),
    "compressed in an unknown way": (
        of(b"a.yaml", method=99), "compressed-entry",
        '"a.yaml" in the parcel is compressed, which a parcel never is'),
    "says that it is huge": (
        of(b"a.yaml", size=0xFFFFFFF0), "entry-too-large",
        f'"a.yaml" in the parcel is 4294967280 bytes large; the most that is read is {MAX_ENTRY}'),
    "says that it is huge as packed": (
        of(b"a.yaml", packed=0x7FFFFFFF), "entry-too-large",
        f'"a.yaml" in the parcel is 2147483647 bytes large; the most that is read is {MAX_ENTRY}'),
    "one name twice": (
        archive(Entry(b"a.yaml"), Entry(b"a.yaml", b"y: 2\n")), "entry-twice",
        'the parcel holds "a.yaml" twice'),
    "one name in two cases": (
        archive(Entry(b"a.yaml"), Entry(b"A.yaml")), "case-collision",
        'the parcel holds "a.yaml" and "A.yaml", which are one file on some systems'),
    "too many files": (
        archive(*(Entry(b"f%d" % n, b"") for n in range(MAX_ENTRIES + 1))), "too-many-entries",
        f"the parcel says that it holds {MAX_ENTRIES + 1} files; the most that are read are {MAX_ENTRIES}"),
    "says that it holds too many": (
        archive(Entry(b"a.yaml"), count=65535), "too-many-entries",
        f"the parcel says that it holds 65535 files; the most that are read are {MAX_ENTRIES}"),
    "holds more than it says": (
        archive(*(Entry(b"f%d" % n, b"") for n in range(MAX_ENTRIES + 5)), count=3), "too-many-entries",
        f"the parcel holds {MAX_ENTRIES + 5} files; the most that are read are {MAX_ENTRIES}"),
    "a smaller size than it has": (of(b"a.yaml", size=2), "damaged-parcel", DAMAGED),
    "two names for one file": (of(b"a.yaml", local_name=b"b.yaml"), "damaged-parcel", DAMAGED),
    "more before its files": (
        archive(Entry(b"a.yaml"), before=b"PK\x03\x04 hidden"), "parcel-not-as-packed",
        NOT_AS_PACKED),
    "a comment": (
        archive(Entry(b"a.yaml"), comment=b"hello"), "data-behind-the-end",
        "something stands behind the end of the parcel"),
    "a file's comment": (
        of(b"a.yaml", comment=b"hello"), "parcel-not-as-packed",
        NOT_AS_PACKED),
    "an extra field": (
        of(b"a.yaml", extra=b"\x99\x99\x02\x00ab"), "parcel-not-as-packed",
        NOT_AS_PACKED),
    "out of order": (
        archive(Entry(b"b.yaml"), Entry(b"a.yaml")), "parcel-not-as-packed",
        NOT_AS_PACKED),
    "open to all": (
        of(b"a.yaml", mode=0o104777), "parcel-not-as-packed",
        NOT_AS_PACKED),
    "more behind its end": (
        archive(Entry(b"a.yaml"), after=b"#!/bin/sh"), "data-behind-the-end",
        "something stands behind the end of the parcel"),
}  # fmt: skip


@pytest.mark.parametrize(("data", "name", "message"), HOSTILE.values(), ids=HOSTILE)
def test_what_is_refused(data: bytes, name: str, message: str) -> None:
    said = refusal(data)
    assert said.splitlines()[0] == f"{name}: {message}"
    assert len(said.splitlines()) == 2


def test_the_archives_made_here_are_read_where_they_tell_the_truth() -> None:
    assert archive(Entry(b"a.yaml"), Entry(b"b.yaml")) == to_bytes({"a.yaml": b"x: 1\n", "b.yaml": b"x: 1\n"})


def test_a_bomb_is_refused_before_it_is_opened() -> None:
    whole = io.BytesIO()
    with zipfile.ZipFile(whole, "w", zipfile.ZIP_DEFLATED) as bomb:
        bomb.writestr("a.yaml", b"\0" * (64 << 20))
    assert refusal(whole.getvalue()).startswith('compressed-entry: "a.yaml" in the parcel is compressed')


def test_a_large_parcel_is_refused_by_its_size() -> None:
    assert refusal(b"PK\x03\x04" + bytes(MAX_BYTES)) == (
        f"parcel-too-large: the parcel is {MAX_BYTES + 4} bytes large; the most that is read is {MAX_BYTES}\n"
        "  to mend: ask the sender to pack fewer jobs into one parcel"
    )


def test_files_that_overlap_do_not_add_up() -> None:
    """Many entries whose data is one and the same: each small, all together larger than the parcel."""
    data = archive(*(Entry(b"f%03d" % n, b"z" * 100) for n in range(20)))
    first = data.index(b"PK\x01\x02")
    moved, at = bytearray(data), first
    while at < len(data) and data[at : at + 4] == b"PK\x01\x02":
        moved[at + 42 : at + 46] = bytes(4)
        at = data.find(b"PK\x01\x02", at + 4) if data.find(b"PK\x01\x02", at + 4) > 0 else len(data)
    assert refusal(bytes(moved)).startswith("damaged-parcel: ")


@pytest.mark.parametrize("data", [b"", b"hello", b"%PDF-1.7", b"PK", b"\x1f\x8b\x08" + bytes(50), b"Rar!" + bytes(50)])
def test_no_parcel_at_all(data: bytes) -> None:
    assert refusal(data) == "not-a-parcel: this is not a parcel\n  to mend: give the file that docgen pack wrote"


def test_cut_short_anywhere() -> None:
    data = to_bytes(FILES)
    for end in range(4, len(data)):
        assert refusal(data[:end]).startswith("damaged-parcel: "), end
    assert AGAIN in refusal(data + b"\n")
