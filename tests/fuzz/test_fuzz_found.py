"""The readers on what fuzzing found once, and on what it starts from; the fuzzing itself is tests/fuzz/fuzz.py."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from tests.fuzz.found import FOUND
from tests.fuzz.targets import TARGETS


@pytest.mark.parametrize("what", FOUND)
def test_what_was_found_once_is_mended(what: str) -> None:
    target, data = FOUND[what]
    TARGETS[target].reader(data)


@pytest.mark.parametrize("name", TARGETS)
def test_each_reader_takes_its_seeds(name: str) -> None:
    seeds = TARGETS[name].seeds()
    assert len(seeds) >= 2
    for seed in seeds:
        assert len(seed) <= TARGETS[name].longest
        TARGETS[name].reader(seed)


def test_the_script_says_what_it_takes() -> None:
    """It must not need its fuzzer for that: atheris is no part of the setup."""
    script = Path(__file__).with_name("fuzz.py")
    done = subprocess.run([sys.executable, script, "--help"], capture_output=True, text=True, check=True)
    assert all(name in done.stdout for name in TARGETS)
