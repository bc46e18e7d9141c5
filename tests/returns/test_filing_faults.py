"""Kills at every point of a filing, in short; and proof that the counting would see what goes wrong."""

from __future__ import annotations

import re
import subprocess
import sys
from pathlib import Path

import pytest

from tests.shares import share

ROOT = Path(__file__).resolve().parents[2]


def run(words: str) -> list[str]:
    """The lines that the trial prints. It forks, so it has a process of its own, without threads."""
    done = subprocess.run([sys.executable, "-c", words], cwd=ROOT, capture_output=True, text=True, timeout=300)
    assert "Traceback" not in done.stderr, done.stderr
    return done.stdout.splitlines()


def test_killed_at_every_point_nothing_is_lost() -> None:
    """Every seventh point of a sheet's filing and of a move, and a crowd: all of them in the benchmark."""
    step, least = share(7, 1), share(22, 110)
    lines = run(f"from benchmarks.filing_faults import main; print(main({least}, ('sheet', 'move'), {step}))")
    points = [re.fullmatch(r"(sheet|move): killed at (\d+) points", line) for line in lines[:2]]
    assert [int(found[2]) * step >= few for found, few in zip(points, (25, 50), strict=True) if found] == [True, True]
    *_, last, code = lines
    assert code == "0"
    kills = re.fullmatch(
        r"kills: (\d+); lost: 0; half-written: 0; doubled: 0; broken histories: 0; pictures apart: 0", last
    )
    assert kills is not None, last
    assert int(kills[1]) >= least


def test_killed_while_filing_with_pictures_no_event_lacks_one_and_none_is_left_alone() -> None:
    """Every thirteenth point here; all of them in the benchmark."""
    step = share(13, 1)
    kills, last = run(f"STEP = {step}\n{TRIED}")
    assert int(kills) * step >= 80
    assert last == f"kills: {kills}; lost: 0; half-written: 0; doubled: 0; broken histories: 0; pictures apart: 0"


TRIED = """
import tempfile
from pathlib import Path
from benchmarks.faults import points
from benchmarks.faults.counting import Tally
tally = Tally()
with tempfile.TemporaryDirectory() as folder:
    print(*(kills for _, kills in points.each_point(Path(folder), tally, ("photographs",), step=STEP)))
print(tally)
"""
SABOTAGE = {
    "half_written": """
import docgen.returns.filing as filing
def write_once(path, data):
    path.parent.mkdir(parents=True, exist_ok=True)
    with path.open("xb", buffering=0) as file:
        file.write(data[:40])
        file.write(data[40:])
filing.write_once = write_once
""",
    "doubled": """
import benchmarks.faults.points as points
points.running_in = lambda log, run: None
""",
    "lost": """
import docgen.returns.filing as filing
filing.write_once = lambda path, data: None
""",
    "broken": """
import docgen.returns.filing as filing
from docgen.club.log import Log
whole_log = filing.whole_log
def forgetful(root, number):
    log = whole_log(root, number)
    return Log(log.entries[:-1] if len(log.entries) > 1 else log.entries)
filing.whole_log = forgetful
""",
    "apart": """
import docgen.desk.filing as filing
keep = filing.keep
filing.keep = lambda root, number, data, ending: keep(root / "elsewhere", number, data, ending)
""",
}
TRIAL = """
import tempfile
from pathlib import Path
from benchmarks.faults import points
from benchmarks.faults.counting import Tally
exec(compile(SABOTAGE, "docgen/club/store.py", "exec"))
tally = Tally()
look = points._look
def look_until_something_is_wrong(*words, **more):
    look(*words, **more)
    if not tally.clean:
        raise RuntimeError
points._look = look_until_something_is_wrong
with tempfile.TemporaryDirectory() as folder:
    try:
        list(points.each_point(Path(folder), tally, (KIND,)))
    except RuntimeError:
        pass
print([fault for fault in ("lost", "half_written", "doubled", "broken", "apart") if getattr(tally, fault)])
"""


@pytest.mark.parametrize("fault", SABOTAGE)
def test_a_store_with_this_fault_would_be_found_out(fault: str) -> None:
    kind = "photographs" if fault == "apart" else "run"
    found = run(f"SABOTAGE, KIND = {SABOTAGE[fault]!r}, {kind!r}\n{TRIAL}")
    assert f"'{fault}'" in found[-1]
