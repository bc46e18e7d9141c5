"""Kills one filing at each of its points, looks at the record, files again, looks again."""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Any

from benchmarks.faults import clubs
from benchmarks.faults.counting import Tally, count, count_pictures
from benchmarks.faults.killing import child, is_killed
from docgen.club.readlog import read_log
from docgen.club.schema.event import Run
from docgen.club.store import append
from docgen.desk.entry import Entry
from docgen.desk.filing import Paper
from docgen.job.issue import issue, number_of
from docgen.job.resolve import resolve
from docgen.returns.branches import join
from docgen.returns.correcting import correction_in
from docgen.returns.filing import file_event, file_service, fit_or_refuse, running_in
from docgen.returns.identity import IssuedSheet, sheet_numbered
from docgen.returns.moving import file_move, finish, planned

DAY = date(2030, 3, 1)
ENGINES = ("7A", "8B")
A_CLUB = 10
"""Points tried in one club, so that its logs stay short."""


@dataclass(frozen=True)
class Kind:
    """One thing that is filed: what happens before, the filing, in which logs its note then stands, with pictures or
    without."""

    name: str
    files: Callable[[Path, str, int], None]
    before: Callable[[Path, str, int], None] = lambda root, note, number: None
    engines: tuple[str, ...] = ("7A",)
    pictures: bool = False


def each_point(root: Path, tally: Tally, names: tuple[str, ...] = (), step: int = 1) -> Iterator[tuple[str, int]]:
    """For each kind of filing (or each of those named) its name and the number of points it was killed at."""
    for kind in (kind for kind in KINDS if not names or kind.name in names):
        yield kind.name, _kill_everywhere(root / kind.name, kind, tally, step)


def _kill_everywhere(folder: Path, kind: Kind, tally: Tally, step: int) -> int:
    """Kill at the first point, the second (or `step` farther) ... until the filing ends by itself; now and then in a
    new club. How often it was killed."""
    for number in range(10_000):
        root = folder / str(number // A_CLUB)
        said = root / "said.txt"
        if number % A_CLUB == 0:
            clubs.fresh(root)
            said.touch()
        note = f"{kind.name} {number}"
        kind.before(root, note, number)

        def work(said: Path, root: Path = root, note: str = note, number: int = number) -> None:
            kind.files(root, note, number)
            with said.open("a") as file:
                file.write(f"{note}\n")

        status = child(work, said, number * step)
        if is_killed(status):
            tally.kills += 1
            _look(root, kind, said, tally)
        elif status == 0:
            _look(root, kind, said, tally, whole=True)
            return number
        again = child(work, said)
        if again:
            raise RuntimeError(f"filing again after a kill ended with {again}")
        _look(root, kind, said, tally, whole=True)
    raise RuntimeError("a filing without end")


def _look(root: Path, kind: Kind, said: Path, tally: Tally, whole: bool = False) -> None:
    """Everything that was said to be filed must be there, once, and every log whole. whole: nothing was cut off last"""
    due = set(said.read_text().splitlines())
    for engine in ENGINES:
        here = due if engine in kind.engines else set()
        count(tally, root / "engines" / engine / "log", here, branches=kind.name == "join")
    if kind.pictures:
        count_pictures(tally, root, "7A", whole)


def _run(root: Path, note: str, number: int) -> None:
    event = {"event": "run", "date": str(DAY), "hours": f"{number + 1} min", "note": note}
    ran = fit_or_refuse("7A", event).event
    assert isinstance(ran, Run)
    file_event(root, "7A", event, lambda log: running_in(log, ran))


def _sheet(root: Path, note: str, number: int) -> None:
    issue = hashlib.sha256(note.encode()).hexdigest()
    event = {"event": "service", "date": str(DAY), "procedure": "rotor-service", "revision": "3", "issue": issue,
             "readings": {"rotor-gap": "0.30 mm"}, "note": note}  # fmt: skip
    file_service(root, "7A", event)


def _printed(root: Path, note: str, number: int) -> None:
    _the_sheet(root)


def _the_sheet(root: Path) -> IssuedSheet:
    """The sheet of today's job; each filing before it changes the job, so that it is a print of its own."""
    folder = clubs.read(root)
    job = resolve(folder, folder.engines["7A"], folder.procedures["rotor-service"], DAY)
    found = number_of(issue(root / "engines/7A/issued", job))
    return sheet_numbered(type(found)(found.engine, found.code, found.revision, found.print, "S"), clubs.read(root))


def _photographed(root: Path, note: str, number: int) -> None:
    """What the page in the browser does when both faces were photographed: keep what was typed, then file it all."""
    log, _ = read_log(root, "7A")
    if any(note in getattr(held.entry.event, "findings", ()) for held in log.held):
        return
    answers = {"work-completed": str(DAY), "engine-hours": "4", "done-by": "A. Keeper", "measure-rotor-gap": "0.30",
               "findings": note, "released-by": "A. Keeper", "released-on": str(DAY)}  # fmt: skip
    papers = [Paper(f"picture {page} of {note}".encode() * 20, "jpg", page) for page in (1, 2)]
    entry = Entry(clubs.read(root), _the_sheet(root), DAY, papers=papers)
    said: Any = entry.check(answers)["said"]
    found = entry.file(answers, [one["name"] for one in said], ())
    if not found["filed"]:
        raise RuntimeError(f"not filed: {found['said']}")


def _correct(root: Path, note: str, number: int) -> None:
    log, _ = read_log(root, "7A")
    wrong = next(held for held in log.held if held.entry.event.note == f"before {note}")
    event = {"event": "correction", "date": str(DAY), "corrects": wrong.entry.digest, "why": "Typed wrongly",
             "instead": {"event": "run", "date": str(DAY), "hours": "5 min"}, "note": note}  # fmt: skip
    file_event(root, "7A", event, lambda log: correction_in(log, event))


def _wrong_run(root: Path, note: str, number: int) -> None:
    file_event(root, "7A", {"event": "run", "date": str(DAY), "hours": f"{number + 1} h", "note": f"before {note}"})


def _two_branches(root: Path, note: str, number: int) -> None:
    log, _ = read_log(root, "7A")
    for side in ("one", "other"):
        event = {"event": "run", "date": str(DAY), "hours": f"{number + 1} min", "note": f"{side} before {note}"}
        append(root / "engines/7A/log", event, log.heads)


def _join(root: Path, note: str, number: int) -> None:
    join(root, "7A", DAY, note=note)


def _move(root: Path, note: str, number: int) -> None:
    folder = clubs.read(root)
    finish(root, folder)
    folder = clubs.read(root)
    where = ENGINES[(number + 1) % 2]
    if folder.engines[where].log.events and folder.engines[where].log.events[-1].note == note:
        return
    file_move(root, folder, planned(folder, "R-1", where, DAY, note=note))


KINDS = (
    Kind("run", _run),
    Kind("sheet", _sheet),
    Kind("photographs", _photographed, _printed, pictures=True),
    Kind("correction", _correct, _wrong_run),
    Kind("join", _join, _two_branches),
    Kind("move", _move, engines=ENGINES),
)
