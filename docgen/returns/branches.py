"""Two branches of one log, filed apart: what stands in both is one and the same and counts twice, until somebody says
which stands; and the event that joins them, which names both ends. Both stay as they are.

Within one branch nothing is taken to be doubled: who entered a second running of the same length there knew of the
first. Two events are apart where neither follows the other.
"""

import json
from collections.abc import Hashable, Iterator
from dataclasses import dataclass
from datetime import date
from functools import cache, partial
from itertools import combinations
from pathlib import Path
from typing import Any

from docgen.club.lock import alone
from docgen.club.log import Entry, Held, Log
from docgen.club.problem import Problem
from docgen.club.schema.event import ComponentMoved, Correction, Joined, Run, Service
from docgen.club.store import write_error
from docgen.job import wording
from docgen.returns.filing import Filed, append_to, event_of, fit_or_refuse, same_running, sheet_key, whole_log

_SAYING = frozenset({"parents", "by", "note", "counterpart"})
"""What two who enter the same thing may say differently, or cannot say alike."""


@dataclass(frozen=True)
class Twice:
    """One thing that stands in a log two times. ``what`` names it: ``running of 36 min on 2030-05-04``."""

    first: Held
    second: Held
    what: str


def doubled(log: Log) -> list[Twice]:
    """What was filed two times apart, and of which nobody has said, in joining them, that both stand."""
    groups: dict[Hashable, list[Held]] = {}
    for held in log.held:
        if (key := _key(held)) is not None:
            groups.setdefault(key, []).append(held)
    pairs = [pair for group in groups.values() for pair in combinations(group, 2) if _same(*pair)]
    if not pairs:
        return []
    known = cache(partial(behind, log))
    joins = [entry.digest for entry in log.entries if isinstance(entry.event, Joined)]
    found = []
    for first, second in pairs:
        one, two = first.entry.digest, second.entry.digest
        apart = one not in known(two) and two not in known(one)
        if apart and not any({one, two} <= known(join) for join in joins):
            found.append(Twice(first, second, _what(first)))
    return found


def behind(log: Log, digest: str) -> set[str]:
    """The digests of an event and of everything that it follows."""
    found = {digest}
    waiting = [digest]
    while waiting:
        entry = log.named.find(waiting.pop())
        for parent in entry.event.parents if entry is not None else ():
            before = log.named.find(parent)
            if before is not None and before.digest not in found:
                found.add(before.digest)
                waiting.append(before.digest)
    return found


def _key(held: Held) -> Hashable | None:
    """What two events have in common that may be one; None for what is never doubled."""
    event = held.event
    if event is None or isinstance(event, Correction | Joined):
        return None
    if isinstance(event, Run):
        return "run", event.date, event.hours.exactly("h")
    if isinstance(event, Service):
        sheet = event.issue or (sheet_key(event.sheet) if event.sheet else "")
        return ("sheet", sheet) if sheet else None
    plain = {name: value for name, value in event.model_dump(mode="json").items() if name not in _SAYING}
    return json.dumps(plain, sort_keys=True, default=str)


def _same(first: Held, second: Held) -> bool:
    if isinstance(first.event, Run) and isinstance(second.event, Run):
        return same_running(first.event, second.event)
    return True


def _what(held: Held) -> str:
    event: Any = held.event
    if isinstance(event, Run):
        return f"running of {wording.quantity(event.hours)} on {event.date}"
    if isinstance(event, Service):
        return f"sheet {event.sheet or event.procedure}"
    if isinstance(event, ComponentMoved):
        return f"move of {event.component} {event.fitted or event.removed} on {event.date}"
    return f"{event.event} of {event.date}"


def doubled_problems(log: Log) -> Iterator[Problem]:
    """For each thing that was filed twice apart, where the second stands; sheets are told of elsewhere."""
    for one in doubled(log):
        if not isinstance(one.first.event, Service):
            message = f"the {one.what} was filed twice, apart: it is also {one.first.entry.file}, and both count"
            yield Problem(one.second.entry.document.path, 0, 0, "said-twice", message,
                          "docgen join asks whether one of them is struck out")  # fmt: skip


def branches(log: Log) -> list[list[Entry]]:
    """For each end of a log the entries that stand only behind it, oldest first; empty where there is one end."""
    if len(log.heads) < 2:
        return []
    every = [behind(log, head) for head in log.heads]
    return [
        [e for e in log.entries if e.digest in own and not any(e.digest in b for b in every if b is not own)]
        for own in every
    ]


def join(
    root: Path, number: str, day: date, by: str | None = None, note: str | None = None, *, always: bool = False
) -> Filed | None:  # fmt: skip
    """Join the ends of the log of engine `number`; None where there is one end only.

    always  : also behind one end, to say that what was filed twice apart stands twice
    Errors: as :func:`docgen.returns.filing.file_event`; nothing is written then.
    """
    event = event_of("joined", day, by=by, note=note)
    fit_or_refuse(number, event)
    try:
        with alone(root / "engines" / number):
            if len(whole_log(root, number).heads) < 2 and not always:
                return None
            return append_to(root, number, event)
    except OSError as error:
        raise write_error(error, f"what joins the log of engine {number}") from error
