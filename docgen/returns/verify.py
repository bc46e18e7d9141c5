"""Whether one engine's record is as it was written: its history, the sheets printed from it, the papers kept, and what
lies beside it: the frozen jobs that its sheets were judged by, the other engines' logs."""

import hashlib
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from docgen.club.files import bounded, yaml_files
from docgen.club.history import EventFile, History, walk
from docgen.club.log import FILE_NAME, SHORT, Entry, Log
from docgen.club.problem import Problem
from docgen.club.readlog import read_log
from docgen.club.schema.event import ComponentMoved, Service
from docgen.job import wording
from docgen.job.issue import thawed
from docgen.job.prints import Print, changed, doubled, history_problems, prints
from docgen.returns.branches import doubled_problems
from docgen.returns.filing import sheet_key
from docgen.returns.sandbox import PICTURE_BYTES

_HEAD = re.compile(r"^ *log_head: ['\"]?([0-9a-f+]+)['\"]?$", re.MULTILINE)
"""Where a frozen job says how its engine's log ended."""
DIGEST = re.compile(r"[0-9a-f]{12,64}")
"""A digest, or enough of its beginning."""
_RESTORE = "restore the file from a backup"


@dataclass(frozen=True)
class Verified:
    """What was found. ``notes`` are no faults: branches that were joined, papers that belong to no event."""

    number: str
    history: History
    problems: tuple[Problem, ...]
    notes: tuple[str, ...]


def verify(root: Path, number: str) -> Verified:
    """Read every file of the engine's log, and what else its record says of it."""
    base = f"engines/{number}/log"
    files, unreadable = _files(root / base, base)
    history = walk(base, files)
    log, read = read_log(root, number)
    named = {p.path for p in history.problems}
    # That a parent is missing, the history has said already, and of which event.
    more = (p for p in read if p.level == "error" and p.path not in named and p.name != "missing-event")
    problems = [*unreadable, *history.problems, *more]
    printed = prints(root, f"engines/{number}/issued")
    problems += [*_printed(number, printed, history), *_twice(log), *doubled_problems(log), *_kept(root, number, log)]
    problems += [*_judged(number, printed, log), *_elsewhere(root, number, log)]
    notes = (*_notes(root, number, history, log), *_numbers_twice(printed))
    return Verified(number, history, tuple(sorted(set(problems))), notes)


def _files(folder: Path, base: str) -> tuple[dict[str, bytes | None], list[Problem]]:
    files: dict[str, bytes | None] = {}
    problems: list[Problem] = []
    for path in sorted(folder.iterdir()) if folder.is_dir() else []:
        try:
            files[path.name] = bounded(path) if path.is_file() and not path.is_symlink() else None
        except OSError as error:
            problems.append(Problem(f"{base}/{path.name}", 0, 0, "unreadable-file",
                                    f"this file cannot be read: {error.strerror}"))  # fmt: skip
    return files, problems


def against_head(history: History, base: str, head: str) -> tuple[EventFile | None, Problem | None]:
    """The event that a printed head means, or the problem that it is not in the log.

    head : at least twelve digits, as they stand on a sheet or card
    """
    page = history.named.find(head) if DIGEST.fullmatch(head) else None
    if page is not None:
        return page, None
    message = f"the log does not hold the event {head[:SHORT]}, which it once ended with"
    return None, Problem(base, 0, 0, "event-missing", message,
                         "it was taken off the end, or changed: restore the log from a backup")  # fmt: skip


def _printed(number: str, printed: Sequence[Print], history: History) -> Iterator[Problem]:
    """Every frozen job names the head that its sheet was printed with."""
    sheets: dict[str, list[str]] = {}
    for one in printed:
        found = _HEAD.search(one.text)
        for head in found[1].split("+") if found else ():
            sheets.setdefault(head, []).append(one.stem)
    for head, stems in sheets.items():
        _, problem = against_head(history, f"engines/{number}/log", head)
        if problem is not None:
            were = "was" if len(stems) == 1 else "were"
            message = f"{problem.message}: {wording.listed(stems)} {were} printed then"
            yield Problem(problem.path, 0, 0, problem.name, message, problem.hint)


def _twice(log: Log) -> Iterator[Problem]:
    """A sheet that stands in the log two times for one job, as two who file apart may bring about."""
    seen: dict[tuple[str, str], str] = {}
    for held in log.held:
        event = held.event
        if isinstance(event, Service) and (event.issue or event.sheet):
            key = (event.issue or sheet_key(event.sheet or ""), event.procedure)
            first = seen.setdefault(key, held.entry.file)
            if first != held.entry.file:
                yield Problem(held.entry.document.path, 0, 0, "sheet-twice", f"this sheet is also filed as {first}",
                              "strike one of them out: docgen correct")  # fmt: skip


