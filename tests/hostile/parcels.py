"""Hostile parcels, received; and a club with secrets everywhere, packed.

A parcel is refused as a whole: nothing of it is taken, nothing is written, and the club's folder is afterwards what it
was before, byte for byte.
"""

from __future__ import annotations

import hashlib
import io
import struct
import zipfile
from collections.abc import Callable, Iterator, Mapping

from docgen.club.read import read_club
from docgen.share.container import MAX_BYTES, MAX_ENTRIES, MAX_ENTRY, from_bytes, to_bytes
from docgen.share.pack import pack
from tests.hostile.cases import Case, Place
from tests.share.archives import Entry, archive
from tests.smallclub import texts

JOB = "procedures/rotor-service.yaml"
Files = Mapping[str, bytes]
LINK, PIPE, DEVICE = 0o120777, 0o010666, 0o020666


def _one(name: str | bytes, **more: object) -> Callable[[], bytes]:
    """A parcel with one file."""
    path = name if isinstance(name, bytes) else name.encode()
    return lambda: archive(Entry(path, **more))  # type: ignore[arg-type]


def _zipped(size: int, method: int) -> bytes:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", method) as made:
        made.writestr("procedures/bomb.yaml", bytes(size))
    return out.getvalue()


def _nested() -> bytes:
    data = bytes(1 << 20)
    for level in range(6):
        out = io.BytesIO()
        with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as made:
            for n in range(8):
                made.writestr(f"level{level}-{n}.zip", data)
        data = out.getvalue()
    return data


def _overlapping(files: int) -> bytes:
    """Entries that all stand on the same bytes: a small file that would unpack to a large one."""
    body = archive(Entry(b"f000", bytes(100_000)))
    first = body.index(b"PK\x01\x02")
    one = body[first:-22]
    rows = b"".join(one[:46] + b"f%03d" % n for n in range(files))
    return body[:first] + rows + struct.pack("<4s4H2LH", b"PK\x05\x06", 0, 0, files, files, len(rows), first, 0)


CONTAINERS: dict[str, Callable[[], bytes]] = {
    "container-traversal: up from the top": _one("../club.yaml"),
    "container-traversal: up from inside": _one("procedures/../../outside/secret.yaml"),
    "container-traversal: the other stroke": _one("procedures\\..\\..\\secret.yaml"),
    "container-traversal: hidden in the local name": _one("procedures/a.yaml", local_name=b"../../../../a.yaml"),
    "container-traversal: a hidden folder": _one(".git/hooks/post-checkout"),
    "container-traversal: an end in the middle": _one("procedures/a.yaml\0/../../x"),
    "container-traversal: overlong UTF-8": _one(b"procedures/\xc0\xae\xc0\xae/x"),
    "container-absolute: from the root": _one("/etc/cron.d/docgen"),
    "container-absolute: a drive": _one("C:\\Windows\\x.yaml"),
    "container-absolute: a share": _one("\\\\host\\share\\x.yaml"),
    "container-absolute: home": _one("~/.profile"),
    "container-link: a symbolic link": _one("procedures/a.yaml", mode=LINK, data=b"/etc/passwd"),
    "container-link: a pipe": _one("procedures/a.yaml", mode=PIPE),
    "container-link: a device": _one("procedures/a.yaml", mode=DEVICE),
    "container-link: a folder": _one("procedures/", data=b""),
    "container-device: NUL": _one("procedures/NUL.yaml"),
    "container-device: a port": _one("models/com1"),
    "container-device: with a stream": _one("procedures/a.yaml:evil"),
    "container-device: a dot at its end": _one("procedures/a.yaml."),
    "container-device: turned round": _one("procedures/a\u202elmay.exe", flags=0x800),
    "container-case: two cases of one name": lambda: archive(Entry(b"models/a.yaml"), Entry(b"models/A.yaml")),
    "container-case: one name twice": lambda: archive(Entry(b"models/a.yaml"), Entry(b"models/a.yaml", b"y: 2\n")),
    "container-case: the Kelvin sign": lambda: archive(Entry(b"k.yaml"), Entry("\u212a.yaml".encode(), flags=0x800)),
    "container-bomb: 128 MiB squeezed": lambda: _zipped(1 << 27, zipfile.ZIP_DEFLATED),
    "container-bomb: by another method": lambda: _zipped(1 << 24, zipfile.ZIP_LZMA),
    "container-bomb: archives in archives": _nested,
    "container-bomb: files that overlap": lambda: _overlapping(900),
    "container-entries: a thousand and one": lambda: archive(*(Entry(b"f%d" % n, b"") for n in range(MAX_ENTRIES + 1))),
    "container-entries: thousands": lambda: archive(*(Entry(b"f%d" % n, b"") for n in range(5000))),
    "container-entries: it says many": lambda: archive(Entry(b"a.yaml"), count=65_535),
    "container-entries: it says few": lambda: archive(*(Entry(b"f%d" % n, b"") for n in range(1100)), count=3),
    "container-size: it says huge": _one("a.yaml", size=0xFFFFFFF0),
    "container-size: it says huge as packed": _one("a.yaml", packed=0x7FFFFFFF),
    "container-size: it says less": _one("a.yaml", size=2),
    "container-size: a file too large": _one("a.yaml", data=bytes(MAX_ENTRY + 1)),
    "container-size: a parcel too large": lambda: b"PK\x03\x04" + bytes(MAX_BYTES),
    "container-size: all together too large": lambda: archive(*(Entry(b"f%d" % n, size=MAX_ENTRY) for n in range(9))),
    "container-damage: empty": lambda: b"",
    "container-damage: words": lambda: b"hello",
    "container-damage: an archive of another kind": lambda: b"\x1f\x8b\x08" + bytes(50),
    "container-damage: cut short": lambda: to_bytes({"manifest.yaml": b"a: 1\n"})[:-30],
    "container-damage: more behind it": lambda: to_bytes({"manifest.yaml": b"a: 1\n"}) + b"#!/bin/sh\n",
    "container-damage: more before it": lambda: archive(Entry(b"a.yaml"), before=b"PK\x03\x04 #!/bin/sh"),
    "container-damage: a comment": lambda: archive(Entry(b"a.yaml"), comment=b"<script>"),
    "container-damage: an extra field": _one("a.yaml", extra=b"\x01\x00\x10\x00" + bytes(16)),
    "container-damage: locked": _one("a.yaml", flags=1),
}


