"""The printed sheets that lie in a folder: whose each is, of which job, and whether it still holds."""

from collections.abc import Iterator
from datetime import date
from functools import cache
from pathlib import Path

from docgen.club.files import bounded
from docgen.club.folder import Folder
from docgen.club.schema.event import Service
from docgen.club.store import replace
from docgen.club.translation import spoken
from docgen.desk.choosing import sound
from docgen.desk.selection import Say
from docgen.desk.system import short_path
from docgen.job.blank import blank_job
from docgen.job.issue import number_of, stem, thawed
from docgen.job.job import Job
from docgen.job.keywords import INSTRUCTIONS, RECORD, instructions_mark, record_mark
from docgen.job.number import LEAF, READING, UNNAMED
from docgen.job.prints import prints
from docgen.job.resolve import resolve
from docgen.plan.due import DUE, OVERDUE, due_list
from docgen.press.description import MOST, Described
from docgen.returns.diagnostic import Refused
from docgen.returns.sandbox import Reader
from docgen.sheets.indexpage import BLANK, CURRENT, DUE_NOW, READINGS, SUPERSEDED, UNKNOWN, Listed, index_page
from docgen.visit.job import again

_PRESSING = (SUPERSEDED, DUE_NOW, CURRENT)
"""Of several jobs in one file, the state that the file bears."""


def write_index(folder: Folder, out: Path, on: date, say: Say) -> list[Listed]:
    """Write index.html beside the printed sheets; what is in it: every PDF below `out`, in the order of its path.

    on  : the day of which their states are
    say : told of each file that is none of ours, and why
    Errors: Faulty, OSError.
    """
    sound(folder)
    sheets = list(_listed(folder, out, on, say))
    models = {
        name: folder.models[record.engine.model].value.title
        for name, record in folder.engines.items()
        if record.engine.model in folder.models
    }
    titles = {code: folder.procedures[name].value.title for code, name in folder.codes.items()}
    replace(out / "index.html", index_page(sheets, models, titles, folder.club.value, on).encode("utf-8"))
    return sheets


def _listed(folder: Folder, out: Path, on: date, say: Say) -> Iterator[Listed]:
    judge = _Judge(folder, on)
    with Reader() as reader:
        for path in sorted(out.rglob("*.pdf")):
            try:
                said, picture = reader.looked_at(bounded(path, MOST))
            except (OSError, Refused) as error:
                why = error.said.message if isinstance(error, Refused) else error.strerror or str(error)
                say(f"{short_path(path)} is left out: {why}")
                continue
            yield judge.sheet(path.relative_to(out).as_posix(), said, picture)


class _Judge:
    """Knows what is due and what would be printed today."""

    def __init__(self, folder: Folder, on: date) -> None:
        self._folder, self._on = folder, on
        lines = due_list(folder, on)
        self._due = {(line.engine, line.code) for line in lines if line.code and line.state in (OVERDUE, DUE)}
        self._told = cache(self._resolved)

    def sheet(self, href: str, said: Described, picture: bytes) -> Listed:
        """A PDF with its place and state."""
        jobs = [job for text in said.jobs if (job := _job(text)) is not None]
        if "binder" in said.keywords and jobs:
            engines = {job.instructions.engine for job in jobs}
            engine = engines.pop() if len(engines) == 1 else ""
            state, note = min((self._of_job(job) for job in jobs), key=lambda one: _PRESSING.index(one[0]))
            return Listed(href, said.title, engine, "", state, note, said.pages, said.on, picture)
        if jobs:
            told, letter = jobs[0].instructions, said.subject[-2:-1]
            engine = told.engine if told.engine != UNNAMED else READINGS if letter == READING else BLANK
            state, note = self._of_job(jobs[0], letter)
            return Listed(href, said.title, engine, told.code, state, note, said.pages, said.on, picture)
        engine = next((word for word in said.keywords if word in self._folder.engines), "")
        engine = engine if href.startswith(f"{engine}/") else ""
        code = next((word for word in said.keywords if word in self._folder.codes), "")
        state, note = self._by_mark(said, engine, code)
        return Listed(href, said.title, engine, code, state, note, said.pages, said.on, picture)

    def _of_job(self, job: Job, letter: str = "") -> tuple[str, str]:
        """The state of a job's sheet. A leaf and a reading hold until the instructions change, whatever is filed."""
        told = job.instructions
        if told.engine == UNNAMED:
            today = self._blank(job)
            return (CURRENT, "") if today == job.instructions_digest else (SUPERSEDED, "changed")
        lasts = letter in (LEAF, READING)
        number = number_of(job)
        for event in () if lasts else self._events(told.engine):
            if event.sheet and event.sheet.startswith(number.body.rpartition("-")[0]):
                return SUPERSEDED, "filed"
        now = self._visit(job) if told.parts else self._told(told.engine, told.procedure, told.tongue, told.unproofed)
        if now is None or now.instructions_digest != job.instructions_digest:
            return SUPERSEDED, "changed"
        if not lasts and _newest(self._folder.root, job) > job.print:
            return SUPERSEDED, "again"
        return (DUE_NOW, "") if letter != READING and (told.engine, told.code) in self._due else (CURRENT, "")

    def _visit(self, job: Job) -> Job | None:
        return again(spoken(self._folder, job.instructions.tongue), job, self._on)

    def _by_mark(self, said: Described, engine: str, code: str) -> tuple[str, str]:
        for mark in said.keywords:
            if mark.startswith(INSTRUCTIONS) and engine and code:
                now = self._told(engine, self._folder.codes[code], self._tongue, 0)
                same = now is not None and instructions_mark(now.instructions) == mark
                due = (engine, code) in self._due
                return (DUE_NOW if due else CURRENT, "") if same else (SUPERSEDED, "changed")
            if mark.startswith(RECORD):
                engines = [word for word in said.keywords if word in self._folder.engines]
                same = record_mark(self._folder, engines) == mark
                return (CURRENT, "") if same else (SUPERSEDED, "record")
        return UNKNOWN, ""

    @property
    def _tongue(self) -> str:
        return self._folder.club.value.language

    def _events(self, engine: str) -> Iterator[Service]:
        record = self._folder.engines.get(engine)
        return iter(record.log.of(Service)) if record else iter(())

    def _resolved(self, engine: str, procedure: str, tongue: str, unproofed: int) -> Job | None:
        record, read = self._folder.engines.get(engine), self._folder.procedures.get(procedure)
        if record is None or read is None or record.engine.model not in self._folder.models:
            return None
        turned = spoken(self._folder, tongue)
        return resolve(turned, record, turned.procedures[procedure], self._on, unproofed=unproofed)

    def _blank(self, job: Job) -> str:
        told = job.instructions
        if told.model not in self._folder.models or told.procedure not in self._folder.procedures:
            return ""
        turned = spoken(self._folder, told.tongue)
        procedure = turned.procedures[told.procedure]
        return blank_job(turned, told.model, procedure, self._on, unproofed=told.unproofed).instructions_digest


def _job(text: str) -> Job | None:
    try:
        return thawed(text)
    except ValueError:
        return None


def _newest(root: Path, job: Job) -> int:
    """The highest print of the same revision that was issued."""
    wanted = stem(number_of(job)).rpartition("-")[0]
    return max((one.print for one in prints(root, f"engines/{job.instructions.engine}/issued") if one.job == wanted),
               default=0)  # fmt: skip
