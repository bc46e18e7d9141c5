"""What is left of a record after kills: lost, half-written and doubled events, broken chains."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from pathlib import Path

from docgen.club.chain import Chain, walk
from docgen.club.log import digest
from docgen.club.store import TEMPORARY
from docgen.club.yamltext import read_yaml


@dataclass
class Tally:
    """The figures of the last line."""

    kills: int = 0
    lost: int = 0
    half_written: int = 0
    doubled: int = 0
    broken: int = 0

    def __str__(self) -> str:
        return (
            f"kills: {self.kills}; lost: {self.lost}; half-written: {self.half_written}; doubled: {self.doubled}; "
            f"broken chains: {self.broken}"
        )

    @property
    def clean(self) -> bool:
        """Whether nothing was lost, half-written, doubled or broken."""
        return not (self.lost or self.half_written or self.doubled or self.broken)


def files_of(log: Path) -> dict[str, bytes]:
    """The files of a log by name, without unfinished ones, which may go at any moment."""
    found = sorted(p for p in log.iterdir() if not p.name.startswith(TEMPORARY)) if log.is_dir() else []
    return {p.name: p.read_bytes() for p in found}


def notes_in(log: Path) -> Counter[str]:
    """How often each event's note stands in the log. The note tells the events of these trials apart."""
    notes: Counter[str] = Counter()
    for name, data in files_of(log).items():
        document, _ = read_yaml(name, data)
        if document is not None and isinstance(document.data, dict):
            notes[str(document.data.get("note"))] += 1
    return notes


def count(tally: Tally, log: Path, due: set[str], *, branches: bool = False) -> Chain:
    """Look at a log as it stands: every note in `due` must be there, none twice, every file whole, the chain too.

    branches : whether ends that were filed apart are in order
    """
    files = files_of(log)
    notes = notes_in(log)
    tally.lost += len(due - notes.keys())
    tally.doubled += sum(times - 1 for times in notes.values())
    tally.half_written += sum(
        not digest(data).startswith(name.rpartition("-")[2].removesuffix(".yaml")) for name, data in files.items()
    )
    chain = walk(log.as_posix(), files)
    tally.broken += any(not (branches and p.name == "branch-not-joined") for p in chain.problems)
    return chain
