"""How a fact of the trade is looked for on a printed sheet."""

from __future__ import annotations

import re

from tests.demo.conftest import Text

ALDER, HAZEL, LARCH = "004", "021", "031"
PRACTICE, MODEL = "common practice, no source", "a figure of the invented model"

Fact = tuple[str, str, str, tuple[str, ...]]
"""Engine, job, where it stands, and patterns in the order in which they stand in the reading."""


def stands(text: Text, fact: str, row: Fact) -> None:
    """Every pattern stands in the reading behind the one before it."""
    engine, procedure, standing, patterns = row
    assert standing
    assert patterns
    sheet, at = text(engine, procedure, "reading"), 0
    for pattern in patterns:
        found = re.search(pattern, sheet[at:])
        assert found, f"{fact} ({standing}): /{pattern}/ is not in the reading of {procedure} behind character {at}"
        at += found.end()


def absent(text: Text, fact: str, row: Fact) -> None:
    """None of the patterns stands in the reading, which is there."""
    engine, procedure, standing, patterns = row
    sheet = text(engine, procedure, "reading", False)
    assert standing
    assert patterns
    assert len(sheet) > 2000
    for pattern in patterns:
        found = re.search(pattern, sheet)
        assert found is None, f"{fact} ({standing}): /{pattern}/ is in the reading of {procedure}"