def _with(path: str, right: bytes, wrong: bytes) -> Callable[[Files], Files]:
    """A good parcel with something changed inside one of its files."""

    def change(files: Files) -> Files:
        assert right in files[path], files[path].decode()
        return {**files, path: files[path].replace(right, wrong, 1)}

    return change


CONTENTS: dict[str, Callable[[Files], Files]] = {
    "a tag": _with(JOB, b"revision: 3", b"revision: !!python/object/apply:os.system [id]"),
    "a bomb of aliases": lambda files: {**files, JOB: b"a: &a [x]\nb: &b [*a,*a]\nc: [*b,*b]\n"},
    "a torque turned round": _with("models/willow-80.yaml", b"34 N.m", "\u202e34 N.m".encode()),
    "a look-alike torque": _with("models/willow-80.yaml", b"34 N.m", "\uff134 N.m".encode()),
    "a torque that its digest does not know": _with("models/willow-80.yaml", b"34 N.m", b"94 N.m"),
    "no manifest": lambda files: {path: data for path, data in files.items() if path != "manifest.yaml"},
    "a file that the manifest does not name": lambda files: {**files, "procedures/more.yaml": b"a: 1\n"},
    "a page template": lambda files: {**files, "templates/checklist.html.j2": b"{{ 7*7 }}"},
    "a style sheet": lambda files: {**files, "style.css": b"body { display: none }"},
    "a logo": lambda files: {**files, "logo.svg": b"<svg/>"},
    "a club.yaml": lambda files: {**files, "club.yaml": b"club: Theirs\n"},
    "a program": lambda files: {**files, "docgen/cli/evil.py": b"import os\n"},
    "an engine nobody asked for": lambda files: {**files, "engines/7A/engine.yaml": b"engine: 7A\n"},
    "a file that the manifest names and is not there": lambda files: {p: d for p, d in files.items() if p != JOB},
    "a manifest of another kind": lambda files: {**files, "manifest.yaml": b"parcel: 2\n"},
    "a manifest with a path": _with("manifest.yaml", b"procedures/rotor-service.yaml", b"../../rotor-service.yaml"),
    "a manifest that promises another licence": _with("manifest.yaml", b"licence: CC-BY-4.0", b"licence: CC0-1.0"),
    "a sender with an escape": _with("manifest.yaml", b"from: Test Bench Club", b'from: "\\e]0;owned\\aClub"'),
}  # fmt: skip


