"""The demo's sheets, kept with one engine's values and filled with random ones, are as they would be laid out.

Every sheet that is due is filled so by benchmarks/filled.py; here are a few of each kind.
"""

from __future__ import annotations

import random
from pathlib import Path

import pytest

from docgen.press.meta import Order
from docgen.press.orders import order
from docgen.press.workers import printed
from tests.demo.conftest import MAKERS, _club, _job
from tests.press.filled import another, differences, kept, with_values
from tests.shares import share

JOBS = [
    ("017", "clutch-service"),
    ("023", "reed-inspection"),
    ("042", "carburettor-service"),
    ("060", "clutch-service"),
][:: share(3, 1)]
WRAPPED = {("023", "reed-inspection", "sign-off"), ("042", "carburettor-service", "sign-off")}
"""Sheets with a value on two lines: readings of four places, a setting noted in words."""


def demo_order(engine: str, procedure: str, sheet: str) -> Order:
    club, job = _club().club, _job(engine, procedure)
    assert club is not None
    return order("test", MAKERS[sheet](job, club.value), job, club.value.club, forms=sheet == "sign-off")


@pytest.mark.parametrize("sheet", ["leaf", "sign-off"])
@pytest.mark.parametrize(("engine", "procedure"), JOBS)
def test_random_values_in_a_kept_sheet_are_as_laid_out(engine: str, procedure: str, sheet: str, tmp_path: Path) -> None:
    first = demo_order(engine, procedure, sheet)
    shelf = kept(first, tmp_path)
    chance = random.Random(f"{engine} {procedure} {sheet}")
    for _ in range(share(1, 3)):
        second = with_values(first, lambda text: another(text, chance))
        made = shelf.filled(second)
        if made is not None:
            assert differences(made.pdf, printed(second).pdf) == []
    third = shelf.filled(first)
    assert third is not None
    assert differences(third.pdf, printed(first).pdf) == []
    digits = with_values(first, lambda text: "".join(str(chance.randrange(10)) if c.isdigit() else c for c in text))
    made = shelf.filled(digits)
    assert (made is None) == ((engine, procedure, sheet) in WRAPPED), "figures line up: other digits need no other room"
    if made is not None:
        assert differences(made.pdf, printed(digits).pdf) == []


def test_engines_of_a_type_share_a_leaf(tmp_path: Path) -> None:
    """017 and 055 are of one type, and neither differs from it: one layout serves both."""
    first, second = (demo_order(engine, "clutch-service", "leaf") for engine in ("017", "055"))
    made = kept(first, tmp_path).filled(second)
    assert made is not None
    assert differences(made.pdf, printed(second).pdf) == []