def _kept(root: Path, number: str, log: Log) -> Iterator[Problem]:
    """The signed papers beside the log are those that were filed."""
    for entry, event in services(log):
        for file, digest in _papers(event):
            path = f"engines/{number}/{file}"
            name, wrong = "paper-changed", "was changed after it was filed"
            try:
                whole = hashlib.sha256(bounded(root / path, PICTURE_BYTES)).hexdigest().startswith(digest)
            except OSError as error:
                whole, name, wrong = False, "paper-missing", f"cannot be read: {error.strerror}"
            if not whole:
                yield Problem(path, 0, 0, name, f"the signed sheet of {entry.file} {wrong}", _RESTORE)


def _papers(event: Service) -> Iterator[tuple[str, str]]:
    """The papers that an event names, each once, with its digest."""
    if event.file and event.file_digest:
        yield event.file, event.file_digest
    yield from dict.fromkeys((one.file, one.digest) for one in event.pictures)


def _numbers_twice(printed: Sequence[Print]) -> Iterator[str]:
    for stem, each in doubled(printed):
        issues = wording.listed([one.issue[:SHORT] for one in each])
        yield (f"{stem} is the number of {len(each)} jobs, printed from two copies of the folder: issue {issues}; "
               "the foot of the paper says which, and filing asks for it")  # fmt: skip


def _notes(root: Path, number: str, history: History, log: Log) -> Iterator[str]:
    for page in history.joins:
        ends = " and ".join(found.name if (found := history.named.find(p)) else p[:SHORT] for p in page.parents)
        yield f"{page.name} joins what was filed apart: {ends}"
    filed = {file for _, event in services(log) for file, _ in _papers(event)}
    for path in sorted((root / "engines" / number / "signed").glob("[!.]*")):
        if f"signed/{path.name}" not in filed:
            yield f"signed/{path.name} belongs to no event: its filing was cut off; file it again"
    for left in history.unfinished:
        yield f"{left} was left by a filing that was cut off; it is no part of the log (--tidy takes it away)"
    for left, name in history.nameless.items():
        yield (f"{left} holds a whole event that is not in the log: its filing was cut off before it had its name, or "
               f"it was renamed; name it {name}, or delete it (--tidy leaves it alone)")  # fmt: skip


def services(log: Log) -> Iterator[tuple[Entry, Service]]:
    """Every filed sheet with its entry, also one that was corrected or struck out, or that a correction brought."""
    for entry in log.entries:
        for event in (entry.event, entry.instead):
            if isinstance(event, Service):
                yield entry, event


def _judged(number: str, printed: Sequence[Print], log: Log) -> Iterator[Problem]:
    """The frozen jobs in a history of their own, each as it was; and those that filed sheets were judged by.

    What was frozen before there was one, and what no later print and no filed sheet names, shows only where it
    contradicts itself.
    """
    base = f"engines/{number}/issued"
    problems = list(history_problems(base, printed))
    followed = {name for one in printed for name in one.after}
    loose = (one for one in printed if not one.written and one.name not in followed)
    problems += [changed(one.path, one.stem) for one in loose if not _sound(one)]
    yield from problems
    told = " ".join(problem.path for problem in problems)
    here = {digits for one in printed for digits in (one.digest[:SHORT], one.written)}
    gone = {event.printed: (entry, event) for entry, event in services(log) if event.printed}
    for digest, (entry, event) in gone.items():
        if digest[:SHORT] not in here and sheet_key(event.sheet or "?") not in told:
            message = f"the print that {entry.file} was judged by ({digest[:SHORT]}) is not there"
            yield Problem(base, 0, 0, "print-missing", message, _RESTORE)


def _sound(one: Print) -> bool:
    try:
        thawed(one.text)
    except ValueError:
        return False
    return True


def _elsewhere(root: Path, number: str, log: Log) -> Iterator[Problem]:
    """What the moves of this log say of other engines' logs: an engine that is not there, an event that is gone."""
    for entry, event in ((held.entry, held.event) for held in log.held):
        if not isinstance(event, ComponentMoved) or not event.other:
            continue
        if not (root / "engines" / event.other / "engine.yaml").is_file():
            message = f"engine {event.other} has no record here, but {entry.file} of engine {number} is a move with it"
            hint = "restore its folder from a backup; an engine that left the club keeps its folder"
            yield Problem(f"engines/{event.other}", 0, 0, "engine-missing", message, hint)
        elif event.counterpart and event.counterpart[:SHORT] not in _digits(root, event.other):
            message = f"the log does not hold the move {event.counterpart[:SHORT]}, which engine {number} answered"
            yield Problem(f"engines/{event.other}/log", 0, 0, "event-missing", message, _RESTORE)


def _digits(root: Path, number: str) -> set[str]:
    """The digits in the names of a log's files."""
    names = (path.rpartition("/")[2] for path in yaml_files(root, f"engines/{number}/log"))
    return {found["digest"] for name in names if (found := FILE_NAME.fullmatch(name))}
