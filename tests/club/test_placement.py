"""A print takes the place of a print, and of nothing else."""

from __future__ import annotations

import io
import os
import random
from collections.abc import Callable
from pathlib import Path

import pikepdf
import pytest

from docgen.club import placement
from docgen.club.placement import EACH, NOTED, lay

FIRST, SECOND = b"%PDF-1.7 first", b"%PDF-1.7 second"
NAME, ASIDE = "7A-ROT-sign-off.pdf", "7A-ROT-sign-off-set-aside-1.pdf"


def names(folder: Path) -> list[str]:
    return sorted(path.name for path in folder.iterdir())


def printed() -> bytes:
    """A page with one field, as far as these tests need one."""
    document = pikepdf.new()
    document.add_blank_page()
    field = pikepdf.Dictionary(Subtype=pikepdf.Name.Widget, FT=pikepdf.Name.Tx, T="findings", Rect=[0, 0, 9, 9])
    made = pikepdf.Array([document.make_indirect(field)])
    document.pages[0].obj.Annots = made
    document.Root.AcroForm = pikepdf.Dictionary(Fields=made)
    return saved(document)


def saved(document: pikepdf.Pdf, **options: object) -> bytes:
    out = io.BytesIO()
    document.save(out, **options)  # type: ignore[arg-type]
    return out.getvalue()


def changed(change: Callable[[pikepdf.Pdf], None], **options: object) -> Callable[[bytes], bytes]:
    def made(data: bytes) -> bytes:
        with pikepdf.open(io.BytesIO(data)) as document:
            change(document)
            return saved(document, **options)

    return made


def _value(text: str) -> Callable[[pikepdf.Pdf], None]:
    def fill(document: pikepdf.Pdf) -> None:
        document.pages[0].obj.Annots[0].V = pikepdf.String(text)

    return fill


def _annotated(**entries: object) -> Callable[[pikepdf.Pdf], None]:
    def annotate(document: pikepdf.Pdf) -> None:
        document.pages[0].obj.Annots.append(document.make_indirect(pikepdf.Dictionary(Rect=[0, 0, 9, 9], **entries)))

    return annotate


def _script(document: pikepdf.Pdf) -> None:
    document.Root.OpenAction = pikepdf.Dictionary(S=pikepdf.Name.JavaScript, JS="1")


def _xfa(document: pikepdf.Pdf) -> None:
    document.Root.AcroForm.XFA = pikepdf.String("<x/>")


def _flattened(document: pikepdf.Pdf) -> None:
    del document.Root.AcroForm
    del document.pages[0].obj.Annots


def _drawn(document: pikepdf.Pdf) -> None:
    document.pages[0].contents_add(b"0 0 m 9 9 l S")


