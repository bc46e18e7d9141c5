"""The sheets of jobs, numbered, pressed, and laid into their folder as soon as each is whole."""

from __future__ import annotations

import dataclasses
import tempfile
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from docgen.club.laying import lay
from docgen.club.store import TEMPORARY, StoreError
from docgen.job.issued import as_issued, issue, number_of

if TYPE_CHECKING:
    from docgen.club.schema.club import Club
    from docgen.job.job import Job
    from docgen.press.workers import Order


@dataclass(frozen=True)
class Sheet:
    """One sheet of a job.

    kind   : ``leaf`` or ``sign-off``
    pages  : how many it has; 0 where it was not printed
    aside  : the new name of what lay at `path`, where that was not a print of docgen's
    faults : why it was not printed
    unmade : its job could not be given a number, since what was printed for the engine before is not whole
    """

    job: Job
    kind: str
    path: Path
    pages: int = 0
    aside: Path | None = None
    faults: tuple[str, ...] = ()
    unmade: bool = False


def ready(folder: Path) -> None:
    """Make the folder, and see that something can be written into it, before sheets for it get their numbers.

    Errors: OSError.
    """
    folder.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryFile(dir=folder, prefix=TEMPORARY):
        pass


def press_sheets(
    root: Path, club: Club, jobs: Iterable[Job], out: Path, *,
    many: int, processes: int | None = None, watch: Callable[[Sheet], None] = lambda sheet: None,
) -> list[Sheet]:  # fmt: skip
    """Give each job its number and print its leaf and its sign-off sheet; what lies there as it would be is left.

    root  : the club's folder: the frozen jobs go below it
    out   : where the PDFs go, a folder an engine; each engine's is to be :func:`ready`
    many  : how many jobs there will be; they are taken one after the other, as the press needs them
    watch : told of each sheet as it becomes whole
    Errors: OSError, StoreError.
    """
    from docgen.press.journal import Journal, digest_of
    from docgen.press.shelf import Shelf
    from docgen.press.workers import press_each

    journal = Journal(out)
    waiting: dict[str, tuple[int, Sheet, str]] = {}
    done: dict[int, Sheet] = {}

    def finished(at: int, sheet: Sheet) -> None:
        done[at] = sheet
        watch(sheet)

    def changed() -> Iterator[Order]:
        for at, (made, sheet) in enumerate(_orders(root, club, jobs, out)):
            if made is None:
                finished(at, sheet)
                continue
            digest = digest_of(made)
            pages = journal.pages(sheet.path, digest)
            if pages is not None:
                finished(at, dataclasses.replace(sheet, pages=pages))
                continue
            waiting[made.key] = (at, sheet, digest)
            yield made

    for outcome in press_each(changed(), processes=processes, many=2 * many, shelf=Shelf(out)):
        at, sheet, digest = waiting.pop(outcome.key)
        pressed = outcome.pressed
        if pressed is None:
            finished(at, dataclasses.replace(sheet, faults=tuple(f"{outcome.key}: {one}" for one in outcome.faults)))
            continue
        aside = lay(sheet.path, pressed.pdf)
        journal.note(sheet.path, digest, pressed.pdf, pressed.pages)
        finished(at, dataclasses.replace(sheet, pages=pressed.pages, aside=aside))
    journal.close()
    return [done[at] for at in sorted(done)]


def _orders(root: Path, club: Club, jobs: Iterable[Job], out: Path) -> Iterator[tuple[Order | None, Sheet]]:
    """The order of each sheet, made when it is asked for; its job is issued then. None where that cannot be."""
    from docgen.press.orders import order
    from docgen.sheets.leaf import leaf
    from docgen.sheets.signoff import signoff

    for told in jobs:
        number, code = told.instructions.engine, told.instructions.code
        folder = root / "engines" / number / "issued"
        paths = {kind: out / number / f"{number}-{code}-{kind}.pdf" for kind in ("leaf", "sign-off")}
        try:
            job = issue(folder, told)
        except StoreError as error:
            if error.name != "prints-not-whole":
                raise
            fault = f"{number} {code}: {error}"
            yield from ((None, Sheet(told, kind, path, faults=(fault,), unmade=True)) for kind, path in paths.items())
            continue
        source = as_issued(folder, job)
        for (kind, path), page in zip(paths.items(), (leaf(job, club), signoff(job, club)), strict=True):
            key = f"{number_of(job).text} {kind}"
            made = order(key, page, job, club.club, forms=kind == "sign-off", source=source)
            yield made, Sheet(job, kind, path)
