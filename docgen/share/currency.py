"""Whether a printed sheet is still current: its frozen job held against the same job as it would be printed today."""

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path
from typing import Literal

from docgen.club.folder import EngineRecord, Folder
from docgen.club.translation import spoken
from docgen.job.issue import stem, thawed
from docgen.job.job import Instructions, Job
from docgen.job.number import UNNAMED, SheetNumber
from docgen.job.prints import Print, numbered, prints
from docgen.job.resolve import resolve
from docgen.share.differences import Difference
from docgen.share.reprint import differences
from docgen.visit.job import CODE as VISIT
from docgen.visit.job import again

_JOB = re.compile(r"(?P<engine>[A-Z0-9]{1,6})-(?P<code>[A-Z]{3})-(?P<revision>\d{2,4})")
_DIGEST = re.compile(r"^instructions_digest: ([0-9a-f]{64})$", re.MULTILINE)
_LANGUAGE = re.compile(r"^  language: (\S+)$", re.MULTILINE)
_UNPROOFED = re.compile(r"^  unproofed: (\d+)$", re.MULTILINE)
_PRINTED_ON = re.compile(r"^issue:\n  on: (\d{4}-\d{2}-\d{2})$", re.MULTILINE)

State = Literal["current", "changed", "void", "unknown"]
"""current: it says what it would say today. changed: it does not. void: nobody would print it today. unknown: what it
said was not kept here."""


@dataclass(frozen=True)
class SheetStanding:
    """How a printed sheet stands today.

    why   : what makes it void or unknown, or which revision has become which
    found : what has changed since, where that is known
    job   : what the sheet told its reader, where that was kept
    """

    number: SheetNumber
    state: State
    why: str = ""
    found: tuple[Difference, ...] = ()
    job: Job | None = None

    @property
    def numbers(self) -> int:
        """How many of the changes are of a figure."""
        return sum(one.number for one in self.found)

    @property
    def safety(self) -> int:
        """How many of the changes are a matter of safety."""
        return sum(one.safety for one in self.found)


@dataclass
class Wall:
    """The club's sheets as they were issued, and the same jobs as they would be printed on the day `on`."""

    folder: Folder
    on: date
    _turned: dict[str, Folder] = field(default_factory=dict)

    def standing(self, number: SheetNumber) -> SheetStanding:
        """How the sheet of a number stands. The club's files must be without errors that concern it."""
        number = number.on_page(1)
        found = _printed(self.folder.root, number)
        if not found:
            kept = f"what it said of engine {number.engine} was not kept here (it is not in {_base(number)})"
            return self._without_record(number, kept)
        if len({one.issue for one in found}) > 1:
            kept = f"{len(found)} jobs bear its number, printed from two copies of this folder"
            return self._without_record(number, kept)
        text = found[0].text
        if number.code == VISIT:
            return self._visit(number, found[0])
        void = self._void(number)
        digest, language = _DIGEST.search(text), _LANGUAGE.search(text)
        unproofed = _UNPROOFED.search(text)
        tongue = language[1] if language else "en"
        now = None if void else self._now(number, tongue, int(unproofed[1]) if unproofed else 0)
        if now is not None and digest and now.instructions_digest == digest[1]:
            return SheetStanding(number, "current")
        try:
            job = thawed(text)
        except ValueError:
            kept = f"{found[0].path} is not as it was when the sheet was printed"
            return self._without_record(number, f"what it said cannot be told: {kept}")
        if now is None:
            return SheetStanding(number, "void", void, job=job)
        return self._changed(number, job, now.instructions)

    def _visit(self, number: SheetNumber, kept: Print) -> SheetStanding:
        """How the sheet of a visit stands: its jobs are joined anew."""
        try:
            job = thawed(kept.text)
        except ValueError:
            return SheetStanding(number, "unknown", f"{kept.path} is not as it was when the sheet was printed")
        now = again(self._turn(job.instructions.tongue), job, self.on)
        if now is None:
            return SheetStanding(number, "void", "its jobs would not be printed as one visit any more", job=job)
        if now.instructions_digest == job.instructions_digest:
            return SheetStanding(number, "current")
        return self._changed(number, job, now.instructions)

    def _turn(self, language: str) -> Folder:
        return self._turned.setdefault(language, spoken(self.folder, language))

    def latest(self) -> Iterator[SheetNumber]:
        """The latest print of each job on each engine, in the order of their numbers."""
        for engine in sorted(path.name for path in (self.folder.root / "engines").glob("*") if path.is_dir()):
            last: dict[str, SheetNumber] = {}
            for one in prints(self.folder.root, f"engines/{engine}/issued"):
                if found := _JOB.fullmatch(one.job):
                    number = SheetNumber(found["engine"], found["code"], int(found["revision"]), one.print)
                    before = last.get(number.code)
                    if before is None or (number.revision, number.print) > (before.revision, before.print):
                        last[number.code] = number
            yield from (last[code] for code in sorted(last))

    def _void(self, number: SheetNumber) -> str:
        """Why nobody would print this sheet today; empty where somebody would."""
        if number.engine not in (UNNAMED, *self.folder.engines):
            return f"there is no engine {number.engine} in this club's record"
        if number.code not in self.folder.codes:
            return f"no job of this club has the code {number.code}"
        if number.engine == UNNAMED:
            return ""
        model = self.folder.models[self.folder.engines[number.engine].engine.model].value
        job = self.folder.procedures[self.folder.codes[number.code]].value
        why = self.folder.why_not(job.procedure, model)
        return f"{job.procedure} is not for {model.title} any more: {why}" if why else ""

    def _now(self, number: SheetNumber, language: str, unproofed: int) -> Job:
        folder = self._turn(language)
        record: EngineRecord = folder.engines[number.engine]
        return resolve(folder, record, folder.procedures[self.folder.codes[number.code]], self.on, unproofed=unproofed)

    def _without_record(self, number: SheetNumber, kept: str) -> SheetStanding:
        """What can be said of a sheet whose frozen job is not here: its revision stands in its number."""
        if void := self._void(number):
            return SheetStanding(number, "void", void)
        now = self.folder.procedures[self.folder.codes[number.code]].value.revision
        if now != number.revision:
            return SheetStanding(number, "changed", f"revision {number.revision} is now revision {now}")
        if number.engine == UNNAMED:
            kept = "of a blank sheet nothing more is kept"
        return SheetStanding(number, "unknown", f"the revision is the same; {kept}")

    def _changed(self, number: SheetNumber, job: Job, now: Instructions) -> SheetStanding:
        told = job.instructions
        why = ""
        if told.revision != now.revision:
            why = f"revision {told.revision} of {told.dated} is now revision {now.revision} of {now.dated}"
        found = tuple(differences(told, now))
        if not found and not why:
            return SheetStanding(number, "current")
        return SheetStanding(number, "changed", why, found, job)


def _base(number: SheetNumber) -> str:
    return f"engines/{number.engine}/issued"


def _printed(root: Path, number: SheetNumber) -> list[Print]:
    """The jobs that bear a number."""
    return numbered(prints(root, _base(number)), stem(number))


def printed_on(root: Path, number: SheetNumber) -> str:
    """The day on which a sheet was printed; empty where that was not kept, or is not sure."""
    days = {found[1] if (found := _PRINTED_ON.search(one.text)) else "" for one in _printed(root, number)}
    return days.pop() if len(days) == 1 else ""