SHAPES: dict[str, Callable[[bytes], bytes]] = {
    "filled in": changed(_value("none")),
    "saved again": changed(lambda document: None),
    "opened only by a password": changed(_value("none"), encryption=pikepdf.Encryption(user="a", owner="b")),
    "with an owner's password": changed(_value("none"), encryption=pikepdf.Encryption(user="", owner="b")),
    "with a script": changed(_script),
    "with XFA": changed(_xfa),
    "flattened": changed(_flattened),
    "drawn over": changed(_drawn),
    "pen strokes": changed(_annotated(Subtype=pikepdf.Name.Ink, InkList=pikepdf.Array([[0, 0, 9, 9]]))),
    "typewriter text": changed(_annotated(Subtype=pikepdf.Name.FreeText, Contents="0.30")),
    "a stamp": changed(_annotated(Subtype=pikepdf.Name.Stamp)),
    "a very long remark": changed(_value("weeps " * 40_000)),
    "packed anew": changed(_value("none"), object_stream_mode=pikepdf.ObjectStreamMode.generate),
    "appended to": lambda data: data + b"\n1 0 obj\n<</V(none)>>\nendobj\n",
    "cut at 90 %": lambda data: data[: len(data) * 9 // 10],
    "nothing in it": lambda data: b"",
    "zeros after a power cut": lambda data: bytes(len(data)),
    "one bit": lambda data: data[:-1] + bytes([data[-1] ^ 1]),
    "a photograph": lambda data: b"\xff\xd8\xff\xe0" + random.Random(1).randbytes(4000),
    "notes in a text file": lambda data: b"gap 0.30, nut 34\n",
    "what ends a library": lambda data: b"%PDF-1.7\n1 0 obj<</Type/Catalog/Pages 1 0 R>>endobj\ntrailer<</Root 1 0 R>>",
}


@pytest.mark.parametrize("shape", SHAPES)
def test_whatever_was_done_to_a_sheet_it_is_not_printed_over(tmp_path: Path, shape: str) -> None:
    data = printed()
    assert lay(tmp_path / NAME, data) is None
    done = SHAPES[shape](data)
    assert done != data
    (tmp_path / NAME).write_bytes(done)
    assert lay(tmp_path / NAME, SECOND) == tmp_path / ASIDE
    assert ((tmp_path / ASIDE).read_bytes(), (tmp_path / NAME).read_bytes()) == (done, SECOND)
    assert lay(tmp_path / NAME, data) is None
    assert names(tmp_path) == sorted([NOTED, NAME, ASIDE])


def test_an_untouched_print_is_printed_over(tmp_path: Path) -> None:
    for data in (FIRST, SECOND, FIRST, FIRST):
        assert lay(tmp_path / NAME, data) is None
    assert (names(tmp_path), (tmp_path / NAME).read_bytes()) == ([NOTED, NAME], FIRST)


def test_what_was_there_before_anything_was_noted_is_set_aside(tmp_path: Path) -> None:
    (tmp_path / NAME).write_bytes(FIRST)
    assert lay(tmp_path / NAME, SECOND) == tmp_path / ASIDE
    (tmp_path / NOTED).unlink()
    assert lay(tmp_path / NAME, SECOND) == tmp_path / ASIDE.replace("1", "2")


def test_a_link_is_set_aside_as_a_link(tmp_path: Path) -> None:
    (tmp_path / "elsewhere").write_bytes(FIRST)
    (tmp_path / NAME).symlink_to("elsewhere")
    assert lay(tmp_path / NAME, SECOND) == tmp_path / ASIDE
    assert (tmp_path / ASIDE).readlink() == Path("elsewhere")
    assert ((tmp_path / "elsewhere").read_bytes(), (tmp_path / NAME).is_symlink()) == (FIRST, False)


def test_a_pipe_is_not_waited_for(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / NAME)
    assert lay(tmp_path / NAME, SECOND) == tmp_path / ASIDE
    assert (tmp_path / NAME).read_bytes() == SECOND


def test_a_file_larger_than_any_print_is_not_read(tmp_path: Path) -> None:
    with (tmp_path / NAME).open("wb") as file:
        file.truncate(20 << 30)
    assert lay(tmp_path / NAME, SECOND) == tmp_path / ASIDE
    assert (tmp_path / ASIDE).stat().st_size == 20 << 30


def test_a_folder_is_refused(tmp_path: Path) -> None:
    (tmp_path / NAME).mkdir()
    with pytest.raises(IsADirectoryError):
        lay(tmp_path / NAME, SECOND)
    assert names(tmp_path) == [NAME]


def test_the_note_comes_before_the_file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Who is cut off between the two finds, next time, a print that is known."""
    lay(tmp_path / NAME, FIRST)
    written: list[str] = []

    def cut_off(path: Path, data: bytes) -> None:
        written.append(path.name)
        path.write_bytes(data)
        if path.name == NAME:
            raise OSError

    monkeypatch.setattr(placement, "replace", cut_off)
    with pytest.raises(OSError):
        lay(tmp_path / NAME, SECOND)
    monkeypatch.undo()
    assert written == [NOTED, NAME]
    assert lay(tmp_path / NAME, FIRST) is None


def test_notes_stay_few(tmp_path: Path) -> None:
    for number in range(30):
        lay(tmp_path / NAME, b"%d" % number)
        lay(tmp_path / "other.pdf", FIRST)
    lines = (tmp_path / NOTED).read_text().splitlines()
    assert (len(lines), len({line.split("  ")[1] for line in lines})) == (EACH + 1, 2)


def test_notes_that_were_spoilt_are_begun_anew(tmp_path: Path) -> None:
    lay(tmp_path / NAME, FIRST)
    (tmp_path / NOTED).write_bytes(b"\xff\x00" * 50)
    assert lay(tmp_path / NAME, SECOND) == tmp_path / ASIDE
    assert (tmp_path / NAME).read_bytes() == SECOND
