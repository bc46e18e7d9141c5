"""One event into one engine's log, whole, once, and behind everything that was there when it was written.

Under the engine's lock the log is read anew, what is to be filed is looked for in it, and only then is
the event written behind the heads that were found. A kill at any moment leaves the log with the event or
without it; who files again after a kill is told when it is there already.
"""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Any

from docgen.club.folder import Folder
from docgen.club.lock import alone
from docgen.club.log import Entry, Log, digest
from docgen.club.problem import Problem
from docgen.club.readlog import read_entry, read_log
from docgen.club.references import event_problems
from docgen.club.schema.event import Run, Service
from docgen.club.store import StoreError, event_file, write_error, write_once
from docgen.job.number import NumberError, parse_number

Already = Callable[[Log], Entry | None]
"""Looks in a log for what is to be filed."""
HALF_WRITTEN = "half-written"
"""Name of the error of a move of which one log has its event and the other has not."""


@dataclass(frozen=True)
class Filed:
    """What became of an event.

    new      : it was written now; else it stood in the log already, and nothing was written
    branches : the heads that it follows, where there were several: it joins what was filed apart
    unsure   : what the disk did not confirm of a file that is written
    """

    engine: str
    path: Path
    digest: str
    new: bool
    branches: tuple[str, ...] = ()
    unsure: str = ""


def event_of(kind: str, day: date, **said: Any) -> dict[str, Any]:
    """An event as plain data, without what is None."""
    return {"event": kind, "date": day.isoformat(), **{key: value for key, value in said.items() if value is not None}}


def file_event(root: Path, number: str, event: Mapping[str, Any], already: Already | None = None) -> Filed:
    """Write `event` into the log of engine `number` of the club at `root`.

    event   : plain data (mappings, lists, text) with ``event`` and ``date``, without ``parents``
    already : finds the event in the log, where it stands already; None for what may be filed any number of times
    Errors: StoreError ``log-not-whole``, ``busy``, ``disk-full``, ``read-only``, ``not-written``,
    ``not-storable``, and those of :func:`fit_or_refuse`; nothing is written then.
    """
    fit_or_refuse(number, event)
    try:
        with alone(root / "engines" / number):
            return append_to(root, number, event, already)
    except OSError as error:
        raise write_error(error, f"the {event['event']} of engine {number}") from error


def append_to(root: Path, number: str, event: Mapping[str, Any], already: Already | None = None) -> Filed:
    """The same for who holds the lock. Errors: as :func:`file_event`, and OSError."""
    log = whole_log(root, number)
    there = already(log) if already else None
    if there is not None:
        return Filed(number, root / there.document.path, there.digest, new=False)
    name, data = event_file(event, log.heads)
    path = root / "engines" / number / "log" / name
    branches = log.heads if len(log.heads) > 1 else ()
    try:
        unsure = write_once(path, data)
    except FileExistsError:
        # The very same event, written by somebody whom no lock of ours kept away.
        return Filed(number, path, digest(data), new=False)
    return Filed(number, path, digest(data), new=True, branches=branches, unsure=unsure)


def in_both(
    root: Path, engines: Iterable[str], halves: Callable[[], Iterable[Filed]], what: str, of: str = ""
) -> list[Filed]:
    """What `halves` writes while nobody else writes into these engines' logs.

    Errors: StoreError, those of writing the first; ``half-written`` where the second could not be written after it.
    """
    filed: list[Filed] = []
    try:
        with alone(*(root / "engines" / engine for engine in engines)):
            for half in halves():
                filed.append(half)
    except OSError as error:
        failed = write_error(error, f"the {what}{of}")
        if not filed:
            raise failed from error
        raise StoreError(HALF_WRITTEN, f"engine {filed[0].engine} has the {what}, the other has not: {failed.message}",
                         "docgen move --finish writes the other half") from error  # fmt: skip
    return filed


