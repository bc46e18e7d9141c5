"""A text that says otherwise than its step is told; a text that only says it in other words is not."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.proof.slips import after, names

OIL, VALVES, JETS = (f"procedures/{name}.yaml" for name in ("oil-change", "valve-clearance", "float-carburettor"))

SLIPS = [
    (OIL, "Tighten the drain plug.", "Tighten the drain plug to 24 N.m.", "figure-unlike-key"),
    (OIL, "Tighten the drain plug.", "Tighten the drain plug to 18 Nm (13 lbf.ft).", "figure-unlike-key"),
    (OIL, "run out until it only drips.", "run out for 15 minutes.", "figure-unlike-key"),
    (OIL, "slowly, as much as the cell says.", "0.8 litres of it.", "figure-unlike-key"),
    (OIL, "Undo the drain plug over the pan, and", "Undo the drain plug with the 19 mm socket, and",
     "figure-unlike-key"),
    (VALVES, "Measure the clearance of the inlet valve.", "Measure the clearance of the inlet valve, 0.15 to 0.21 mm.",
     "figure-unlike-key"),
    (VALVES, "Measure the clearance of the inlet valve.", "Measure the clearance of the inlet valve, at most 0.18 mm.",
     "figure-unlike-key"),
    (VALVES, "Measure the clearance of the inlet valve.", "Measure the clearance of the exhaust valve.",
     "text-names-another"),
    (VALVES, "Undo the pivot nut of the inlet rocker.", "Undo the pivot nut of the exhaust rocker.",
     "text-names-another"),
    (VALVES, "Put a film of paste on the inlet rocker where it pivots.",
     "Put a film of paste on the exhaust rocker where it pivots.", "text-names-another"),
    (VALVES, "Take the inlet rocker off, then the shim of the inlet valve.",
     "Take the exhaust rocker off, then the shim of the inlet valve.", "text-names-another"),
    (VALVES, "Lay the chosen shim of the inlet valve on, hollow side to the valve stem.",
     "Lay the chosen shim of the inlet valve on, hollow side to the rocker.", "way-round-unlike-text"),
    (VALVES, "Lay the chosen shim of the inlet valve on, hollow side to the valve stem.",
     "Lay the chosen shim of the inlet valve on, flat side to the valve stem.", "way-round-unlike-text"),
    (VALVES, "Undo the four screws", "Undo the six screws", "count-unlike-key"),
    (VALVES, "Start all four screws", "Start all three screws", "count-unlike-key"),
    (JETS, "Undo both carburettor nuts.", "Undo all three carburettor nuts.", "count-unlike-key"),
    (JETS, "rubber tip to the seat", "rubber tip to the float", "way-round-unlike-text"),
    (JETS, "Measure the height of the float.", "Measure the height of the float, 15 to 16 mm.", "figure-unlike-key"),
]  # fmt: skip
"""File, what stands there, what is written instead, and the rule that finds it."""

SAME = [
    (OIL, "Tighten the drain plug.", "Tighten the drain plug to 18 N.m."),
    (OIL, "run out until it only drips.", "run out for 5 minutes."),
    (OIL, "run out until it only drips.", "run out for five minutes."),
    (OIL, "slowly, as much as the cell says.", "600 ml of it."),
    (OIL, "slowly, as much as the cell says.", "0.58 to 0.62 l of it."),
    (OIL, "Undo the drain plug over the pan, and", "Undo the drain plug with the 17 mm socket, and"),
    (OIL, "Tighten the drain plug.", "Do the drain plug up."),
    (OIL, "Wipe dirt off around", "Wipe the grit away around"),
    (OIL, "and wipe the tiller dry.", "wet cloths too, and wipe the tiller dry."),
    (VALVES, "Measure the clearance of the inlet valve.", "Measure the clearance of the inlet valve, 0.10 to 0.16 mm."),
    (VALVES, "Measure the clearance of the inlet valve.", "Feel for the clearance at the inlet."),
    (VALVES, "Undo the four screws of the rocker cover, crosswise.", "Undo two opposite screws, then the other two."),
    (VALVES, "Put a film of paste on the inlet rocker", "Put a film of paste, 1 mm thick at most, on the inlet rocker"),
    (JETS, "Start both carburettor nuts by hand.", "Start the two carburettor nuts by hand."),
    (JETS, "Slide the carburettor on.", "Put the carburettor back onto its studs."),
    (JETS, "Take the carburettor off with its gasket.", "Lift the carburettor away together with its gasket."),
]
"""File, what stands there, and other words for the same."""


@pytest.mark.parametrize(("file", "old", "new", "rule"), SLIPS)
def test_a_text_that_says_otherwise_is_told(tmp_path: Path, file: str, old: str, new: str, rule: str) -> None:
    assert names(after(tmp_path, file, old, new)) == [rule]


@pytest.mark.parametrize(("file", "old", "new"), SAME)
def test_other_words_for_the_same_are_let_be(tmp_path: Path, file: str, old: str, new: str) -> None:
    assert after(tmp_path, file, old, new) == []
