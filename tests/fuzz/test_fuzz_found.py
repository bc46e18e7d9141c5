"""The readers on what fuzzing found once, and on what it starts from; the fuzzing itself is tests/fuzz/fuzz.py."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from docgen.returns.diagnostic import Refused
from docgen.returns.sandbox import Reader
from tests.fuzz.found import BREAKS_QPDF, FOUND
from tests.fuzz.targets import TARGETS
from tests.returns.papers import saved


@pytest.mark.parametrize("what", FOUND)
def test_what_was_found_once_is_mended(what: str) -> None:
    target, data = FOUND[what]
    TARGETS[target].reader(data)


def test_what_ends_the_library_ends_no_command() -> None:
    """Found by fuzzing; the fault is the library's, so it is the process of its own that keeps it from doing harm."""
    with Reader() as reader:
        for _ in range(2):
            with pytest.raises(Refused) as caught:
                reader.form(BREAKS_QPDF)
            assert str(caught.value) == (
                "unreadable-pdf: the file broke the part of the program that reads PDFs:"
                " it is damaged, or made to do that\n"
                "  to mend: no sheet of ours does that: look whether this is one"
            )
        assert reader.form(saved(lambda pdf: None)).fields == {}


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
