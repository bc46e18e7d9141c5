"""What is due in a club of thousands: of engines whose files are as they were, what was found then is kept.

Kept is one file beside the printed sheets, which may be deleted at any time. A file of an engine that was edited,
added, deleted or renamed is noticed by what the system tells of it (decision 0029); then its record is read. Records
that tell of a component that was moved are always read. `docgen verify` reads everything.
"""

import os
from collections.abc import Callable, Mapping
from datetime import date
from pathlib import Path
from typing import Any

from docgen.club.folder import Folder
from docgen.club.schema.engine import NUMBER
from docgen.club.schema.event import ComponentMoved, Correction
from docgen.desk.scratch import keep, kept
from docgen.plan.due import DueLine, Quiet, due_list, pressing_first, quiet_engines
from docgen.plan.outlook import lines_on, outlook, quiet_on

PLACE = "out/.docgen/due"
WORTH = 20
"""Engines that had to be read, from which on keeping what was found is worth writing the file anew."""
FEW = 10
"""The part of the engines (one in so many) up to which they are read one by one."""


def due_now(
    root: Path, read: Callable[..., Folder], parts: Mapping[str, str], on: date
) -> tuple[Folder, list[DueLine], list[Quiet]]:
    """The club, and what is due on all its engines on a day: `folder.unread` are those that are as they were.

    read  : reads the club, for some engines or for all; `unmoved` are those whose components never moved
    parts : digests of what each engine's folder holds, and of all else under "", made before anything was read; those
            that end with "?" hold what may change unseen. Where there are none, nothing is kept
    """
    sure = {name: digest for name, digest in parts.items() if not digest.endswith("?")}
    texts = sure.pop("", "") if os.name == "posix" else ""
    before = kept(root / PLACE, texts) if texts else {}
    good = {n: told for n, (digest, told) in before.items() if digest == sure.get(n) and told["on"] <= f"{on}"}
    wanted = [name for name in parts if name and name not in good]
    some = len(wanted) * FEW <= len(parts) and all(map(NUMBER.fullmatch, wanted))
    folder = read(wanted, unmoved=good.keys()) if good and some else read()
    if not folder.unread <= good.keys():  # one came in the meantime
        folder = read()
    unread = {number: good[number] for number in sorted(folder.unread)}
    found = due_list(folder, on)
    new = _new(folder, found, sure, on) if texts and len(folder.engines) >= WORTH else {}
    if len(new) >= WORTH:
        keep(root / PLACE, texts, {**{number: (sure[number], told) for number, told in unread.items()}, **new})
    lines = [*found, *lines_on(folder, unread.values(), on)]
    quiet = [
        *quiet_engines(folder, on),
        *(q for number, told in unread.items() for q in quiet_on(folder, number, told, on)),
    ]
    return folder, sorted(lines, key=pressing_first), sorted(quiet, key=lambda one: one.engine)


def _new(folder: Folder, lines: list[DueLine], sure: Mapping[str, str], on: date) -> dict[str, tuple[str, Any]]:
    """What is kept of the engines that were read: of those without a fault, whose components never moved."""
    faulty = {problem.path.split("/")[1] for problem in folder.problems if problem.path.startswith("engines/")}
    of_each: dict[str, list[DueLine]] = {}
    for line in lines:
        of_each.setdefault(line.engine, []).append(line)
    found = {}
    for number in folder.engines.keys() & sure.keys() - faulty:
        record = folder.engines[number]
        moved = any(isinstance(entry.event, (ComponentMoved, Correction)) for entry in record.log.entries)
        if not moved and (told := outlook(folder, record, of_each.get(number, []), on)):
            found[number] = (sure[number], told)
    return found
