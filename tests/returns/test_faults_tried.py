"""The trials with failing calls, power cuts and two clones, in short; and proof that each would see what goes wrong."""

from __future__ import annotations

import re
import subprocess
import sys
from pathlib import Path

import pytest

from benchmarks.faults.injecting import compiler
from tests.shares import share

ROOT = Path(__file__).resolve().parents[2]
SABOTAGED = "import runpy, sys\n{fault}\nsys.argv[1:] = {words!r}\nrunpy.run_module({module!r}, run_name='__main__')\n"


def tried(module: str, *words: str, fault: str = "") -> tuple[int, str]:
    """How a trial ends, in a process of its own, and its last line."""
    call = SABOTAGED.format(fault=fault, words=list(words), module=module)
    done = subprocess.run([sys.executable, "-c", call], cwd=ROOT, capture_output=True, text=True, timeout=600)
    assert "Traceback" not in done.stderr, done.stderr
    return done.returncode, done.stdout.splitlines()[-1]


@pytest.mark.skipif(compiler() is None or sys.platform != "linux", reason="no C compiler, or no LD_PRELOAD")
def test_whatever_call_fails_the_command_tells_the_truth() -> None:
    code, last = tried("benchmarks.command_faults", "note keeper", "move", str(calls := share(6, 30)))
    found = re.fullmatch(r"calls: (\d+); commands: (\d+); lost: 0; doubled: 0; half-written: 0; wrong exit: 0; "
                         r"left behind unnamed: 0", last)  # fmt: skip
    assert (code, found and found.groups()) == (0, (str(calls), "2")), last


def test_after_a_power_cut_every_file_is_as_before_or_as_after() -> None:
    code, last = tried("benchmarks.power_cut", "ran", "move", "release", "receive")
    found = re.fullmatch(r"moments: (\d+); disks: (\d+); neither before nor after: 0", last)
    assert (code, found is not None and int(found[2]) > 150) == (0, True), last


UNFLUSHED = """
import os, stat
import docgen.club.store as store
store.os = type('os', (), {**{name: getattr(os, name) for name in dir(os)}, 'fsync': staticmethod(lambda h: os.fsync(h)
    if stat.S_ISDIR(os.fstat(h).st_mode) else None)})
"""
IN_PLACE = """
import docgen.desk.proofing as release
from docgen.club import store
def replace(path, data):
    temporary = path.with_name('.tmp-0')
    temporary.write_bytes(data)
    temporary.replace(path)
    return ''
release.replace = replace
"""


@pytest.mark.parametrize(("fault", "command"), [(UNFLUSHED, "ran"), (IN_PLACE, "release")])
def test_a_file_that_is_not_flushed_would_be_found_out(fault: str, command: str) -> None:
    code, last = tried("benchmarks.power_cut", command, fault=fault)
    found = re.fullmatch(r"moments: \d+; disks: \d+; neither before nor after: (\d+)", last)
    assert (code, found is not None and int(found[1]) > 0) == (1, True), last


def test_two_clones_are_joined_to_the_truth() -> None:
    many = share(2, 4)
    code, last = tried("benchmarks.two_clones", str(many))
    assert (code, last) == (
        0, f"histories: {many}; wrong hours unnamed: 0; wrong hours after joining: 0; not whole: 0; lost: 0",
    )  # fmt: skip


def test_running_that_counts_twice_would_be_found_out() -> None:
    fault = "import docgen.returns.branches as d; d._key = lambda held: None"
    code, last = tried("benchmarks.two_clones", "6", fault=fault)
    found = re.search(r"wrong hours unnamed: (\d+); wrong hours after joining: (\d+)", last)
    assert (code, found is not None and int(found[1]) > 0 and int(found[2]) > 0) == (1, True), last
