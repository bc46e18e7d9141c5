"""The club as a script holds it: its engines, what is due on them, the sheets of their jobs, and what happened.

>>> from docgen import Club
>>> club = Club.open(".")                                      # doctest: +SKIP
>>> club.engine("017").sheets("CLU").write("out/")             # doctest: +SKIP
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Sequence
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeVar

from docgen.club.catalogue import ENGLISH
from docgen.club.folder import EngineRecord, Faulty, Folder, Read
from docgen.club.problem import Problem
from docgen.club.schema.club import Club as ClubFile
from docgen.club.schema.procedure import Procedure
from docgen.club.translation import spoken
from docgen.desk.choosing import engines_named, fitting, jobs_named
from docgen.desk.clock import today
from docgen.desk.opening import opened
from docgen.desk.pressing import Sheet, press_sheets, ready
from docgen.desk.proofing import proofed
from docgen.desk.selection import Wanted, wanted_jobs
from docgen.job.job import Job
from docgen.job.resolve import resolve
from docgen.plan.due import DueLine, due_list
from docgen.proof import proof_job

if TYPE_CHECKING:  # who prints nothing needs no press
    from docgen.desk.pages import Laid
    from docgen.plan.kit import Kit
    from docgen.returns.filing import Filed

Written = TypeVar("Written")


class Club:
    """A club folder that was read, without an error in any of its files."""

    def __init__(self, folder: Folder, file: ClubFile) -> None:
        self.folder, self.file = folder, file

    @classmethod
    def open(cls, root: str | Path = ".", *, language: str = "") -> Club:
        """Read a club's folder (where its club.yaml is).

        language : that sheets are printed in where it is not the club's (``de``)
        Errors: Faulty with every error of every file.
        """
        folder = opened(Path(root), language=language)
        errors = [problem for problem in folder.problems if problem.level == "error"]
        if folder.club_file is None or errors:
            raise Faulty(errors)
        return cls(folder, folder.club.value)

    @property
    def engines(self) -> tuple[str, ...]:
        """The engines' numbers."""
        return tuple(self.folder.engines)

    def engine(self, number: str) -> Engine:
        """One engine. Errors: LookupError, which names the closest number."""
        return Engine(self, engines_named(self.folder, [number])[0].engine.engine)

    def job(self, name: str) -> Read[Procedure]:
        """A procedure by its name or its sheet code. Errors: LookupError, which names the closest one."""
        return jobs_named(self.folder, [name])[0]

    def due(self, on: date | None = None) -> list[DueLine]:
        """What is overdue, due or coming on a day (today), on every engine, and why."""
        return due_list(self.folder, on or today())

    def proof(self, *jobs: str, on: date | None = None, engine: str = "") -> list[Problem]:
        """What proofing finds in jobs, or in all: on every engine type that they are for, or on an engine as it is.

        on : the day, for calibration dates; None for none, and for today on an engine
        Errors: LookupError; Faulty for an engine or a job whose own files have errors.
        """
        return proofed(self.folder, jobs, on, engine).problems

    def move(
        self, number: str, where: str, on: date | None = None, *, accept: Collection[str] = (), **given: Any
    ) -> Sequence[Filed]:
        """Write that a numbered component went to an engine, or to the ``shelf``, into every log that it concerns.

        given : `part`, `swap`, `hours`, `note`, `by`, as `docgen move` takes them
        accept : the names of doubts that somebody has looked into
        Errors: Faulty; LookupError; Refused; Unwritten, with all that is said of it; StoreError.
        """
        from docgen.desk.moves import move_component

        return self._write(move_component, accept, number, where, on or today(), **given)

    def _write(self, use: Callable[..., Written], accept: Collection[str], *what: Any, **given: Any) -> Written:
        """Carry out what writes into the record, asking nobody; what is read is read anew after it."""
        from docgen.desk.asking import Unasked, Unwritten

        who = Unasked(accept)
        try:
            return use(who, self.folder, *what, **given)
        except Unwritten as error:
            raise Unwritten("\n".join(filter(None, (*who.heard, str(error))))) from None
        finally:
            self.folder = opened(self.folder.root, language=self.folder.spoken)


