"""What was put into the box of filled sheets: PDFs with fields, and pictures of what was filled in by pen."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from docgen.camera.shot import ENDINGS, lacking
from docgen.club.folder import Folder
from docgen.desk.system import given_file
from docgen.job.number import SIGNOFF
from docgen.returns.diagnostic import Refused, Said
from docgen.returns.form import MAX_BYTES
from docgen.returns.identity import IssuedSheet, sheet_of
from docgen.returns.sandbox import Paper, Reader
from docgen.returns.writing import read_date

_NO_SHEETS = frozenset({"not-a-sign-off", "not-our-sheet", "nothing-filled-in"})
"""What may lie in a folder of sheets without anybody having meant to file it."""


@dataclass(frozen=True)
class Given:
    """One PDF that was named, or lies in a folder that was named, and what was read of it."""

    path: Path
    named: bool
    data: bytes = b""
    paper: Paper | None = None
    refused: Refused | None = None

    @property
    def by_day(self) -> tuple[str, str]:
        """Its place: sheets of one engine are filed in the order of the work."""
        try:
            day = read_date(self.paper.form.fields.get("work-completed", ""))[0] if self.paper else None
        except Refused:
            day = None
        return (day or date.max).isoformat(), str(self.path)


def inbox(places: Sequence[Path]) -> tuple[list[Given], dict[Path, bool]]:
    """Read the PDFs among files, and those that lie in folders: they come in the order in which they are filed.

    The pictures, each with whether it was named itself; a PDF that holds only pictures is one.
    """
    paths = list(_paths(places))
    with Reader() as reader:
        given = [_read(reader, path, named) for path, named in paths if not is_picture(path)]
    scans = {one.path: one.named for one in given if one.paper is not None and _scanned(one.paper)}
    papers = sorted((one for one in given if one.path not in scans), key=lambda one: one.by_day)
    return papers, scans | {path: named for path, named in paths if is_picture(path)}


def sheet_in(folder: Folder, one: Given, engine: str = "", issue: str = "") -> IssuedSheet | None:
    """The sheet that a PDF is; None for what only lies in a folder, and is no filled sign-off sheet.

    engine : whose sheet it must be, where that is said
    issue  : the first digits of the print, where two bear its number
    Errors: Refused.
    """
    try:
        if one.paper is None:
            raise one.refused or Refused("unreadable-file", "it cannot be read")
        sheet = sheet_of(one.paper, folder, engine, issue)
        if not any(one.paper.form.fields.values()):
            raise Refused("nothing-filled-in", f"{sheet.text} is empty", "fill it in, save it, and file the saved file")
    except Refused as refused:
        if not one.named and (refused.said.name in _NO_SHEETS or _untouched(one.paper)):
            return None
        raise
    return sheet


def _paths(papers: Sequence[Path]) -> Iterator[tuple[Path, bool]]:
    for path in papers:
        if path.is_dir():
            inside = (one for one in sorted(path.rglob("*")) if one.suffix == ".pdf" or is_picture(one))
            yield from ((one, False) for one in inside if one.is_file())
        else:
            yield path, True


def is_picture(path: Path) -> bool:
    """Whether a file is a picture, by its name."""
    return path.suffix.lower().lstrip(".") in ENDINGS


def _scanned(paper: Paper) -> bool:
    """Whether a PDF has no fields, and what text it has names no sheet that stays at the bench: then it is a scan."""
    if paper.form.fields or lacking():
        return False
    letters = {text.rpartition("-")[0].rpartition("-")[2][:1] for text in paper.numbers if text}
    return letters <= {SIGNOFF}


def _read(reader: Reader, path: Path, named: bool) -> Given:
    data = b""
    try:
        data = given_file(path, MAX_BYTES, named=named)
        return Given(path, named, data, reader.read(data))
    except Refused as refused:
        return Given(path, named, data, refused=refused)


def _untouched(paper: Paper | None) -> bool:
    """Whether it has fields to fill in, and nobody wrote into any: such a print lies in a folder by itself."""
    return paper is not None and bool(paper.form.fields) and not any(paper.form.fields.values())


def unclear_ticks(paper: Paper) -> tuple[Said, ...]:
    """The doubt about tick boxes that look otherwise than the file says."""
    names = paper.form.unclear
    if not names:
        return ()
    message = f"{len(names)} of the tick boxes look otherwise than the file says, the first: {names[0]}"
    hint = "open it in the viewer it was filled in, and save it again; or look whether what is shown above is right"
    return (Said("doubt", "tick-unclear", message, hint, names[0]),)
