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
    decide,
    deciding,
    derive,
    gauge_fitness,
    go_no_go,
    tolerance,
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
    assert said(derive("spread", three)) == ("0.05 mm", "0.029 mm")
    assert said(derive("difference", [bore, reading("53.995 mm")])) == ("0.115 mm", "None")
    assert set(DERIVATIONS) == {"difference", "mean", "spread"}


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


@given(values=st.lists(MM, min_size=1, max_size=6))
def test_the_mean_lies_between_smallest_and_largest(values: list[Decimal]) -> None:
    readings = [Reading(Quantity(value, "mm")) for value in values]
    assert min(values) <= derive("mean", readings).value.value <= max(values)
    mean = derive("mean", readings).value.value
    assert derive("spread", readings).value.value == max(values) - min(values)
    assert float(mean) == pytest.approx(math.fsum(map(float, values)) / len(values), abs=5e-4)


# --- the decision -----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "verdict"),
    [
        ("20.034 mm", Verdict.ACCEPT),
        ("20.035 mm", Verdict.ACCEPT),
        ("20.036 mm", Verdict.UNDECIDED),
        ("20.050 mm", Verdict.UNDECIDED),
        ("20.051 mm", Verdict.REJECT),
        ("20051 um", Verdict.REJECT),
    ],
)
def test_the_guard_band_before_the_limit(text: str, verdict: Verdict) -> None:
    limit, value = parse_band("<= 20.05 mm"), parse_quantity(text)
    accept = accept_between(limit, parse_quantity("0.015 mm"))
    assert decide(value, limit, accept.contains(value)) is verdict


def test_without_figures_to_accept_the_limit_decides() -> None:
    limit = parse_band("0.6..1.4 mm")
    assert [decide(parse_quantity(text), limit) for text in ("1.40 mm", "1.41 mm")] == [Verdict.ACCEPT, Verdict.REJECT]
    with pytest.raises(TradeError, match="an uncertainty of -0.01 mm is less than nothing"):
        reading("1 mm", "-0.01 mm")
    with pytest.raises(QuantityError, match='"h" is a unit of time'):
        decide(parse_quantity("1 h"), limit)


@pytest.mark.parametrize(
    ("new", "allow", "wears", "fit", "decides"),
    [
        # The washer and the drum: the other end is that of new parts, and no wear leads there.
        ("1.95..2.00 mm", "1.85..2.00 mm", "down", False, ">= 1.85 mm"),
        ("74.00..74.10 mm", "74.00..74.30 mm", "up", False, "<= 74.30 mm"),
        # A ring's least gap lies beyond new rings, and a clearance tells of two parts: both ends decide.
        ("0.20..0.35 mm", "0.15..0.60 mm", "up", False, "0.15..0.60 mm"),
        ("0.60..1.00 mm", "0.60..1.40 mm", "up", True, "0.60..1.40 mm"),
        # What does not wear has two ends; what has one keeps it; in another unit it is the same.
        ("0.85..1.00 mm", "0.80..1.00 mm", None, False, "0.80..1.00 mm"),
        ("50.400..50.410 mm", "<= 50.450 mm", "up", False, "<= 50.450 mm"),
        ("1950..2000 um", "1.85..2.00 mm", "down", False, ">= 1.85 mm"),
    ],
)
def test_the_limit_that_decides(new: str, allow: str, wears: str | None, fit: bool, decides: str) -> None:
    assert str(deciding(parse_band(allow), parse_band(new), wears, fit=fit)) == decides
    assert str(deciding(parse_band(allow), None, wears, fit=fit)) == allow