class Engine:
    """One engine of a club, with its record."""

    def __init__(self, club: Club, number: str) -> None:
        self.club, self.number = club, number

    @property
    def record(self) -> EngineRecord:
        """What is recorded of it."""
        return self.club.folder.engines[self.number]

    def due(self, on: date | None = None) -> list[DueLine]:
        """What is overdue, due or coming on this engine."""
        return [line for line in self.club.due(on) if line.engine == self.number]

    def sheets(self, *jobs: str, on: date | None = None) -> Sheets:
        """The sheets of jobs on this engine, as of a day (today).

        Errors: LookupError for a job that is not there or not for its type; Faulty where proofing finds an error.
        """
        folder, day = self.club.folder, on or today()
        found = [self.club.job(name) for name in jobs]
        fitting(folder, found, self.record.engine.model)
        judged = spoken(folder, ENGLISH)
        faults = {fault for one in found for fault in proof_job(judged, one, self.record, day)}
        if errors := sorted(fault for fault in faults if fault.level == "error"):
            raise Faulty(errors)
        return Sheets(self.club, [resolve(folder, self.record, one, day) for one in found])

    def kit(self, *jobs: str, on: date | None = None) -> Kit:
        """What to lay ready for jobs, or for all that is due, and what to order.

        Errors: LookupError; Faulty where the shelf has faults, or a price is missing.
        """
        from docgen.desk.kit import kit_for

        return kit_for(self.club.folder, self._wanted(jobs, on), on or today()).kit

    def mats(self, out: str | Path, *jobs: str, on: date | None = None) -> list[Laid]:
        """Print the layout mat of each job, or of all that is due, in which anything comes off.

        Errors: LookupError; Faulty where the size of a piece is not stated; Unprinted where one does not fit; OSError.
        """
        from docgen.desk.mat import flat, mats
        from docgen.desk.pages import print_all

        folder, wanted = self.club.folder, self._wanted(jobs, on)
        wishes, _ = mats(folder, wanted, on or today(), Path(out), flat(self.club.file)) if wanted else ([], [])
        return print_all(folder.root, wishes)

    def card(self, out: str | Path, on: date | None = None) -> list[Laid]:
        """Print the engine's card. Errors: Faulty where its record is not whole; Unprinted; OSError."""
        from docgen.desk.pages import print_all
        from docgen.desk.wall import cards

        folder = self.club.folder
        return print_all(folder.root, cards(folder, [self.number], on or today(), Path(out)))

    def note(
        self, kind: str, on: date | None = None, *, by: str | None = None, accept: Collection[str] = (), **given: Any
    ) -> Filed:
        """Note what was found or changed on a day (today) away from a sheet.

        kind   : ``finding`` (`text`, `part`, `calls`), ``dealt-with`` (`which`, `how`), ``deviation`` (`item`, `what`,
                 `why`, `now`, `left_out`), ``as-model`` (`which`, `how`), ``setting`` (`name`, `value`), ``keeper``
                 (`keeper`), ``interval`` (`job`, `hours`, `months`, `meetings`, `why`)
        accept : the names of doubts that somebody has looked into
        Errors: Faulty; LookupError; Refused; Unwritten, with all that is said of it; StoreError.
        """
        from docgen.desk.notes import note

        return self.club._write(note, accept, kind, self.number, on or today(), by, **given)

    def ran(
        self, time: str, on: date | None = None, *, again: bool = False, accept: Collection[str] = (), **facts: str
    ) -> list[Filed]:
        """Write how long it ran on a day (today): ``3 x 12``, ``36 min``, ``1 h``; nothing where that is there already.

        again  : write the same time once more: it ran twice as long
        facts  : `meeting`, `peak_speed`, `peak_temperature`, `air`, `needles`, `fuel`, `batch`, `note`, `by`
        accept : the names of doubts that somebody has looked into
        Errors: Faulty; Refused; Unwritten, with all that is said of it; StoreError.
        """
        from docgen.desk.runs import enter_running

        return self.club._write(enter_running, accept, f"{self.number} {time}", on or today(), again=again, **facts)

    def correct(
        self, event: str, why: str, on: date | None = None, *, by: str | None = None, strike: bool = False,
        **instead: str,
    ) -> Sequence[Filed]:  # fmt: skip
        """Write what holds instead of an event, or that it never was.

        event   : the first digits of its digest, or its file
        instead : what holds, by its key (`hours`); a key with a point, as a mapping: ``**{"readings.plug-gap": ...}``
        Errors: Faulty; LookupError; Refused; StoreError.
        """
        from docgen.desk.corrections import correct_event

        changes = [f"{key}={value}" for key, value in instead.items()]
        given = {"strike_out": strike, "why": why, "by": by}
        return self.club._write(correct_event, (), self.number, event, changes, on or today(), **given)

    def _wanted(self, jobs: Sequence[str], on: date | None) -> list[Wanted]:
        return wanted_jobs(self.club.folder, [self.number], jobs, on or today(), say=lambda text: None)


class Sheets:
    """The sheets of some jobs: a bench leaf and a sign-off sheet each. They have no numbers before they are written."""

    def __init__(self, club: Club, jobs: Sequence[Job]) -> None:
        self.club, self.jobs = club, tuple(jobs)

    def write(self, out: str | Path) -> list[Sheet]:
        """Number and print them as PDF, in a folder of the engine's below `out`, and keep what each said.

        Errors: Faulty where one does not fit its page (the others are there); OSError.
        """
        for number in {job.instructions.engine for job in self.jobs}:
            ready(Path(out) / number)
        made = press_sheets(self.club.folder, self.jobs, Path(out), many=len(self.jobs))
        if faults := [fault for sheet in made for fault in sheet.faults]:
            raise Faulty((), faults)
        return made
