"""A day's pictures, in any order: which face of which sheet each shows, what is missing, what must be taken anew."""

import hashlib
import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from pathlib import Path

from docgen.camera.shot import Glimpse, Shown
from docgen.club.folder import Folder
from docgen.club.schema.club import Club
from docgen.job.job import Job
from docgen.job.number import SheetNumber
from docgen.press.fields import FieldBox, boxes
from docgen.press.orders import order
from docgen.press.workers import press_all
from docgen.returns.diagnostic import Refused, Said
from docgen.returns.identity import IssuedSheet, sheet_numbered, typed_number
from docgen.returns.sandbox import Reader
from docgen.sheets.signoff import TOLD, signoff

AGAIN = "take the picture again"
_ISSUE = re.compile(rf"[0-9A-F]{{{TOLD}}}")


@dataclass(frozen=True)
class Shot:
    """The picture that was taken for a face: its file, which of the file's pictures, and what it shows."""

    path: Path
    at: int
    data: bytes
    shown: Shown

    @property
    def digest(self) -> str:
        """SHA-256 of the file."""
        return hashlib.sha256(self.data).hexdigest()


@dataclass
class Photographed:
    """A sheet that pictures were found of: its job, its fields by page, the best picture of each face."""

    sheet: IssuedSheet
    pdf: bytes
    pages: dict[int, tuple[FieldBox, ...]]
    shots: dict[int, Shot] = field(default_factory=dict)

    @property
    def missing(self) -> tuple[int, ...]:
        """The pages that no picture shows."""
        return tuple(page for page in self.pages if page not in self.shots)

    @property
    def unclear(self) -> tuple[str, ...]:
        """The tick boxes that a person must look at: unclear ones, and all on a page that no picture shows."""
        states = {name: state for shot in self.shots.values() for name, state in shot.shown.ticks.items()}
        ticks = [box.name for boxes in self.pages.values() for box in boxes if box.kind == "tick"]
        return tuple(name for name in ticks if states.get(name, "unclear") == "unclear")

    @property
    def ticked(self) -> tuple[str, ...]:
        """The tick boxes that are ticked beyond doubt."""
        return tuple(
            name for shot in self.shots.values() for name, state in shot.shown.ticks.items() if state == "ticked"
        )


@dataclass(frozen=True)
class Gathered:
    """The sheets, in the order of their numbers, and what is to be said of each file (with its path)."""

    sheets: tuple[Photographed, ...]
    said: tuple[tuple[Path, Said], ...]


def gather(files: Iterable[tuple[Path, bytes]], folder: Folder, reader: Reader, engine: str = "") -> Gathered:
    """Look through files of pictures. Nothing is written. engine: the only one to file for, where one was named."""
    from docgen.camera import worker

    found: dict[str, Photographed] = {}
    said: list[tuple[Path, Said]] = []
    for path, data in files:
        try:
            count = reader.ask(worker.pictures_in, data)
        except Refused as refused:
            said.append((path, refused.said))
            continue
        for at in range(count):
            which = f"picture {at + 1} of the file: " if count > 1 else ""
            try:
                one, page = _which(reader.ask(worker.glimpse, data, at), folder, found, engine)
                shown = reader.ask(worker.face_reading, data, at, one.pdf, page)
            except Refused as refused:
                plain = refused.said
                said.append((path, Said("refused", plain.name, which + plain.message, plain.hint)))
                continue
            said += [(path, note) for note in _taken(one, Shot(path, at, data, shown))]
    sheets = tuple(found[key] for key in sorted(found) if found[key].shots)
    return Gathered(sheets, tuple(said))


def _taken(one: Photographed, shot: Shot) -> Iterator[Said]:
    """Take a picture for its face, unless a better one is there already."""
    page = shot.shown.page
    before = one.shots.get(page)
    if before is None or shot.shown.good > before.shown.good:
        one.shots[page] = shot
    if before is not None:
        kept = one.shots[page]
        message = f"page {page} of {one.sheet.text} is shown twice: {kept.path.name} shows it better and is used"
        yield Said("note", "face-twice", message)


def _which(seen: Glimpse, folder: Folder, found: dict[str, Photographed], engine: str) -> tuple[Photographed, int]:
    """The sheet and page that a picture shows, by its codes alone."""
    number, behind = _number(seen)
    key = f"{number.on_page(1).text} {behind}"
    if key not in found:
        if not behind:
            raise Refused(
                "other-print",
                f"the code of {number.text} does not say which print it is: the sheet is older than that",
                f"type it in from the paper:  docgen enter {number.text}",
            )
        sheet = sheet_numbered(number, folder, engine, behind.lower())
        pdf = issued_pdf(sheet, folder.club.value)
        found[key] = Photographed(sheet, pdf, pages_of(pdf))
    one = found[key]
    if number.page not in one.pages:
        raise Refused(
            "no-such-page",
            f"{number.text} is no page of that sheet, which has {len(one.pages)}",
            "look where this paper comes from: its code was made by nobody here",
        )
    return one, number.page


def _number(seen: Glimpse) -> tuple[SheetNumber, str]:
    """The number that a picture's codes agree on, and what stands behind it."""
    if not seen.codes:
        marked = "corner marks of a sheet are" if seen.marks else "neither corner marks nor"
        raise Refused(
            "no-code",
            f"{marked} seen in the picture, but no code" if seen.marks else f"{marked} a code of a sheet are seen",
            f"{AGAIN} sharp and with the whole page in it, or scan it in grey with 150 dots to the inch; "
            "or type the sheet in:  docgen enter NUMBER",
        )
    numbers: dict[str, tuple[SheetNumber, str]] = {}
    for text in seen.codes:
        first, _, behind = text.partition(" ")
        try:
            number = typed_number(first[:60])
        except Refused:
            continue
        behind = behind if _ISSUE.fullmatch(behind) else ""
        numbers.setdefault(f"{number.text} {behind}", (number, behind))
    if not numbers:
        raise Refused(
            "not-our-sheet",
            f'the code in the picture says "{_plain(seen.codes[0])}", which is no number of a sheet',
            "its check character does not fit, or it is another program's code: look whether this is one of our sheets",
        )
    if len(numbers) > 1:
        shown = " and ".join(sorted(number.text for number, _ in numbers.values())[:3])
        raise Refused("two-faces", f"the picture shows {shown}", f"{AGAIN} of one page at a time")
    return next(iter(numbers.values()))


def _plain(text: str) -> str:
    return "".join(c if c.isprintable() and c.isascii() else "?" for c in text[:40])


def issued_pdf(sheet: IssuedSheet, club: Club) -> bytes:
    """The PDF of a sheet that was printed. Errors: Refused ``not-printable`` where its job prints no longer."""
    job: Job = sheet.job
    (outcome,) = press_all([order(sheet.text, signoff(job, club), job, club.club, forms=True)], processes=1)
    if outcome.pressed is None:
        raise Refused(
            "not-printable",
            f"{sheet.text} cannot be printed any more, so that no picture can be held against it: {outcome.faults[0]}",
            f"type it in:  docgen enter {sheet.text}",
        )
    return outcome.pressed.pdf


def pages_of(pdf: bytes) -> dict[int, tuple[FieldBox, ...]]:
    """The fields of a PDF by page."""
    found = boxes(pdf)
    return {page: tuple(box for box in found if box.page == page) for page in sorted({box.page for box in found})}
