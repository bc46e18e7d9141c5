"""How much of a test that takes its chances is done: a part of it in every run, all of it by `./run bench`.

`benchmarks/random_tests.py` runs every test that asks here, whole. What is left out of an everyday run is repetition,
more random examples or more points of the same kind; every kind is in both.
"""

from __future__ import annotations

import os

WHOLE = "DOCGEN_TESTS_WHOLE" in os.environ


def share(part: int, whole: int) -> int:
    """A number for an everyday run, and the one for the benchmark."""
    assert 0 < part != whole
    return whole if WHOLE else part
