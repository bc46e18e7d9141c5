"""Readings against limits."""

from __future__ import annotations

import math
from decimal import Decimal

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from docgen.trade.errors import TradeError
from docgen.trade.limits import (
    DERIVATIONS,
    Reading,
    Verdict,
    accept_between,
    bore_form,
    derive,
    gauge_fitness,
    judge,
)
from docgen.trade.quantity import Band, Quantity, QuantityError, parse_band, parse_quantity

MM = st.decimals(Decimal("0.01"), Decimal(99), places=3)


def reading(text: str, uncertainty: str = "") -> Reading:
    return Reading(parse_quantity(text), parse_quantity(uncertainty) if uncertainty else None)


def said(found: Reading) -> tuple[str, str]:
    return (str(found.value), str(found.uncertainty))


# --- derived readings -------------------------------------------------------------------------------------------------


def test_derived_readings_and_their_uncertainty() -> None:
    bore, piston = reading("54.11 mm", "0.003 mm"), reading("53995 um", "4 um")
    three = [reading("1.00 mm", "0.02 mm"), reading("1.05 mm", "0.01 mm"), reading("1.02 mm", "0.01 mm")]
    assert said(derive("difference", [bore, piston])) == ("0.115 mm", "0.0050 mm")
    assert said(derive("mean", three)) == ("1.023 mm", "0.020 mm")
    assert said(derive("smallest", three)) == ("1.00 mm", "0.020 mm")
    assert said(derive("largest", three)) == ("1.05 mm", "0.020 mm")
    assert said(derive("spread", three)) == ("0.05 mm", "0.029 mm")
    assert said(derive("difference", [bore, reading("53.995 mm")])) == ("0.115 mm", "None")
    assert set(DERIVATIONS) == {"difference", "mean", "smallest", "largest", "spread"}


@pytest.mark.parametrize(
    ("kind", "readings", "name", "message"),
    [
        ("ratio", ["1 mm"], "unknown-derivation", '"ratio" is not a derivation'),
        ("difference", ["1 mm"], "wrong-number-of-readings", "difference needs two readings; there are 1"),
        ("mean", [], "wrong-number-of-readings", "mean needs at least one reading; there are 0"),
        (
            "difference",
            ["1 mm", "1 h"],
            "wrong-dimension",
            '"h" is a unit of time and "mm" of length: they cannot be converted',
        ),
    ],
)
def test_what_cannot_be_derived(kind: str, readings: list[str], name: str, message: str) -> None:
    with pytest.raises(TradeError) as caught:
        derive(kind, [reading(text) for text in readings])
    assert (caught.value.name, caught.value.message) == (name, message)


def test_the_form_of_a_bore_from_six_readings() -> None:
    found = bore_form(
        [
            (reading("54.12 mm", "0.003 mm"), reading("54.09 mm", "0.003 mm")),
            (reading("54.10 mm", "0.003 mm"), reading("54.08 mm", "0.003 mm")),
            (reading("54.08 mm", "0.003 mm"), reading("54.08 mm", "0.003 mm")),
        ]
    )
    assert said(found.taper) == ("0.04 mm", "0.0043 mm")
    assert said(found.ovality) == ("0.03 mm", "0.0043 mm")
    assert said(found.mean) == ("54.092 mm", "0.0030 mm")
    assert (str(found.largest.value), str(found.smallest.value)) == ("54.12 mm", "54.08 mm")
    with pytest.raises(TradeError, match="taper needs two heights at least; there are 1"):
        bore_form([(reading("54 mm"), reading("54 mm"))])


@given(values=st.lists(MM, min_size=1, max_size=6))
def test_the_mean_lies_between_smallest_and_largest(values: list[Decimal]) -> None:
    readings = [Reading(Quantity(value, "mm")) for value in values]
    smallest, mean, largest = (derive(kind, readings).value.value for kind in ("smallest", "mean", "largest"))
    assert smallest <= mean <= largest
    assert derive("spread", readings).value.value == largest - smallest
    assert float(mean) == pytest.approx(math.fsum(map(float, values)) / len(values), abs=5e-4)


# --- the decision -----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "verdict", "says"),
    [
        ("20.034 mm", Verdict.ACCEPT, "20.034 mm is within <= 20.05 mm"),
        ("20.035 mm", Verdict.ACCEPT, "20.035 mm is within <= 20.05 mm"),
        ("20.036 mm", Verdict.UNDECIDED, "20.036 mm is too near <= 20.05 mm for the gauge (0.015 mm)"),
        ("20.050 mm", Verdict.UNDECIDED, "20.050 mm is too near <= 20.05 mm for the gauge (0.015 mm)"),
        ("20.065 mm", Verdict.UNDECIDED, "20.065 mm is too near <= 20.05 mm for the gauge (0.015 mm)"),
        ("20.066 mm", Verdict.REJECT, "20.066 mm is outside <= 20.05 mm"),
    ],
)
def test_the_guard_band_on_both_sides_of_the_limit(text: str, verdict: Verdict, says: str) -> None:
    found = judge(reading(text, "0.015 mm"), parse_band("<= 20.05 mm"))
    assert (found.verdict, found.within_new, found.says) == (verdict, None, says)


