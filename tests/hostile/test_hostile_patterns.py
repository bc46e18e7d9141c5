"""No pattern of the program can be made slow: each is tried on texts made from its own parts."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import pytest

from tests.hostile.pumped import SLOW, slowest

ROOT = Path(__file__).resolve().parents[2]


def test_every_pattern_is_fast_on_texts_made_to_slow_it() -> None:
    command = [sys.executable, "-m", "tests.hostile.pumped"]
    done = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, timeout=300)
    rows = [json.loads(line) for line in done.stdout.splitlines()]
    assert done.returncode == 0, (done.stderr, rows[-1:])
    tried = list(zip(rows[::2], rows[1::2], strict=True))
    assert len(tried) > 90
    assert [(pattern, spent) for pattern, spent in tried if spent[0] > SLOW] == []


@pytest.mark.parametrize(
    ("pattern", "way"),
    [
        (r"(a+)+b", "fullmatch"),
        (r"\s*\s*\s*x", "search"),
    ],
)
def test_the_trial_finds_patterns_that_blow_up(pattern: str, way: str) -> None:
    code = f"from tests.hostile.pumped import slowest; print(slowest({pattern!r}, {way!r}, 0.3)[0])"
    limited = f"import resource; resource.setrlimit(resource.RLIMIT_CPU, (1, 1)); {code}"
    done = subprocess.run([sys.executable, "-c", limited], cwd=ROOT, capture_output=True, text=True, timeout=60)
    assert done.returncode < 0 or float(done.stdout) > 0.3, "neither slow nor ended by the kernel"


def test_the_trial_lets_good_patterns_be() -> None:
    assert slowest(r"[a-z0-9]+(?:-[a-z0-9]+)*", "fullmatch")[0] < SLOW
