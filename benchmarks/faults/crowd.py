"""Many processes file into one log at once, each killed again and again, until everything is filed."""

from __future__ import annotations

import random
from collections.abc import Callable
from pathlib import Path

from benchmarks.faults import clubs
from benchmarks.faults.counting import Tally, count
from benchmarks.faults.killing import kill_after, started, waited
from docgen.club.schema.event import Run
from docgen.returns.filing import file_event, fit_or_refuse, running_in

EACH = 6
"""Events that each process files."""
SHORTEST, LONGEST = 0.0, 0.05
"""Seconds after which a process is killed."""


def at_once(root: Path, many: int, kills: int, tally: Tally) -> int:
    """Kill until `kills` were; the log is looked at after every kill. The number of ends of the history at the end."""
    rng = random.Random(many)
    clubs.fresh(root)
    said = root / "said.txt"
    said.touch()
    log = root / "engines/7A/log"
    round_, killed = 0, 0
    while killed < kills:
        works = [_files(root, f"{round_}-{number}") for number in range(many)]
        running = [started(work, said) for work in works]
        while any(running) and killed < kills:
            place = rng.choice([i for i, pid in enumerate(running) if pid])
            if kill_after(running[place], rng.uniform(SHORTEST, LONGEST)):
                killed += 1
                tally.kills += 1
                count(tally, log, set(said.read_text().splitlines()), branches=True)
                running[place] = started(works[place], said)
            else:
                running[place] = 0
        for pid in filter(None, running):
            if waited(pid):
                raise RuntimeError("a filing that nobody killed failed")
        round_ += 1
    due = {f"{r}-{n}-{e}" for r in range(round_) for n in range(many) for e in range(EACH)}
    return len(count(tally, log, due, branches=True).heads)


def _files(root: Path, name: str) -> Callable[[Path], None]:
    """Files its events one after the other; those of an earlier try are found and not filed again."""

    def work(said: Path) -> None:
        for number in range(EACH):
            note = f"{name}-{number}"
            event = {"event": "run", "date": "2030-03-01", "hours": "12 min", "meeting": note, "note": note}
            ran = fit_or_refuse("7A", event).event
            assert isinstance(ran, Run)
            file_event(root, "7A", event, lambda log, ran=ran: running_in(log, ran))
            with said.open("a") as file:
                file.write(f"{note}\n")

    return work
