"""Two copies of a club's folder, filed into apart, merged by git, joined: do the hours equal the truth?

Each history is random: both members run engines, note, move a numbered rotor, correct, print and file sheets, each in a
copy of his own; some of what one enters the other enters too, as happens when both were at the track. Then git merges
the copies, every other time with the line ends of Windows in one of them. After the merge either the hours of every
engine are the truth, or `docgen verify` names what counts twice or stands in two places; after `docgen join`, in which
the second of everything doubled is struck out, they are the truth, and the record is whole.

The last line reads ``histories: N; wrong hours unnamed: 0; wrong hours after joining: 0; not whole: 0; lost: 0``; the
exit code is 1 when it does not. Ten histories without a word; ``500`` tries so many.
"""

from __future__ import annotations

import contextlib
import os
import random
import shutil
import subprocess
import sys
import tempfile
import time
from collections import Counter
from dataclasses import dataclass, field
from datetime import date, timedelta
from fractions import Fraction
from pathlib import Path

from click.testing import CliRunner

from benchmarks.faults import clubs
from docgen.cli.frame import docgen
from docgen.club.lock import alone
from docgen.desk import moves
from docgen.job.issue import issue
from docgen.job.resolve import resolve
from docgen.job.state import state_of
from docgen.returns.correcting import corrected
from docgen.returns.diagnostic import Refused
from docgen.returns.filing import file_event, file_service
from docgen.returns.verify import verify

FIRST, LAST = date(2030, 1, 1), date(2030, 12, 31)
ENGINES = ("7A", "8B", "9C")
STEPS = 8
NOBODY = {
    "PATH": os.environ["PATH"], "HOME": "/nonexistent",
    "GIT_CONFIG_GLOBAL": os.devnull, "GIT_CONFIG_SYSTEM": os.devnull,
    **{f"GIT_{who}_{what}": "a@example.invalid" for who in ("AUTHOR", "COMMITTER") for what in ("NAME", "EMAIL")},
}  # fmt: skip


@dataclass
class Truth:
    """What really happened: minutes by engine, and the sheets and notes that must be in the record."""

    minutes: Counter[str] = field(default_factory=Counter)
    notes: set[str] = field(default_factory=set)


def main(histories: int = 10) -> int:
    """Try so many histories and print what came of them."""
    begun, counts = time.monotonic(), Counter[str]()
    vars(moves)["today"] = lambda: LAST
    for seed in range(histories):
        with tempfile.TemporaryDirectory() as folder:
            for fault, told in _history(Path(folder), seed).items():
                counts[fault] += 1
                print(f"history {seed}: {fault}: {told}", flush=True)
    print(f"in {time.monotonic() - begun:.0f} s")
    kinds = ("wrong hours unnamed", "wrong hours after joining", "not whole", "lost")
    print(f"histories: {histories}; " + "; ".join(f"{kind}: {counts[kind]}" for kind in kinds))
    return 1 if counts else 0


def _history(place: Path, seed: int) -> dict[str, str]:
    """One history; what was wrong with it, by the fault."""
    rng = random.Random(seed)
    one, other = place / "one", place / "other"
    _base(one)
    _git(one, "init", "-q", "-b", "main")
    (one / ".gitattributes").write_text("* text=auto eol=lf\n*.pdf binary\n" if seed % 2 else "* -text\n", "utf-8")
    _commit(one)
    _git(place, "clone", "-q", str(one), str(other))
    truth = Truth()
    for step in range(STEPS):
        deed = rng.choice([_run, _run, _run, _note, _move, _correct, _print, _sheet])
        where = rng.choice([(one,), (other,), (one, other)])
        own = rng.randrange(10**9)
        for turn, root in enumerate(where):
            with contextlib.suppress(Refused):
                deed(root, random.Random(own), f"{seed}-{step}", truth, turn == 0)
    if seed % 2:
        for path in (path for path in other.rglob("*.yaml") if rng.random() < 0.5):
            path.write_bytes(path.read_bytes().replace(b"\r\n", b"\n").replace(b"\n", b"\r\n"))
    for root in (one, other):
        _commit(root)
    _git(one, "pull", "-q", "--no-rebase", "--no-edit", str(other), "main")
    return _judged(one, truth)