def _repacked(place: Place, change: Callable[[Files], Files]) -> bytes:
    """What the small club would send, with something changed."""
    return to_bytes(change(from_bytes(pack(read_club(place.club), ["rotor-service"]).data)))


def _received(place: Place, data: bytes) -> str:
    """What receiving says; and that the club's folder is as it was."""
    (place.root / "tmp" / "stranger.parcel").write_bytes(data)
    before = _state(place)
    said = place.docgen("receive", "--yes", "--on", "2030-04-01", place.root / "tmp" / "stranger.parcel")
    return said if _state(place) == before else f"{said}\nTHE CLUB'S FOLDER WAS CHANGED"


def _state(place: Place) -> dict[str, str]:
    files = (path for path in sorted(place.club.rglob("*")) if path.is_file())
    return {str(path): hashlib.sha256(path.read_bytes()).hexdigest() for path in files}


def _into_a_link(folder: str) -> Callable[[Place], str]:
    """A good parcel with a newer revision, received by a club one of whose folders is a link out of it."""

    def act(place: Place) -> str:
        job = texts()[JOB].replace("revision: 3", "revision: 4")
        place.put(JOB, job.replace("Slide the spacer on.", "Slide the new spacer on."))
        data = pack(read_club(place.club), ["rotor-service"]).data
        place.fresh()
        if (place.club / folder).exists():
            (place.club / folder).rename(place.club / f"{folder}-away")
        (place.club / folder).symlink_to(place.outside)
        return _received(place, data)

    return act


SECRETS = ("hunter2", "IBAN", "+44 5555", "key-under-the-mat", "password")


def _secrets(place: Place) -> str:
    """A club whose file holds secrets in comments, prices, the season and other engines' records; what is packed."""
    club = texts()["club.yaml"].replace("paste: {name:", "paste: {container: 77 g, price: 44.44, name:")
    club = club.replace("wrench-100: {name:", "wrench-100: {calibrated_until: 2031-12-24, name:")
    place.put("club.yaml", f"# admin password: hunter2\n{club}# the shed: key-under-the-mat, IBAN XX00\n")
    job = texts()[JOB].replace("title:", "# ask Bo, +44 5555\ntitle:", 1)
    place.put(JOB, f"# password: hunter2\n{job}")
    place.put("notes.txt", "password: hunter2")
    place.put(".env", "TOKEN=hunter2")
    out = place.root / "tmp" / "ours.parcel"
    out.unlink(missing_ok=True)
    said = place.docgen("pack", "ROT", "--out", out)
    data = out.read_bytes()
    wanted = (*SECRETS, "44.44", "77 g", "2031-12-24", "Ágnes", "W80-0007", "S-100", "First", "EUR")
    found = [word for word in wanted if word.encode() in data]
    files = ", ".join(sorted(from_bytes(data)))
    return f"{said}\nfiles: {files}\nof {len(wanted)} secrets in it: {found}"


def _unknown_secret(place: Place) -> str:
    club = texts()["club.yaml"]
    place.put("club.yaml", f"{club}mail_password: hunter2\n")
    out = place.root / "tmp" / "none.parcel"
    said = place.docgen("pack", "ROT", "--out", out)
    # The hint names the keys of a club's file, which is not what this is about.
    said = "\n".join(line for line in said.splitlines() if "to mend: known here" not in line)
    return f"{said}\nwritten: {out.exists()}"


def _cases() -> Iterator[Case]:
    for key, make in CONTAINERS.items():
        vector, _, name = key.partition(": ")
        yield Case(vector, name, lambda place, make=make: _received(place, make()))
    for name, change in CONTENTS.items():
        yield Case("container-content", name, lambda place, change=change: _received(place, _repacked(place, change)))
    for folder in ("procedures", "models", "shared"):
        yield Case("container-link", f"into {folder}, a link", _into_a_link(folder))
    yield Case("secret", "a parcel of a club that has many", _secrets)
    yield Case("secret", "a key of its own in club.yaml", _unknown_secret)


CASES = tuple(_cases())
