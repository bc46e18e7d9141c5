"""Figures in German: written with a comma, read back as they were written, and the trade's sentences with them."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from docgen.club.schema.model import Boss, Fastener
from docgen.club.words import Words
from docgen.job import wording
from docgen.job.estimates import estimated
from docgen.job.frozen_before import Printed
from docgen.job.tradewords import of_trade
from docgen.sheets.figures import HARD, figure, thread
from docgen.trade import limits
from docgen.trade.errors import TradeError
from docgen.trade.quantity import Band, Quantity, parse_band, parse_quantity
from docgen.trade.tables import read_table
from docgen.trade.units import units

DE = Words.speaking("de")


@pytest.mark.parametrize(
    ("written", "printed"),
    [
        ("34 N.m +/- 10 %", "34 N·m ± 10 %"),
        ("10.5 N.m +/- 0.5 N.m", "10,5 N·m ± 0,5 N·m"),
        ("0.50..0.60 mm", "0,50 bis 0,60 mm"),
        ("-1.6..-1.4 mm", "-1,6 bis -1,4 mm"),
        ("<= 0.10 mm", "höchstens 0,10 mm"),
        (">= 5 mm", "mindestens 5 mm"),
        ("1.25..1.75 turn", "1,25 bis 1,75 Umdrehungen"),
        ("5.2..6.4 kohm", "5,2 bis 6,4 kOhm"),
        ("12000 rpm", "12000 U/min"),
        ("180..270 deg", "180 bis 270 °"),
        ("18.5 mm", "18,5 mm"),
    ],
)
def test_a_band_in_german_and_back(written: str, printed: str) -> None:
    band = parse_band(written)
    assert wording.band(band, DE) == printed
    back = Printed(DE).band(printed)
    assert back is not None
    assert (back.low, back.high, back.unit) == (band.low, band.high, band.unit)


FIGURES = st.decimals("0.01", "9999", places=2, allow_nan=False, allow_infinity=False)


@given(FIGURES, FIGURES, st.sampled_from(sorted(set(units()) - {":1", "%"})), st.sampled_from(["en", "de"]))
def test_whatever_is_printed_is_read_back(one: Decimal, two: Decimal, unit: str, language: str) -> None:
    words = Words.speaking(language)
    low, high = sorted((one, two))
    for band in (Band(low, high, unit), Band(None, high, unit), Band(low, None, unit)):
        back = Printed(words).band(wording.band(band, words))
        assert back is not None
        assert (back.low, back.high, back.unit) == (band.low, band.high, band.unit)
    assert Printed(words).unit(wording.unit(unit, words)) == unit


def test_figures_in_type_keep_their_comma() -> None:
    words = Words.speaking("de")
    assert figure("0,50 bis 0,60 mm", words).replace(HARD, "_") == "0,50 bis 0,60_mm"
    assert figure("1,5 Umdrehungen", words).replace(HARD, "_") == "1,5_Umdrehungen"
    assert thread("M14x1.25", words) == "M14×1,25"
    assert thread("M10x1 left", words) == "M10×1 links"


def test_the_gauge_s_sentences() -> None:
    allow = parse_band("0.50..0.60 mm")
    takes = limits.gauge_fitness(allow, parse_quantity("0.03 mm")).says
    cannot = limits.gauge_fitness(allow, parse_quantity("0.30 mm")).says
    assert of_trade(takes, DE) == "die 0,03 mm des Messmittels nehmen 60 % von 0,50..0,60 mm ein"
    assert of_trade(cannot, DE) == "ein Messmittel mit 0,30 mm kann 0,50..0,60 mm nicht entscheiden"
    with pytest.raises(TradeError) as caught:
        limits.accept_between(allow, parse_quantity("0.30 mm"), Quantity(Decimal("0.05"), "mm"))
    said = of_trade(caught.value.message, DE)
    assert said == "ein Messmittel mit 0,30 mm und 0,05 mm kann 0,50..0,60 mm nicht entscheiden"
    assert of_trade(caught.value.hint, DE) == "mit einem feineren Messmittel messen"


@pytest.mark.parametrize("drive", ["hex 10 mm", "hex-socket 5 mm"])
@pytest.mark.parametrize("state", ["dry", "oiled", "threadlocker", "anti-seize"])
@pytest.mark.parametrize("boss", [None, "aluminium", "magnesium"])
@pytest.mark.parametrize("insert", [None, "1.5 d"])
def test_every_assumption_of_an_estimate(drive: str, state: str, boss: str | None, insert: str | None) -> None:
    """No English word of the assumptions is left."""
    made = Fastener.model_validate(
        {"thread": "M6x1", "class": "8.8", "drive": drive, "lubrication": state, "insert": insert if boss else None,
         "boss": Boss.model_validate({"material": boss, "engaged": "9.5 mm"}) if boss else None}
    )  # fmt: skip
    found = estimated(made)
    assert found is not None
    for text in found.assumptions:
        said = of_trade(text, DE)
        assert said != text
        assert not {"of", "in thread", "head", "class", "own", "hole", "engaged", "with"} & set(said.split())
        assert "klasse 8,8" not in said


def test_every_state_of_the_friction_table_is_known() -> None:
    says = {row["says"] for row in read_table("friction")}
    assert len(says) >= 4
    assert {text for text in says if of_trade(text, DE) == text} == set()