@pytest.mark.parametrize(
    ("allow", "new", "gauge", "step", "accept"),
    [
        # Washer, drum and hub new from the shelf, at the very end of their range, are accepted.
        (">= 1.85 mm", "1.95..2.00 mm", "0.004 mm", "0.001 mm", ">= 1.854 mm"),
        ("<= 74.30 mm", "74.00..74.10 mm", "0.006 mm", "0.005 mm", "<= 74.290 mm"),
        (">= 72.90 mm", "73.10..73.40 mm", "0.004 mm", "0.001 mm", ">= 72.904 mm"),
        # Two ends that do not wear keep both guards, but not into the range of new parts.
        ("18.5..19.0 mm", "18.8..19.0 mm", "0.03 mm", "0.01 mm", "18.53..19.00 mm"),
        ("0.80..1.00 mm", "0.85..1.00 mm", "0.004 mm", "0.001 mm", "0.804..1.000 mm"),
        # New parts that no step of the gauge meets: the next step that takes them in, but never past the limit.
        ("0.15..0.60 mm", "0.18..0.35 mm", "0.02 mm", "0.05 mm", "0.15..0.55 mm"),
        ("0.17..0.60 mm", "0.18..0.35 mm", "0.02 mm", "0.05 mm", "0.17..0.55 mm"),
        # A guard that reaches into new parts stops at them, also where the limit begins at nothing.
        ("0..0.20 mm", "0..0.10 mm", "0.02 mm", "0.01 mm", "0.00..0.18 mm"),
        ("<= 0.20 mm", "<= 0.18 mm", "0.05 mm", "0.01 mm", "<= 0.18 mm"),
        # Steps that nobody knows: one place more than the limit is written with.
        (">= 12.5 V", "12.7..13.2 V", "0.125 V", None, ">= 12.63 V"),
    ],
)
def test_a_new_part_is_never_rejected(allow: str, new: str, gauge: str, step: str | None, accept: str) -> None:
    found = accept_between(
        parse_band(allow), parse_quantity(gauge), parse_quantity(step) if step else None, parse_band(new)
    )
    assert str(found) == accept


@given(low=MM, width=st.decimals(0, 5, places=3), u=st.decimals(0, 1, places=3), share=st.decimals(0, 1, places=2))
def test_no_guard_band_reaches_into_new_parts(low: Decimal, width: Decimal, u: Decimal, share: Decimal) -> None:
    allow = Band(low, low + width, "mm")
    new = Band(low + width * share, low + width, "mm")
    assume(width >= 2 * u + Decimal("0.02"))
    accept = accept_between(allow, Quantity(u, "mm"), parse_quantity("0.01 mm"), new)
    assert accept.low is not None
    assert accept.high is not None
    assert allow.low is not None
    assert new.low is not None
    assert allow.low <= accept.low <= max(new.low, low + u + Decimal("0.01"))
    assert accept.high == new.high


@pytest.mark.parametrize(
    ("allow", "wires", "step", "passes"),
    [
        ("0.50..0.60 mm", "0.40..1.00 mm", "0.05 mm", "0.50 mm 0.60 mm"),
        ("0.52..0.68 mm", "0.40..1.00 mm", "0.05 mm", "0.55 mm 0.65 mm"),
        ("0.30..0.60 mm", "0.40..1.00 mm", "0.1 mm", "0.40 mm 0.60 mm"),
        ("0.90..1.20 mm", "0.40..1.00 mm", "0.1 mm", "0.90 mm 1.00 mm"),
    ],
)
def test_wires_that_pass_and_do_not(allow: str, wires: str, step: str, passes: str) -> None:
    go, stop = go_no_go(parse_band(allow), parse_band(wires), parse_quantity(step))
    assert f"{go} {stop}" == passes


@pytest.mark.parametrize(
    ("allow", "wires"),
    [
        ("0.51..0.54 mm", "0.40..1.00 mm"),
        ("0.55..0.59 mm", "0.40..1.00 mm"),
        ("2..3 mm", "0.4..1 mm"),
        ("<= 0.6 mm", "0.4..1 mm"),
    ],
)
def test_a_set_without_two_wires_in_the_limit_cannot_decide(allow: str, wires: str) -> None:
    with pytest.raises(TradeError) as caught:
        go_no_go(parse_band(allow), parse_band(wires), parse_quantity("0.05 mm"))
    assert (caught.value.name, caught.value.message) == (
        "gauge-too-coarse",
        f"a gauge of 0.05 mm cannot decide {allow}",
    )


def test_figures_to_accept_between() -> None:
    clutch = parse_band("0.6..1.4 mm")
    assert str(accept_between(clutch)) == "0.6..1.4 mm"
    assert str(accept_between(clutch, parse_quantity("20 um"))) == "0.62..1.38 mm"
    assert str(accept_between(clutch, parse_quantity("0.012 mm"), parse_quantity("0.01 mm"))) == "0.62..1.38 mm"
    assert str(accept_between(parse_band(">= 5.0 mm"), parse_quantity("0.05 mm"))) == ">= 5.05 mm"
    with pytest.raises(TradeError) as caught:
        accept_between(parse_band("0.50..0.53 mm"), parse_quantity("0.02 mm"), parse_quantity("0.01 mm"))
    assert caught.value.name == "gauge-too-coarse"
    assert caught.value.message == "a gauge of 0.02 mm and 0.01 mm cannot decide 0.50..0.53 mm"
    with pytest.raises(TradeError, match="a gauge cannot show steps of 0 mm"):
        accept_between(clutch, None, parse_quantity("0 mm"))
    with pytest.raises(TradeError, match="an uncertainty of -0.01 mm is less than nothing"):
        accept_between(clutch, parse_quantity("-0.01 mm"))


