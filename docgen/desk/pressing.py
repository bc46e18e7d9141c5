"""The sheets of jobs, numbered, pressed, and laid into their folder as soon as each is whole."""

from __future__ import annotations

import dataclasses
import hashlib
import tempfile
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from docgen.club.placement import lay
from docgen.club.store import TEMPORARY, StoreError
from docgen.desk.whereabouts import with_place
from docgen.job.issued import before_issue, frozen, issue, number_of

if TYPE_CHECKING:
    from docgen.club.schema.club import Club
    from docgen.job.job import Job
    from docgen.press.journal import Journal
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
    """Print each job's leaf and sign-off sheet with its number; what lies there as it would be is left.

    The number is given, and the job frozen, when its first sheet is whole: what the press refuses uses up none. A job
    whose number another print took in the meantime is printed again with the next.

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
    waiting: dict[str, tuple[int, Sheet, Order, str, str]] = {}
    done: dict[int, Sheet] = {}
    given: dict[Path, bool] = {}
    taken: dict[int, Job] = {}

    def finished(at: int, sheet: Sheet) -> None:
        done[at] = sheet
        watch(sheet)

    def has_number(at: int, sheet: Sheet, made: Order) -> bool:
        """Whether the number on the sheet is its job's, which is given it now at the latest."""
        told = sheet.job
        folder = _issued(root, told)
        if (one := folder / number_of(told).text) not in given:
            given[one] = issue(folder, told, made.attachments[0].data.decode()).print == told.print
        if not given[one]:
            taken[at // 2] = told
        return given[one]

    def changed(jobs: Iterable[tuple[int, Job]]) -> Iterator[Order]:
        for at, made, sheet, source in _orders(root, club, jobs, out, journal):
            if made is None:
                finished(at, sheet)
                continue
            digest = digest_of(made)
            pages = journal.pages(sheet.path, digest, source)
            if pages is None:
                waiting[made.key] = (at, sheet, made, digest, source)
                yield made
            elif has_number(at, sheet, made):
                finished(at, dataclasses.replace(sheet, pages=pages))

    left: Iterable[tuple[int, Job]] = enumerate(jobs)
    while left:
        for outcome in press_each(changed(left), processes=processes, many=2 * many, shelf=Shelf(out)):
            at, sheet, made, digest, source = waiting.pop(outcome.key)
            pressed = outcome.pressed
            if pressed is None:
                engine = sheet.job.instructions.engine
                faults = tuple(with_place(root, f"{outcome.key}: {one}", engine) for one in outcome.faults)
                finished(at, dataclasses.replace(sheet, faults=faults))
            elif has_number(at, sheet, made):
                aside = lay(sheet.path, pressed.pdf)
                journal.note(sheet.path, digest, source, pressed.pdf, pressed.pages)
                finished(at, dataclasses.replace(sheet, pages=pressed.pages, aside=aside))
        left = sorted(taken.items())
        taken.clear()
    journal.close()
    return [done[at] for at in sorted(done)]


def _issued(root: Path, job: Job) -> Path:
    return root / "engines" / job.instructions.engine / "issued"


def _orders(
    root: Path, club: Club, jobs: Iterable[tuple[int, Job]], out: Path, journal: Journal
) -> Iterator[tuple[int, Order | None, Sheet, str]]:
    """The order of each sheet with its place and what it is made of, made when it is asked for.

    None where it is there as it would be, and where its job can have no number.
    """
    from docgen.press.orders import order
    from docgen.sheets.leaf import leaf
    from docgen.sheets.signoff import signoff

    style = repr(club)
    for at, told in jobs:
        number, code = told.instructions.engine, told.instructions.code
        folder = _issued(root, told)
        paths = [(kind, out / number / f"{number}-{code}-{kind}.pdf") for kind in ("leaf", "sign-off")]
        try:
            job, known = before_issue(folder, told)
        except StoreError as error:
            if error.name != "prints-not-whole":
                raise
            faults = (f"{number} {code}: {error}",)
            for n, (kind, path) in enumerate(paths, 2 * at):
                yield n, None, Sheet(told, kind, path, faults=faults, unmade=True), ""
            continue
        source = _source(job, style)
        there = [journal.pages_of(path, source) if known else None for _, path in paths]
        if None not in there:
            for n, ((kind, path), pages) in enumerate(zip(paths, there, strict=True), 2 * at):
                yield n, None, Sheet(job, kind, path, pages=pages or 0), source
            continue
        text = frozen(job).encode()
        for n, page in enumerate((leaf(job, club), signoff(job, club))):
            kind, path = paths[n]
            key = f"{number_of(job).text} {kind}"
            made = order(key, page, job, club.club, forms=kind == "sign-off", source=text)
            yield 2 * at + n, made, Sheet(job, kind, path), source


def _source(job: Job, style: str) -> str:
    """A digest over all that a job's sheets are made of: the job, its number, the club's style, and the program."""
    from docgen.press.journal import program_digest

    return hashlib.sha256("\0".join([*job.digests, f"{job.print}", style, program_digest()]).encode()).hexdigest()
