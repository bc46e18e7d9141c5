"""A job's two sheets: resolved, numbered, pressed, laid into their folder and noted, in whichever process that is.

Jobs are at work side by side. What two of them could write into at once is held meanwhile: the prints of an engine, and
the folder of its sheets.
"""

from __future__ import annotations

import hashlib
from collections.abc import Generator, Iterator
from dataclasses import dataclass, replace
from datetime import date
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING, TypeAlias

from docgen.club.folder import EngineRecord, Folder
from docgen.club.placement import lay_in_turn
from docgen.club.store import StoreError
from docgen.desk.pages import with_place
from docgen.job.issue import before_issue, frozen, issue, number_of
from docgen.job.job import Job
from docgen.job.resolve import resolve
from docgen.press.journal import Journal, digest_of, program_digest
from docgen.press.orders import order
from docgen.press.shelf import Shelf
from docgen.press.workers import LOST, Outcome, press
from docgen.sheets.leaf import leaf
from docgen.sheets.signoff import signoff

if TYPE_CHECKING:
    from docgen.press.meta import Order

KINDS = ("leaf", "sign-off")


@dataclass(frozen=True)
class Sheet:
    """One sheet of a job.

    kind   : ``leaf`` or ``sign-off``
    pages  : how many it has; 0 where it was not printed
    aside  : the new name of what lay at `path`, where that was not a print of docgen's
    faults : why it was not printed
    unmade : its job could not be given a number, or not be made at all
    """

    engine: str
    job: str
    kind: str
    path: Path
    title: str = ""
    model: str = ""
    keeper: str = ""
    why: str = ""
    number: str = ""
    pages: int = 0
    aside: Path | None = None
    faults: tuple[str, ...] = ()
    unmade: bool = False


@dataclass(frozen=True)
class Asked:
    """A job of an engine as of a day, which is resolved where its sheets are made.

    why       : printed on the sign-off sheet
    unproofed : how many faults proofing found, where it is printed all the same
    """

    record: EngineRecord
    procedure: str
    on: date
    why: str = ""
    unproofed: int = 0


Wish: TypeAlias = "Asked | Job"


class NotKept(Exception):
    """A sheet must be laid out, where only what was laid out before is filled."""


@dataclass
class Maker:
    """Makes the sheets of one job after the other.

    folder   : the club; of its engines nothing is needed
    lays_out : else what must be laid out raises NotKept
    """

    folder: Folder
    out: Path
    lays_out: bool = True

    def __call__(self, numbered: tuple[int, Wish]) -> tuple[int, list[Sheet]]:
        """The sheets of a job, with its place among all."""
        return numbered[0], list(self.sheets(numbered[1]))

    @cached_property
    def _journal(self) -> Journal:
        return Journal(self.out)

    @cached_property
    def _style(self) -> str:
        return repr(self.folder.club.value)

    def sheets(self, wish: Wish) -> Iterator[Sheet]:
        """Each sheet of a job as soon as it is whole. A job that the program fails on costs no other its print.

        The number is given, and the job frozen, when its first sheet is whole: what the press refuses uses up none. A
        job whose number another print took in the meantime is made again with the next.
        Errors: OSError, StoreError; NotKept.
        """
        made = 0
        try:
            job = wish if isinstance(wish, Job) else self._resolved(wish)
            for sheet in self._of(job):
                yield sheet
                made += 1
        except (OSError, StoreError, NotKept):
            raise
        except Exception as error:  # noqa: BLE001  the jobs behind this one must still be printed
            yield from self.failed(wish, f"the program failed on this job: {type(error).__name__}: {error}", made)

    def failed(self, wish: Wish, why: str = LOST, made: int = 0) -> Iterator[Sheet]:
        """The sheets of a job that are not made, from the first that is not."""
        engine = wish.instructions.engine if isinstance(wish, Job) else wish.record.engine.engine
        name = wish.instructions.procedure if isinstance(wish, Job) else wish.procedure
        code = self.folder.procedures[name].value.code if name in self.folder.procedures else name
        for kind, path in self._places(engine, code)[made:]:
            yield Sheet(engine, name, kind, path, faults=(f"{engine} {code}: {why}",), unmade=True)

    def _places(self, engine: str, code: str) -> list[tuple[str, Path]]:
        return [(kind, self.out / engine / f"{engine}-{code}-{kind}.pdf") for kind in KINDS]

    def _resolved(self, asked: Asked) -> Job:
        procedure = self.folder.procedures[asked.procedure]
        return resolve(self.folder, asked.record, procedure, asked.on, why_due=asked.why, unproofed=asked.unproofed)

    def _of(self, told: Job) -> Iterator[Sheet]:
        engine = told.instructions.engine
        issued = self.folder.root / "engines" / engine / "issued"
        places = self._places(engine, told.instructions.code)
        while True:
            try:
                job, known = before_issue(issued, told)
            except StoreError as error:
                if error.name != "prints-not-whole":
                    raise
                yield from self.failed(told, str(error))
                return
            source = self._source(job)
            there = [self._journal.pages_of(path, source) if known else None for _, path in places]
            if None not in there:
                yield from (_sheet(job, *place, pages=pages or 0) for place, pages in zip(places, there, strict=True))
                return
            if (yield from self._pressed(job, issued, places, source)):
                return

    def _source(self, job: Job) -> str:
        """A digest over all that a job's sheets are made of: the job, its number, the club's style, and the program."""
        parts = [*job.digests, f"{job.print}", self._style, program_digest()]
        return hashlib.sha256("\0".join(parts).encode()).hexdigest()

    def _pressed(
        self, job: Job, issued: Path, places: list[tuple[str, Path]], source: str
    ) -> Generator[Sheet, None, bool]:
        """Whether the number on the sheets is the job's, which is given it now at the latest."""
        club, text, given = self.folder.club.value, frozen(job), False
        for (kind, path), make in zip(places, (leaf, signoff), strict=True):
            key = f"{number_of(job).text} {kind}"
            made = order(key, make(job, club), job, club.club, forms=kind == "sign-off", source=text.encode())
            digest = digest_of(made)
            pages = self._journal.pages(path, digest, source)
            outcome = self._outcome(made) if pages is None else None
            if outcome is not None and outcome.pressed is None:
                engine = job.instructions.engine
                faults = (with_place(self.folder.root, f"{key}: {one}", engine) for one in outcome.faults)
                yield _sheet(job, kind, path, faults=tuple(faults))
                continue
            if not given and issue(issued, job, text).print != job.print:
                return False
            given, aside = True, None
            if outcome is not None and outcome.pressed is not None:
                pages = outcome.pressed.pages
                aside = lay_in_turn(path, outcome.pressed.pdf)
                self._journal.note(path, digest, source, outcome.pressed.pdf, pages)
            yield replace(_sheet(job, kind, path, pages=pages or 0), aside=aside)
        return True

    def _outcome(self, made: Order) -> Outcome:
        shelf = Shelf(self.out)
        if self.lays_out:
            return press(made, shelf)
        if (filled := shelf.filled(made)) is None:
            raise NotKept
        return Outcome(made.key, filled)


def _sheet(job: Job, kind: str, path: Path, *, pages: int = 0, faults: tuple[str, ...] = ()) -> Sheet:
    told, issued = job.instructions, job.issue
    return Sheet(
        told.engine, told.procedure, kind, path, told.title, told.model_title, issued.keeper, issued.why_due,
        number_of(job).text, pages, faults=faults,
    )  # fmt: skip
