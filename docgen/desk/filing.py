"""Filing one sheet, in the two halves between which somebody looks: what it says, and writing it down."""

import contextlib
import hashlib
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path

from docgen.club.folder import Folder
from docgen.club.log import Entry, Held
from docgen.club.store import StoreError, write_once
from docgen.job.issue import stem
from docgen.job.job import Part
from docgen.job.number import SheetNumber
from docgen.job.wording import listed
from docgen.returns.diagnostic import Said
from docgen.returns.filing import Filed, file_event, file_service, names_unknown
from docgen.returns.parts import OfPart
from docgen.returns.reading import Understood, understand
from docgen.returns.refiling import correction, differences, filed_as


@dataclass(frozen=True)
class Paper:
    """The paper itself, to be kept: a file's bytes and the ending of its name; the page that a picture shows, or 0."""

    data: bytes
    ending: str = "pdf"
    page: int = 0


@dataclass(frozen=True)
class Looked:
    """A sheet, or one job of a visit's sheet, looked through beside what the record holds of it.

    held    : what it was filed as before; None where it was not
    changed : in what this copy differs from that
    """

    part: OfPart
    one: Understood
    held: Held | None = None
    changed: tuple[str, ...] = ()

    @property
    def already(self) -> str:
        """That it is filed and says nothing new, in words; empty where there is something to write, or to refuse."""
        if self.held is None or self.one.refused or self.changed:
            return ""
        sheet = self.part.sheet
        name = sheet.text if self.part.whole else f"{sheet.text}, {sheet.job.instructions.title},"
        return f"{name} is already filed, as {self.held.entry.file}. Nothing was written."

    @property
    def differs(self) -> str:
        """That it was filed otherwise, in words."""
        if self.held is None or not self.changed:
            return ""
        return f"Already filed, as {self.held.entry.file}, but this copy differs in: {', '.join(self.changed)}."

    @property
    def against(self) -> tuple[Said, ...]:
        """What stands in the way of writing it, where nobody corrects what was filed."""
        way = f'docgen enter {self.part.sheet.text} --correct "WHY" puts it in the place of the first'
        return (Said("refused", "already-filed", self.differs, way),) if self.differs else self.one.refused

    @property
    def findings(self) -> tuple[str, ...]:
        """What is found open by it, in the order of the sheet."""
        return tuple(self.one.event.get("findings", ()))


def looked(
    folder: Folder, part: OfPart, today: date, also: tuple[Said, ...] = (), closed: frozenset[int] = frozenset()
) -> Looked:
    """What :func:`understood` says, and what became of the sheet before."""
    one, held = understood(folder, part, today, also, closed), filed_as(part.sheet)
    return Looked(part, one, held, differences(held, one.event) if held and not one.refused else ())


def diagnostics(found: Sequence[Looked]) -> list[Said]:
    """What is said of all of them, once; what is said of one job among several, with its title."""
    by = [(one, said) for one in found for said in dict.fromkeys((*one.one.said, *one.against))]
    of = Counter(said for _, said in by)
    return list(dict.fromkeys(
        said if of[said] > 1 or len(found) == 1
        else replace(said, message=f"{one.part.sheet.job.instructions.title}: {said.message}")
        for one, said in by
    ))  # fmt: skip


def not_written(error: StoreError | OSError) -> Said:
    """What is said where something could not be kept."""
    if isinstance(error, StoreError):
        return Said("refused", error.name, error.message, error.hint)
    return Said("refused", "not-written", f"it could not be kept: {error.strerror}")


def waiting(behind: Sequence[OfPart]) -> str:
    """What is said of the jobs behind one that is not filed: what is written once for all goes with the first."""
    titles = [str(part.sheet.job.instructions.title) for part in behind]
    return f"Not filed either: {listed(titles)}. Put that right, or leave its job unticked for now." if titles else ""


def stays_open(part: Part) -> str:
    """What is said of a job of a visit that is not complete."""
    return f"{part.title} is not ticked as complete: it stays open."


def understood(
    folder: Folder, part: OfPart, today: date, also: tuple[Said, ...] = (), closed: frozenset[int] = frozenset()
) -> Understood:
    """What a sheet, or one job of a visit's sheet, says: held against what was printed on it, the record, and the names
    that the club knows.

    also   : what the paper itself, before its boxes are read, gives cause to say
    closed : which lines of the findings (from 1) need nothing more
    """
    sheet = part.sheet
    read = folder.procedures.get(sheet.job.instructions.procedure)
    in_force = read.value.revision if read else None
    one = understand(sheet, part.answers, today, in_force, closed, elsewhere=part.elsewhere, first=part.first)
    one = replace(one, said=(*also, *sheet.said, *one.said))
    if one.refused:
        return one
    try:
        unknown = names_unknown(folder, sheet.number.engine, one.event)
    except StoreError as error:
        return replace(one, said=(*one.said, Said("refused", error.name, error.message, error.hint)))
    more = tuple(Said("refused", p.name, p.message, p.hint) for p in unknown)
    return replace(one, said=(*one.said, *more))


def write(
    root: Path, one: Understood, papers: Sequence[Paper], today: date, before: Entry | None = None, correct: str = ""
) -> Filed:
    """Keep the papers, then write the event that names them by their digests.

    A kill between the two leaves a paper that no event names: filing again takes it up, being the same bytes.
    before, correct : the entry whose place this one takes, and why. Errors: StoreError, OSError.
    """
    engine, event = one.sheet.number.engine, dict(one.event)
    kept = [(paper, *keep(root, one.sheet.number, paper.data, paper.ending)) for paper in papers]
    unsure = next((unsure for *_, unsure in kept if unsure), "")
    for paper, file, digest, _ in kept:
        if not paper.page:
            event["file"], event["file_digest"] = file, digest
    shown = [{"page": str(paper.page), "file": file, "digest": digest} for paper, file, digest, _ in kept if paper.page]
    if shown:
        event["pictures"] = shown
    if before is None:
        filed = file_service(root, engine, event)
    else:
        filed = file_event(root, engine, correction(before, event, correct, today))
    return replace(filed, unsure=filed.unsure or unsure)


def keep(root: Path, number: SheetNumber, data: bytes, ending: str = "pdf") -> tuple[str, str, str]:
    """Write the paper into ``engines/NNN/signed/``; its path below the engine's folder, the SHA-256 of its bytes, and
    what the disk did not confirm.

    The digest is part of the name, so that two copies of a sheet are two files and the same copy is one.
    Errors: OSError.
    """
    digest = hashlib.sha256(data).hexdigest()
    name = f"{stem(number)}-{digest[:12]}.{ending}"
    unsure = ""
    with contextlib.suppress(FileExistsError):
        unsure = write_once(root / "engines" / number.engine / "signed" / name, data)
    return f"signed/{name}", digest, unsure
