"""Readings judged by what the sheet printed: the limit, and what to accept."""

from __future__ import annotations

import pytest

from docgen.job.marks import ReadingMark, Value
from docgen.job.words import JobWords
from docgen.returns.measured import judge
from docgen.trade.quantity import parse_quantity


def mark(allow: str, accept: str, unit: str = "mm") -> ReadingMark:
    return ReadingMark(
        key="measure-x", limit="x", name="x", unit=unit, allow=Value(text=allow, origin="model"), accept=accept
    )


@pytest.mark.parametrize(
    ("allow", "accept", "readings"),
    [
        # A washer thicker than the range of new ones by the gauge's error is as new as the sheet says.
        ("1.85 to 2.00 mm", "at least 1.854 mm",
         {"1.998 mm": "accept", "2.003 mm": "accept", "1.854 mm": "accept", "1.852 mm": "undecided",
          "1.84 mm": "reject"}),
        ("74.00 to 74.30 mm", "at most 74.290 mm",
         {"74.005 mm": "accept", "74.295 mm": "undecided", "74.31 mm": "reject"}),
        ("0.60 to 1.40 mm", "0.600 to 1.390 mm", {"0.55 mm": "reject", "0.60 mm": "accept", "1.395 mm": "undecided"}),
        # The largest wire that passes is read.
        ("0.50 to 0.60 mm", "0.50 passes, 0.60 does not",
         {"0.50 mm": "accept", "0.55 mm": "accept", "0.60 mm": "undecided", "0.65 mm": "reject", "0.45 mm": "reject",
          "500 um": "accept"}),
        ("at least 12.5 V", "", {"12.5 V": "accept", "12.4 V": "reject", "1 mm": "None"}),
        ("", "at least 1 mm", {"2 mm": "None"}),
    ],
)  # fmt: skip
def test_verdicts(allow: str, accept: str, readings: dict[str, str]) -> None:
    found = {text: judge(mark(allow, accept), (parse_quantity(text),), JobWords()) for text in readings}
    assert {text: str(verdict) for text, verdict in found.items()} == readings


def test_of_several_places_the_worst_counts() -> None:
    washer, values = mark("1.85 to 2.00 mm", "at least 1.854 mm"), ("1.9 mm", "1.852 mm", "1.86 mm")
    assert str(judge(washer, tuple(map(parse_quantity, values)), JobWords())) == "undecided"


def test_wires_in_german() -> None:
    words = JobWords.speaking("de")
    gap = mark("0,50 bis 0,60 mm", words.go_no_go.format(go="0,50", stop="0,60"))
    found = [str(judge(gap, (parse_quantity(text),), words)) for text in ("0.50 mm", "0.60 mm", "0.61 mm")]
    assert found == ["accept", "undecided", "reject"]