def same_in(log: Log, event: Mapping[str, Any]) -> Entry | None:
    """An event of the log that says the very same of the same day."""
    wanted = {key: value for key, value in event.items() if key != "parents"}
    return next((held.entry for held in log.held if held.event is not None and _said(held.entry) == wanted), None)


def _said(entry: Entry) -> Mapping[str, Any]:
    data = entry.document.data
    return {key: value for key, value in data.items() if key != "parents"} if isinstance(data, dict) else {}


def whole_log(root: Path, number: str) -> Log:
    """The log of an engine as it is now. Errors: StoreError ``log-not-whole`` when anything is wrong with it."""
    log, problems = read_log(root, number)
    faults = [p for p in problems if p.level == "error"]
    if faults:
        message = f"the log of engine {number} is not whole: nothing was filed\n{faults[0]}"
        raise StoreError("log-not-whole", message, f"docgen verify {number} says what is wrong with it")
    return log


def fit_or_refuse(number: str, event: Mapping[str, Any]) -> Entry:
    """The event as the reader will see it.

    Errors: StoreError ``not-storable``, and the name of the fault for which the reader would refuse it (``no-unit``).
    """
    name, data = event_file(event, ())
    entry, problems = read_entry(f"engines/{number}/log/{name}", data)
    if entry is None or problems:
        raise StoreError(problems[0].name, _said_of(problems[0]), problems[0].hint)
    return entry


def _said_of(problem: Problem) -> str:
    """What is wrong with an event that is no file yet: the key in place of a line that nobody has seen."""
    key, colon, value = problem.source.strip().removeprefix("- ").partition(":")
    quoted = problem.message.partition('"')[2].partition('"')[0]
    return f"{key}: {problem.message}" if colon and quoted and quoted in value else problem.message


def names_unknown(folder: Folder, number: str, event: Mapping[str, Any]) -> list[Problem]:
    """The names in an event (of parts, limits, settings, jobs) that engine `number`'s model does not know."""
    entry = fit_or_refuse(number, event)
    record = folder.engines[number]
    if record.engine.model not in folder.models:
        return []
    model = folder.models[record.engine.model].value
    return sorted(event_problems(folder, model, entry.document, entry.event))


def file_service(root: Path, number: str, service: Mapping[str, Any]) -> Filed:
    """File a signed sheet as a service, unless that very sheet is in the log. Errors: as :func:`file_event`."""
    of = (service.get("issue"), service.get("sheet"), service["procedure"])
    return file_event(root, number, service, lambda log: sheet_in(log, *of))


def sheet_in(log: Log, issue: str | None, sheet: str | None, procedure: str) -> Entry | None:
    """The service of a job that this sheet was filed as: by its issue digest, or by its number where either lacks a
    digest. The sheet of a visit is filed as several, one for each job.

    One that a correction struck out does not count.
    """
    key = sheet_key(sheet) if sheet else None
    for held in log.held:
        event = held.event
        if isinstance(event, Service) and event.procedure == procedure:
            if issue and event.issue:
                same = issue.startswith(event.issue) or event.issue.startswith(issue)
            else:
                same = key is not None and event.sheet is not None and sheet_key(event.sheet) == key
            if same:
                return held.entry
    return None


def sheet_key(number: str) -> str:
    """A sheet's number without page and check character: the same for every page of one print."""
    try:
        found = parse_number(number)
    except NumberError:
        return number
    return f"{found.engine}-{found.code}-{found.revision:02d}-{found.print:03d}"


def running_in(log: Log, run: Run) -> Entry | None:
    """The same running in the log: the same day and time, and no other meeting."""
    runs = ((held.entry, held.event) for held in log.held if isinstance(held.event, Run))
    return next((entry for entry, event in runs if isinstance(event, Run) and same_running(event, run)), None)


def same_running(one: Run, other: Run) -> bool:
    """Whether two runs may be one: the same day and time, and no other meeting."""
    at_one_meeting = not one.meeting or not other.meeting or one.meeting == other.meeting
    return one.date == other.date and at_one_meeting and one.hours.exactly("h") == other.hours.exactly("h")