def test_what_is_left_of_a_limit_above_nothing_never_lies_below_it() -> None:
    with pytest.raises(TradeError, match="a gauge of 0.05 mm and 0.01 mm cannot decide <= 0.02 mm"):
        accept_between(parse_band("<= 0.02 mm"), parse_quantity("0.05 mm"), parse_quantity("0.01 mm"))
    below = accept_between(parse_band("<= -0.02 mm"), parse_quantity("0.05 mm"), parse_quantity("0.01 mm"))
    assert str(below) == "<= -0.07 mm"
    assert str(accept_between(parse_band("<= 0.05 mm"), parse_quantity("0.05 mm"))) == "<= 0 mm"


@pytest.mark.parametrize(
    ("allow", "spans", "accept"),
    [
        ("0.10..1.20 mm", "0.05..1.00 mm", "0.15..1.00 mm"),
        ("<= 1.20 mm", "0.05..1.00 mm", "<= 1.00 mm"),
        (">= 0.02 mm", "0.05..1.00 mm", ">= 0.05 mm"),
        (">= 0.02 mm", "50..1000 um", ">= 0.05 mm"),
        ("0..0.50 mm", "0.05..1.00 mm", "0.05..0.45 mm"),
        ("<= 0.60 mm", ">= 0.05 mm", "<= 0.55 mm"),
    ],
)
def test_no_figure_is_accepted_that_the_gauge_cannot_show(allow: str, spans: str, accept: str) -> None:
    u, step = parse_quantity("0.02 mm"), parse_quantity("0.05 mm")
    assert str(accept_between(parse_band(allow), u, step, None, parse_band(spans))) == accept


def test_a_gauge_that_ends_below_what_is_to_be_accepted_decides_nothing() -> None:
    u, step = parse_quantity("0.02 mm"), parse_quantity("0.05 mm")
    with pytest.raises(TradeError, match="a gauge of 0.02 mm and 0.05 mm cannot decide 1.10..1.40 mm"):
        accept_between(parse_band("1.10..1.40 mm"), u, step, None, parse_band("0.05..1.00 mm"))


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


def test_a_gauge_that_eats_up_what_a_part_may_wear() -> None:
    worn, new = parse_band(">= 1.85 mm"), parse_band("1.95..2.00 mm")
    found = [gauge_fitness(worn, parse_quantity(text), new) for text in ("0.05 mm", "0.06 mm", "0.11 mm")]
    assert [(each.decides, each.share, each.says) for each in found] == [
        (True, 0.5, ""),
        (True, 0.6, "the gauge's 0.06 mm takes 60 % of 1.85..1.95 mm"),
        (False, None, "a gauge of 0.11 mm cannot decide 1.85..1.95 mm"),
    ]
    assert tolerance(parse_band("<= 0.10 mm")) is None
    assert tolerance(parse_band("<= 0.10 mm"), parse_band(">= 0.20 mm")) is None


@given(low=MM, width=st.decimals(0, 5, places=3), u=st.decimals(0, 1, places=3), value=MM)
def test_what_is_accepted_lies_within_the_limit_by_the_guard(
    low: Decimal, width: Decimal, u: Decimal, value: Decimal
) -> None:
    allow, gauge = Band(low, low + width, "mm"), Quantity(u, "mm")
    if not gauge_fitness(allow, gauge).decides:
        with pytest.raises(TradeError, match="gauge-too-coarse"):
            accept_between(allow, gauge)
        return
    found = decide(Quantity(value, "mm"), allow, accept_between(allow, gauge).contains(Quantity(value, "mm")))
    assert (found is Verdict.ACCEPT) == (low + u <= value <= low + width - u)
    assert (found is Verdict.REJECT) == (not allow.contains(Quantity(value, "mm")))


@given(value=MM, u=st.decimals(0, 1, places=3), limit=MM)
def test_the_verdict_does_not_depend_on_the_unit(value: Decimal, u: Decimal, limit: Decimal) -> None:
    in_mm, in_um = Band(None, limit, "mm"), Band(None, limit, "mm").to("um")
    one, two = Quantity(value, "mm"), Quantity(value, "mm").to("um")
    assume(limit - u >= 0 or limit < 0)
    first = accept_between(in_mm, Quantity(u, "mm"), Quantity(Decimal("0.001"), "mm"))
    second = accept_between(in_um, Quantity(u, "mm"), Quantity(Decimal(1), "um"))
    assert decide(one, in_mm, first.contains(one)) == decide(two, in_um, second.contains(two))
