"""Filing one sheet, in the two halves between which somebody looks: what it says, and writing it down."""

from __future__ import annotations

import contextlib
import hashlib
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path

from docgen.club.folder import Folder
from docgen.club.log import Entry
from docgen.club.store import StoreError, write_once
from docgen.job.issued import stem
from docgen.job.number import SheetNumber
from docgen.returns.diagnostic import Said
from docgen.returns.filing import Filed, file_event, file_service, names_unknown
from docgen.returns.parts import OfPart
from docgen.returns.reading import Understood, understand
from docgen.returns.refiling import correction


@dataclass(frozen=True)
class Paper:
    """The paper itself, to be kept: a file's bytes and the ending of its name; the page that a picture shows, or 0."""

    data: bytes
    ending: str = "pdf"
    page: int = 0


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
