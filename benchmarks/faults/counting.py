"""What is left of a record after kills: lost, half-written and doubled events, broken histories, pictures apart."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from pathlib import Path

from docgen.club.history import History, walk
from docgen.club.log import digest
from docgen.club.readlog import read_log
from docgen.club.store import TEMPORARY
from docgen.club.yamltext import read_yaml
from docgen.returns.strays import strays
from docgen.returns.verify import services, verify


@dataclass
class Tally:
    """The figures of the last line."""

    kills: int = 0
    lost: int = 0
    half_written: int = 0
    doubled: int = 0
    broken: int = 0
    apart: int = 0

    def __str__(self) -> str:
        return (
            f"kills: {self.kills}; lost: {self.lost}; half-written: {self.half_written}; doubled: {self.doubled}; "
            f"broken histories: {self.broken}; pictures apart: {self.apart}"
        )

    @property
    def clean(self) -> bool:
        """Whether nothing was lost, half-written, doubled or broken, and no picture apart from its event."""
        return not (self.lost or self.half_written or self.doubled or self.broken or self.apart)


def files_of(log: Path) -> dict[str, bytes]:
    """The files of a log by name, without unfinished ones, which may go at any moment."""
    found = sorted(p for p in log.iterdir() if not p.name.startswith(TEMPORARY)) if log.is_dir() else []
    return {p.name: p.read_bytes() for p in found}


def notes_in(log: Path) -> Counter[str]:
    """How often each event's note stands in the log, or its one finding: they tell the events of these trials apart."""
    notes: Counter[str] = Counter()
    for name, data in files_of(log).items():
        document, _ = read_yaml(name, data)
        if document is not None and isinstance(document.data, dict):
            (finding,) = document.data.get("findings", ("None",))
            notes[str(document.data.get("note", finding))] += 1
    return notes


def count(tally: Tally, log: Path, due: set[str], *, branches: bool = False) -> History:
    """Look at a log as it stands: every note in `due` must be there, none twice, every file whole, the history too.

    branches : whether ends that were filed apart are in order
    """
    files = files_of(log)
    notes = notes_in(log)
    tally.lost += len(due - notes.keys())
    tally.doubled += sum(times - 1 for times in notes.values())
    tally.half_written += sum(
        not digest(data).startswith(name.rpartition("-")[2].removesuffix(".yaml")) for name, data in files.items()
    )
    history = walk(log.as_posix(), files)
    tally.broken += any(not (branches and p.name == "branch-not-joined") for p in history.problems)
    return history


def count_pictures(tally: Tally, root: Path, engine: str, whole: bool) -> None:
    """Look at the pictures of signed sheets: each event has those that it names, each picture an event.

    whole : whether no filing was cut off just before; else a picture may wait for its event, if verify says so.
    An unfinished file is no picture yet; verify must name it as well.
    """
    found = verify(root, engine)
    tally.apart += sum(problem.name in ("paper-missing", "paper-changed") for problem in found.problems)
    named = {one.file for _, event in services(read_log(root, engine)[0]) for one in event.pictures}
    waiting = set() if whole else {note.partition(" ")[0] for note in found.notes}
    left = {path.rpartition(f"{engine}/")[2] for path in strays(root)}
    kept = {f"signed/{path.name}" for path in (root / "engines" / engine / "signed").glob("*")}
    tally.apart += len(kept - named - waiting - left)