def test_new_range_and_service_limit() -> None:
    new, allow = parse_band("0.6..1.0 mm"), parse_band("0.6..1.4 mm")
    found = [judge(reading(text, "0.02 mm"), allow, new) for text in ("0.80 mm", "1.20 mm", "1.39 mm", "0.50 mm")]
    assert [(each.verdict.value, each.within_new) for each in found] == [
        ("accept", True),
        ("accept", False),
        ("undecided", False),
        ("reject", False),
    ]


def test_an_unknown_gauge_is_said() -> None:
    found = judge(reading("1.40 mm"), parse_band("0.6..1.4 mm"))
    assert found.verdict is Verdict.ACCEPT
    assert found.says == "1.40 mm is within 0.6..1.4 mm; uncertainty of the gauge not known"
    assert judge(reading("1.41 mm"), parse_band("0.6..1.4 mm")).verdict is Verdict.REJECT
    with pytest.raises(TradeError, match="an uncertainty of -0.01 mm is less than nothing"):
        reading("1 mm", "-0.01 mm")
    with pytest.raises(QuantityError, match='"h" is a unit of time'):
        judge(reading("1 h"), parse_band("0.6..1.4 mm"))


def test_figures_to_accept_between() -> None:
    clutch = parse_band("0.6..1.4 mm")
    assert str(accept_between(clutch)) == "0.6..1.4 mm"
    assert str(accept_between(clutch, parse_quantity("20 um"))) == "0.62..1.38 mm"
    assert str(accept_between(clutch, parse_quantity("0.012 mm"), parse_quantity("0.01 mm"))) == "0.62..1.38 mm"
    assert str(accept_between(parse_band(">= 5 mm"), parse_quantity("0.05 mm"))) == ">= 5.05 mm"
    with pytest.raises(TradeError) as caught:
        accept_between(parse_band("0.50..0.53 mm"), parse_quantity("0.02 mm"), parse_quantity("0.01 mm"))
    assert caught.value.name == "gauge-too-coarse"
    assert caught.value.message == "a gauge of 0.02 mm and 0.01 mm cannot decide 0.50..0.53 mm"
    with pytest.raises(TradeError, match="a gauge cannot show steps of 0 mm"):
        accept_between(clutch, None, parse_quantity("0 mm"))


def test_whether_a_gauge_will_do() -> None:
    tight = parse_band("0.50..0.60 mm")
    found = [gauge_fitness(tight, parse_quantity(text)) for text in ("0.01 mm", "0.03 mm", "0.05 mm", "0.06 mm")]
    assert [(each.decides, each.share, each.says) for each in found] == [
        (True, 0.2, ""),
        (True, 0.6, "the gauge's 0.03 mm takes 60 % of 0.50..0.60 mm"),
        (True, 1.0, "the gauge's 0.05 mm takes 100 % of 0.50..0.60 mm"),
        (False, None, "a gauge of 0.06 mm cannot decide 0.50..0.60 mm"),
    ]
    assert gauge_fitness(parse_band("<= 0.10 mm"), parse_quantity("0.05 mm")).share is None


@given(low=MM, width=st.decimals(0, 5, places=3), u=st.decimals(0, 1, places=3), value=MM)
def test_the_printed_band_and_the_verdict_agree(low: Decimal, width: Decimal, u: Decimal, value: Decimal) -> None:
    allow, gauge = Band(low, low + width, "mm"), Quantity(u, "mm")
    found = judge(Reading(Quantity(value, "mm"), gauge), allow)
    if not gauge_fitness(allow, gauge).decides:
        with pytest.raises(TradeError, match="gauge-too-coarse"):
            accept_between(allow, gauge)
        assert found.verdict is not Verdict.ACCEPT
        return
    band = accept_between(allow, gauge)
    assert band.contains(Quantity(value, "mm")) == (found.verdict is Verdict.ACCEPT)
    if found.verdict is Verdict.REJECT:
        assert not allow.contains(Quantity(value, "mm"))


@given(value=MM, u=st.decimals(0, 1, places=3), limit=MM)
def test_the_verdict_does_not_depend_on_the_unit(value: Decimal, u: Decimal, limit: Decimal) -> None:
    in_mm = judge(Reading(Quantity(value, "mm"), Quantity(u, "mm")), Band(None, limit, "mm"))
    in_um = judge(Reading(Quantity(value, "mm").to("um"), Quantity(u, "mm").to("cm")), Band(None, limit, "mm").to("m"))
    assert in_mm.verdict == in_um.verdict


@given(value=MM, limit=MM, coarse=st.decimals(0, 1, places=3), share=st.decimals(0, 1, places=2))
def test_a_finer_gauge_only_ever_decides_more(value: Decimal, limit: Decimal, coarse: Decimal, share: Decimal) -> None:
    one = judge(Reading(Quantity(value, "mm"), Quantity(coarse, "mm")), Band(None, limit, "mm")).verdict
    two = judge(Reading(Quantity(value, "mm"), Quantity(coarse * share, "mm")), Band(None, limit, "mm")).verdict
    assume(one is not Verdict.UNDECIDED)
    assert one == two
