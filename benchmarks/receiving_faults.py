"""Is a club ever left with half a parcel when taking it in is killed: at every point, and while that is being finished?

A parcel that changes a job, an engine type and the club's registers is taken in by a child process that is killed just
before and just after each of its calls into the system. After each kill a command is begun (which finishes what was cut
off), and the club must be wholly as it was or wholly as it would be; then the parcel is taken in again. The same with
the finishing itself killed at each of its points.

The last line reads `kills: N; half-taken: 0; lost: 0`; the exit code is 1 when it does not. A kill is a SIGKILL.
"""

from __future__ import annotations

import shutil
import sys
import tempfile
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from benchmarks.faults.killing import child, is_killed
from docgen.club.read import read_club
from docgen.share.container import to_bytes
from docgen.share.intake import intake
from docgen.share.origins import keep
from docgen.share.pack import pack
from docgen.share.parcel import Parcel, open_parcel
from docgen.share.put import PENDING, finish
from tests.smallclub import texts, write

DAY = date(2030, 3, 1)
JOB, MODEL = "procedures/rotor-service.yaml", "models/willow-80.yaml"
THEIRS = ("willow-80",)
Files = dict[str, bytes]


@dataclass
class Tally:
    """What was killed, and what was wrong after it."""

    kills: int = 0
    half: int = 0
    lost: int = 0

    def __str__(self) -> str:
        return f"kills: {self.kills}; half-taken: {self.half}; lost: {self.lost}"


@dataclass(frozen=True)
class Trial:
    """A club before a parcel and after it."""

    home: Path
    parcel: Parcel
    before: Files
    after: Files


def main(step: int = 1) -> int:
    """Kill at every point (or at every so many), and print what was left."""
    tally = Tally()
    with tempfile.TemporaryDirectory() as folder:
        trial = _trial(Path(folder))
        for name, kind in (("taking in", _taking), ("finishing", _finishing)):
            print(f"{name}: killed at {kind(trial, Path(folder), tally, step)} points", flush=True)
    print(tally)
    return 0 if tally.kills and not tally.half and not tally.lost else 1


def _trial(folder: Path) -> Trial:
    """The small club, with a job of its own changed since it was packed; another whose next parcel changes it all."""
    home, other = write(folder / "home"), write(folder / "other")
    gone = texts()["club.yaml"].replace("  rotor-stop: {name: Rotor stop}\n", "")
    made = pack(read_club(other), ["rotor-service"])
    keep(other, made.origins, made.texts)
    first = open_parcel("first", made.data)
    intake(read_club(home), first, DAY).write(home)
    lines = (home / JOB).read_text("utf-8").replace("wait: 10 min", "wait: 15 min")
    (home / JOB).write_text(lines, "utf-8")
    (home / "club.yaml").write_text(gone, "utf-8")
    (home / MODEL).write_text(texts()[MODEL].replace("    holding_tool: rotor-stop\n", ""), "utf-8")
    (other / JOB).write_text(texts()[JOB].replace("revision: 3", "revision: 4").replace("5 h", "6 h"), "utf-8")
    (other / MODEL).write_text(texts()[MODEL].replace("34 N.m", "36 N.m").replace("10 h", "12 h"), "utf-8")
    parcel = open_parcel("second", pack(read_club(other), ["rotor-service"]).data)
    before = _files(home)
    found = intake(read_club(home), parcel, DAY, theirs=THEIRS)
    assert not found.faults
    assert {JOB, MODEL, "club.yaml"} <= found.files.keys()
    then = shutil.copytree(home, folder / "then")
    found.write(then)
    return Trial(home, parcel, before, _files(then))


def _taking(trial: Trial, folder: Path, tally: Tally, step: int) -> int:
    for number in range(0, 10_000, step):
        root = shutil.copytree(trial.home, folder / "taking" / str(number))
        found = intake(read_club(root), trial.parcel, DAY, theirs=THEIRS)
        status = child(lambda _, root=root, found=found: found.write(root), root / "said", number)  # type: ignore[misc]
        if status == 0:
            _look(root, trial, tally, only_after=True)
            return number // step
        _killed(status, tally)
        _look(root, trial, tally)
        again = intake(read_club(root), trial.parcel, DAY, theirs=THEIRS)
        if again.files:
            again.write(root)
        _look(root, trial, tally, only_after=True)
        shutil.rmtree(root)
    raise RuntimeError("no end to the points")


def _finishing(trial: Trial, folder: Path, tally: Tally, step: int) -> int:
    pending = to_bytes(intake(read_club(trial.home), trial.parcel, DAY, theirs=THEIRS).files)
    for number in range(0, 10_000, step):
        root = shutil.copytree(trial.home, folder / "finishing" / str(number))
        (root / PENDING).write_bytes(pending)
        status = child(lambda _, root=root: finish(root) and None, root / "said", number)  # type: ignore[misc]
        if status == 0:
            _look(root, trial, tally, only_after=True)
            return number // step
        _killed(status, tally)
        _look(root, trial, tally, only_after=True)
        shutil.rmtree(root)
    raise RuntimeError("no end to the points")


def _killed(status: int, tally: Tally) -> None:
    if not is_killed(status):
        raise RuntimeError(f"the child ended with {status}")
    tally.kills += 1


def _look(root: Path, trial: Trial, tally: Tally, only_after: bool = False) -> None:
    """What a command finds, which first finishes what was cut off."""
    finish(root)
    here = _files(root)
    if here not in (trial.before, trial.after):
        tally.half += 1
    elif (only_after and here != trial.after) or (here == trial.after and not _kept(root, trial)):
        tally.lost += 1


def _files(root: Path) -> Files:
    """Everything that decides what the club says."""
    places = [root / "club.yaml"]
    for sub in ("procedures", "models", "shared"):
        places += [path for path in (root / sub).rglob("*.yaml") if not path.name.startswith(".tmp-")]
    found = {path.relative_to(root).as_posix(): path.read_bytes() for path in sorted(places)}
    return {path: data for path, data in found.items() if not path.startswith("shared/replaced/")}


def _kept(root: Path, trial: Trial) -> bool:
    """Whether what was replaced is still there."""
    kept = {path.read_bytes() for path in (root / "shared").rglob("*.yaml")}
    return {trial.before[path] for path in (JOB, MODEL, "club.yaml")} <= kept


if __name__ == "__main__":
    sys.exit(main(*(int(word) for word in sys.argv[1:2])))
