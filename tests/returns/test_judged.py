"""Readings judged by what the sheet printed: the limit, and what to accept."""

from __future__ import annotations

import pytest

from docgen.job.figure import Figure
from docgen.job.marks import ReadingMark
from docgen.returns.measurements import judge
from docgen.trade.quantity import parse_quantity


def mark(allow: str, accept: str, unit: str = "mm") -> ReadingMark:
    figure = {"band": allow, "origin": "model"} if allow else {"origin": "blank"}
    go, _, stop = accept.partition(" passes, ")
    wires = {"go": go, "stop": stop.removesuffix(" does not")}
    return ReadingMark(
        key="measure-x", limit="x", name="x", unit=unit, allow=Figure.model_validate(figure),
        accept=wires if stop else accept or None,  # type: ignore[arg-type]
    )  # fmt: skip


@pytest.mark.parametrize(
    ("allow", "accept", "readings"),
    [
        # A washer thicker than the range of new ones by the gauge's error is as new as the sheet says.
        ("1.85..2.00 mm", ">= 1.854 mm",
         {"1.998 mm": "accept", "2.003 mm": "accept", "1.854 mm": "accept", "1.852 mm": "undecided",
          "1.84 mm": "reject"}),
        ("74.00..74.30 mm", "<= 74.290 mm",
         {"74.005 mm": "accept", "74.295 mm": "undecided", "74.31 mm": "reject"}),
        ("0.60..1.40 mm", "0.600..1.390 mm", {"0.55 mm": "reject", "0.60 mm": "accept", "1.395 mm": "undecided"}),
        # The largest wire that passes is read.
        ("0.50..0.60 mm", "0.50 mm passes, 0.60 mm does not",
         {"0.50 mm": "accept", "0.55 mm": "accept", "0.60 mm": "undecided", "0.65 mm": "reject", "0.45 mm": "reject",
          "500 um": "accept"}),
        (">= 12.5 V", "", {"12.5 V": "accept", "12.4 V": "reject", "1 mm": "None"}),
        ("", ">= 1 mm", {"2 mm": "None"}),
    ],
)  # fmt: skip
def test_verdicts(allow: str, accept: str, readings: dict[str, str]) -> None:
    found = {text: judge(mark(allow, accept), (parse_quantity(text),)) for text in readings}
    assert {text: str(verdict) for text, verdict in found.items()} == readings


def test_of_several_places_the_worst_counts() -> None:
    washer, values = mark("1.85..2.00 mm", ">= 1.854 mm"), ("1.9 mm", "1.852 mm", "1.86 mm")
    assert str(judge(washer, tuple(map(parse_quantity, values)))) == "undecided"