def _judged(root: Path, truth: Truth) -> dict[str, str]:
    found: dict[str, str] = {}
    wrong = _wrong(root, truth)
    named = [p.name for engine in ENGINES for p in verify(root, engine).problems]
    if wrong and not {"said-twice", "sheet-twice"} & {*named}:
        found["wrong hours unnamed"] = f"{wrong}, named: {named}"
    for _ in range(4):
        said = _say(root, "join", "--on", LAST.isoformat(), "--twice", "strike", typed="1\n" * 4 + "y\n" * 40)
        if "Nothing was filed apart." in said:
            break
    if wrong := _wrong(root, truth):
        found["wrong hours after joining"] = f"{wrong}\n{said}"
    whole = _say(root, "verify")
    if ": every file is as it was written" not in whole:
        found["not whole"] = whole[-1500:]
    kept = "".join(path.read_text("utf-8") for path in root.glob("engines/*/log/*.yaml"))
    if gone := [note for note in sorted(truth.notes) if f"{note}." not in kept]:
        found["lost"] = ", ".join(gone)
    return found


def _wrong(root: Path, truth: Truth) -> str:
    folder = clubs.read(root)
    told = []
    for engine in ENGINES:
        record = folder.engines[engine]
        start = record.engine.hours.exactly("h") if record.engine.hours else Fraction(0)
        have, want = state_of(record, LAST).hours - start, Fraction(truth.minutes[engine], 60)
        told += [f"{engine} has {float(have):.2f} h and ran {float(want):.2f} h"] if have != want else []
    return "; ".join(told)


def _base(root: Path) -> None:
    clubs.fresh(root)
    engine = (root / "engines/8B/engine.yaml").read_text("utf-8")
    (root / "engines/9C").mkdir()
    (root / "engines/9C/engine.yaml").write_text(engine.replace("8B", "9C"), "utf-8")
    for engine_number in ENGINES:
        file_event(root, engine_number, {"event": "finding", "date": "2029-12-01", "finding": "As it came"})


def _day(rng: random.Random) -> str:
    return (FIRST + timedelta(days=rng.randrange(300))).isoformat()


def _run(root: Path, rng: random.Random, note: str, truth: Truth, first: bool) -> None:
    engine, minutes = rng.choice(ENGINES), rng.randrange(5, 90)
    event = {"event": "run", "date": _day(rng), "hours": f"{minutes} min", "by": root.name, "note": f"{note}."}
    file_event(root, engine, event)
    truth.notes.add(note)
    truth.minutes[engine] += minutes if first else 0


def _note(root: Path, rng: random.Random, note: str, truth: Truth, first: bool) -> None:
    event = {"event": "finding", "date": _day(rng), "finding": f"Found {note}.", "by": root.name}
    file_event(root, rng.choice(ENGINES), event)
    truth.notes.add(note)


def _move(root: Path, rng: random.Random, note: str, truth: Truth, first: bool) -> None:
    where = rng.choice((*ENGINES, "shelf"))
    _say(root, "move", "R-1", where, "--part", "rotor", "--on", LAST.isoformat(), "--yes")


def _correct(root: Path, rng: random.Random, note: str, truth: Truth, first: bool) -> None:
    """Running entered for the wrong engine, struck out at once: nothing ran."""
    engine = rng.choice(ENGINES)
    event = {"event": "run", "date": _day(rng), "hours": f"{rng.randrange(100, 200)} min", "by": root.name}
    filed = file_event(root, engine, event)
    held = next(h for h in clubs.read(root).engines[engine].log.held if h.entry.digest == filed.digest)
    file_event(root, engine, corrected(held, None, f"Wrong engine {note}.", LAST))
    truth.notes.add(note)


def _print(root: Path, rng: random.Random, note: str, truth: Truth, first: bool) -> None:
    folder, engine = clubs.read(root), rng.choice(ENGINES)
    job = resolve(folder, folder.engines[engine], folder.procedures["rotor-service"], LAST)
    issue(root / "engines" / engine / "issued", job)


def _sheet(root: Path, rng: random.Random, note: str, truth: Truth, first: bool) -> None:
    event = {"event": "service", "date": _day(rng), "procedure": "rotor-service", "revision": "3", "by": root.name,
             "issue": f"{rng.randrange(16**12):012x}" + "0" * 52, "remarks": [f"Filed {note}."]}  # fmt: skip
    with alone(root):
        file_service(root, rng.choice(ENGINES), event)
    truth.notes.add(note)


def _say(root: Path, *words: str, typed: str = "") -> str:
    return CliRunner().invoke(docgen, ["--club", str(root), *words], input=typed, catch_exceptions=False).output


def _git(folder: Path, *words: str) -> None:
    subprocess.run(["git", *words], cwd=folder, check=True, capture_output=True, env=NOBODY)


def _commit(root: Path) -> None:
    shutil.rmtree(root / "out", ignore_errors=True)
    _git(root, "add", "-A")
    _git(root, "commit", "-q", "--allow-empty", "-m", "Filed")


if __name__ == "__main__":
    sys.exit(main(*(int(word) for word in sys.argv[1:2])))
