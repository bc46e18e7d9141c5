"""What an engine's log says of what lies beside it: the frozen jobs that its sheets were judged by, the other logs."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from pathlib import Path

from docgen.club.files import yaml_files
from docgen.club.log import FILE_NAME, SHORT, Entry, Log
from docgen.club.problem import Problem
from docgen.club.schema.event import ComponentMoved, Service
from docgen.job.issued import thawed
from docgen.job.prints import Print, chain_problems, changed
from docgen.returns.filing import sheet_key

_RESTORE = "restore the file from a backup"


def services(log: Log) -> Iterator[tuple[Entry, Service]]:
    """Every filed sheet with its entry, also one that was corrected or struck out, or that a correction brought."""
    for entry in log.entries:
        for event in (entry.event, entry.instead):
            if isinstance(event, Service):
                yield entry, event


def judged(number: str, printed: Sequence[Print], log: Log) -> Iterator[Problem]:
    """The frozen jobs in a chain of their own, each as it was; and those that filed sheets were judged by.

    What was frozen before there was such a chain, and what no later print and no filed sheet names, shows only where it
    contradicts itself.
    """
    base = f"engines/{number}/issued"
    problems = list(chain_problems(base, printed))
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


def elsewhere(root: Path, number: str, log: Log) -> Iterator[Problem]:
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
