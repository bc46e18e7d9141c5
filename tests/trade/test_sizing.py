"""What a measured clearance asks for, worked by hand: sizes of 2.00 to 3.00 mm in steps of 0.05 mm."""

from __future__ import annotations

import pytest

from docgen.trade.errors import TradeError
from docgen.trade.quantity import parse_band, parse_quantity
from docgen.trade.sizing import Thicker, choose

SIZES, STEP, WANTED = parse_band("2.00..3.00 mm"), parse_quantity("0.05 mm"), parse_band("0.10..0.16 mm")


@pytest.mark.parametrize(
    ("old", "measured", "thicker", "asked"),
    [
        ("2.50 mm", "0.13 mm", "less", "2.50 mm"),
        ("2.50 mm", "0.22 mm", "less", "2.60 mm"),
        ("2.50 mm", "0.05 mm", "less", "2.40 mm"),
        ("2.50 mm", "0.05 mm", "more", "2.60 mm"),
        ("2.50 mm", "220 um", "less", "2.60 mm"),
    ],
)
def test_the_nearest_size_that_there_is(old: str, measured: str, thicker: Thicker, asked: str) -> None:
    found = choose(parse_quantity(old), parse_quantity(measured), WANTED, SIZES, STEP, thicker)
    assert found == parse_quantity(asked)


@pytest.mark.parametrize(
    ("old", "measured", "sizes", "step"),
    [
        ("2.95 mm", "0.30 mm", "2.00..3.00 mm", "0.05 mm"),
        ("2.50 mm", "0.23 mm", "2.00..3.00 mm", "0.5 mm"),
        ("2.50 mm", "0.23 mm", ">= 2.00 mm", "0.05 mm"),
    ],
)
def test_where_no_size_gives_what_is_wanted_none_is_named(old: str, measured: str, sizes: str, step: str) -> None:
    with pytest.raises(TradeError) as error:
        choose(parse_quantity(old), parse_quantity(measured), WANTED, parse_band(sizes), parse_quantity(step))
    assert error.value.name == "no-such-size"
