"""Torque and preload: the ceiling is never passed, the weaker side governs, and given figures are judged."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from docgen.trade.errors import TradeError
from docgen.trade.friction import Friction, Seat, friction, seat
from docgen.trade.materials import Boss, boss, property_class, property_classes
from docgen.trade.quantity import QuantityError, parse_band
from docgen.trade.stripping import external_area_mm2, internal_area_mm2, strip_load
from docgen.trade.threads import thread, threads
from docgen.trade.tightening import (
    Joint,
    check_torque,
    estimate,
    preload_n,
    screw_preload_n,
    stress_factor,
    torque_nm,
)

WITH_HEADS = [name for name, each in threads().items() if each.d_mm != 3.5]
CLASSES = sorted(property_classes())
MU = st.floats(0.04, 0.40)


def joint(name: str = "M6", kind: str = "8.8", state: str = "oiled", in_boss: Boss | None = None) -> Joint:
    of, screw = thread(name), property_class(kind)
    strip = strip_load(of, screw, in_boss) if in_boss else None
    return Joint(of, screw, friction(state, screw), seat(of, "hex"), strip)


# --- formulas ---------------------------------------------------------------------------------------------------------


@given(name=st.sampled_from(WITH_HEADS), mu=MU, force=st.floats(1, 200_000))
def test_torque_and_preload_are_inverse(name: str, mu: float, force: float) -> None:
    of = thread(name)
    assert preload_n(of, seat(of), mu, torque_nm(of, seat(of), mu, force)) == pytest.approx(force, rel=1e-12)


@given(name=st.sampled_from(WITH_HEADS), kind=st.sampled_from(CLASSES), a=MU, b=MU)
def test_more_friction_means_less_preload_and_more_torque_for_it(name: str, kind: str, a: float, b: float) -> None:
    low, high = sorted((a, b))
    of, screw = thread(name), property_class(kind)
    assert screw_preload_n(of, screw, high) <= screw_preload_n(of, screw, low)
    assert torque_nm(of, seat(of), low, 1000) <= torque_nm(of, seat(of), high, 1000)
    assert stress_factor(of, high) >= stress_factor(of, low) > 1


@given(name=st.sampled_from(WITH_HEADS), share=st.floats(0.05, 1), mu=MU)
def test_the_share_of_yield_is_the_share_of_preload(name: str, share: float, mu: float) -> None:
    of, screw = thread(name), property_class("8.8")
    assert screw_preload_n(of, screw, mu, share) == pytest.approx(share * screw_preload_n(of, screw, mu, 1))


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda: stress_factor(thread("M6"), 0.01), "friction coefficient is 0.01; it must lie between 0.04 and 0.4"),
        (
            lambda: screw_preload_n(thread("M6"), property_class("8.8"), 0.1, 1.2),
            "share of the yield stress is 1.2; it must lie between 0.05 and 1",
        ),
        (lambda: torque_nm(thread("M6"), Seat(10, 7), 0.1, -1), "preload is -1 N; it must lie between 0 and 1e+06 N"),
        (
            lambda: preload_n(thread("M6"), Seat(10, 7), 0.1, 3000),
            "torque is 3000 N.m; it must lie between 0 and 2000 N.m",
        ),
        (lambda: Seat(6, 7), "bearing face under the head is 6 mm; it must lie between 7 and 80 mm"),
        (lambda: Friction("x", 0.2, 0.1, "", ""), "friction coefficient is 0.1; it must lie between 0.2 and 0.4"),
        (
            lambda: internal_area_mm2(thread("M6"), 2),
            "engaged length of M6x1 is 2 mm; it must lie between 3 and 15 mm",
        ),
        (
            lambda: external_area_mm2(thread("M6"), 16),
            "engaged length of M6x1 is 16 mm; it must lie between 3 and 15 mm",
        ),
        (lambda: estimate(joint(), strip_margin=0.5), "margin against stripping is 0.5; it must lie between 1 and 10"),
        (lambda: estimate(joint(), tolerance_percent=Decimal(60)), "tolerance is 60 %; it must lie between 0 and 50 %"),
        (
            lambda: estimate(joint(), step_nm=Decimal(0)),
            "step of the wrench is 0 N.m; it must lie between 0.01 and 50 N.m",
        ),
    ],
)
def test_out_of_range_is_an_error_and_no_clamp(call: object, message: str) -> None:
    assert callable(call)
    with pytest.raises(TradeError) as caught:
        call()
    assert (caught.value.name, caught.value.message) == ("out-of-range", message)


# --- stripping --------------------------------------------------------------------------------------------------------


@given(name=st.sampled_from(list(threads())), share=st.floats(0.5, 2.4))
def test_stripping_area_grows_with_length_and_the_boss_side_is_the_larger(name: str, share: float) -> None:
    of = thread(name)
    length = share * of.d_mm
    assert internal_area_mm2(of, length) > external_area_mm2(of, length) > 0
    assert internal_area_mm2(of, length * 1.04) == pytest.approx(1.04 * internal_area_mm2(of, length))


def test_the_weaker_thread_strips() -> None:
    in_magnesium = strip_load(thread("M6"), property_class("8.8"), boss("AZ91", 9))
    assert (in_magnesium.side, round(in_magnesium.load_n)) == ("boss", 15361)
    assert in_magnesium.says == "9 mm of M6x1 engaged in AZ91 (magnesium), shear strength 140 MPa"
    assert in_magnesium.source == (
        "FED-STD-H28/2B; shear strength: materials database (copy); pressure die casting as cast (AZ91A-F); typical"
    )
    in_steel = strip_load(thread("M6"), property_class("4.6"), Boss("steel", 500, 9))
    assert in_steel.side == "screw thread"
    assert in_steel.load_n == pytest.approx(0.6 * 400 * external_area_mm2(thread("M6"), 9))


# --- friction ---------------------------------------------------------------------------------------------------------


def test_friction_states() -> None:
    ranges = {
        (kind, state): (friction(state, property_class(kind)).low, friction(state, property_class(kind)).high)
        for kind, state in [
            ("8.8", "dry"),
            ("8.8", "oiled"),
            ("8.8", "threadlocker"),
            ("8.8", "anti-seize"),
            ("A2-70", "oiled"),
            ("A2-70", "anti-seize"),
        ]
    }
    assert list(ranges.values()) == [(0.14, 0.24), (0.08, 0.16), (0.14, 0.24), (0.04, 0.10), (0.20, 0.35), (0.08, 0.16)]
    for kind, state, known in [
        ("A2-70", "dry", "known: oiled, anti-seize"),
        ("8.8", "wet", "known: dry, oiled, threadlocker, anti-seize"),
    ]:
        with pytest.raises(TradeError) as caught:
            friction(state, property_class(kind))
        assert (caught.value.name, caught.value.hint) == ("unknown-friction", known)


# --- the estimate -----------------------------------------------------------------------------------------------------


def test_an_estimate_says_all_that_a_sheet_prints() -> None:
    found = estimate(joint("M6", "8.8", "oiled", boss("AZ91", 9)))
    assert str(found.torque) == "5.0 N.m +/- 10 %"
    assert found.torque.limits == "4.50..5.50 N.m"
    assert found.governs == "boss"
    assert round(found.ceiling_nm, 2) == 5.51
    assert (round(found.preload_low_kn, 2), round(found.preload_high_kn, 2)) == (3.53, 7.66)
    assert round(found.share_of_proof, 3) == 0.656
    assert found.proof_means == "proof load"
    assert found.assumptions == (
        "M6x1, class 8.8",
        "oiled or greased: friction 0.08 to 0.16 in thread and under head",
        "bearing face 8.88 mm on a 6.6 mm hole (hexagon head or nut, M6x1)",
        "9 mm of M6x1 engaged in AZ91 (magnesium), shear strength 140 MPa",
        "margin of 2 against stripping",
    )
    assert found.source == (
        "VDI 2230-1 (formula from memory; checked against its published tables); "
        "VDI 2230-1 friction class B: oils and greases (copy); "
        "FED-STD-H28/2B; shear strength: materials database (copy); pressure die casting as cast (AZ91A-F); typical"
    )


def test_in_a_full_nut_the_screw_governs() -> None:
    found = estimate(joint("M10x1.25", "8.8", "oiled"), step_nm=Decimal(1))
    assert found.governs == "screw"
    assert found.assumptions[-1] == "full nut of the screw's own class"
    assert found.share_of_proof <= 1


@given(
    name=st.sampled_from(WITH_HEADS),
    kind=st.sampled_from(CLASSES),
    state=st.sampled_from(["oiled", "anti-seize"]),
    shear=st.floats(20, 700),
    engaged=st.floats(0.5, 2.5),
    step=st.sampled_from([Decimal("0.1"), Decimal("0.25"), Decimal("0.5"), Decimal(1)]),
    tolerance=st.sampled_from([Decimal(0), Decimal(5), Decimal(10), Decimal("12.5")]),
    full_nut=st.booleans(),
)
def test_no_estimate_passes_what_the_weaker_side_allows(
    name: str, kind: str, state: str, shear: float, engaged: float, step: Decimal, tolerance: Decimal, full_nut: bool
) -> None:
    of = thread(name)
    made = joint(name, kind, state, None if full_nut else Boss("boss", shear, engaged * of.d_mm))
    try:
        found = estimate(made, step_nm=step, tolerance_percent=tolerance)
    except TradeError as error:
        assert error.name == "torque-too-small"  # noqa: PT017
        return
    assert found.torque.high is not None
    assert found.torque.low is not None
    assert found.torque.nominal is not None
    assert float(found.torque.high) <= found.ceiling_nm
    assert found.torque.nominal % step == 0
    assert found.torque.low <= found.torque.nominal <= found.torque.high
    assert found.preload_low_kn <= found.preload_high_kn
    # at every friction of the range, tension and twist stay under 90 % of yield, and the boss keeps its margin
    for mu in (made.friction.low, (made.friction.low + made.friction.high) / 2, made.friction.high):
        force = preload_n(made.thread, made.seat, mu, float(found.torque.high))
        assert force <= screw_preload_n(made.thread, made.screw, mu) * (1 + 1e-9)
        assert made.strip is None or force <= made.strip.load_n / 2 * (1 + 1e-9)
    assert found.share_of_proof <= 1 + 1e-9
    assert check_torque(made, found.torque).verdict != "overloads"


def test_a_weaker_boss_never_raises_the_torque() -> None:
    ceilings = [estimate(joint("M6", in_boss=Boss("boss", shear, 9))).ceiling_nm for shear in (60, 100, 150, 300, 600)]
    assert ceilings == sorted(ceilings)
    assert ceilings[-1] == ceilings[-2] == estimate(joint("M6")).ceiling_nm


def test_too_small_a_torque_is_no_torque() -> None:
    with pytest.raises(TradeError) as caught:
        estimate(joint("M3", "4.6", "oiled", Boss("plastic", 20, 3)), step_nm=Decimal(1))
    assert caught.value.name == "torque-too-small"
    assert caught.value.message == "the torque would be below 0.06 N.m, less than one step of 1 N.m"


# --- the check of a given figure --------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("torque", "verdict", "side", "says"),
    [
        ("5 N.m +/- 10 %", "plausible", "", "5 N.m +/- 10 % is plausible"),
        ("44 lbf.in", "plausible", "", "44 lbf.in is plausible"),
        (
            "10 N.m +/- 10 %",
            "may-overload",
            "screw",
            "10 N.m +/- 10 % overloads the screw when the friction is low",
        ),
        ("50 N.m +/- 10 %", "overloads", "boss", "50 N.m +/- 10 % overloads the boss whatever the friction"),
        (
            "1 N.m +/- 10 %",
            "slack",
            "",
            "1 N.m +/- 10 % gives at most 13 % of the proof load: is the unit right?",
        ),
        ("<= 5 N.m", "plausible", "", "<= 5 N.m is plausible"),
    ],
)
def test_given_figures_are_judged(torque: str, verdict: str, side: str, says: str) -> None:
    found = check_torque(joint("M6", "8.8", "oiled", boss("AZ91", 9)), parse_band(torque))
    assert (found.verdict, found.side, found.says) == (verdict, side, says)
    assert found.preload_low_kn <= found.preload_high_kn
    assert found.share_low <= found.share_high


def test_a_torque_without_upper_end_or_of_another_kind_is_no_torque() -> None:
    with pytest.raises(TradeError) as caught:
        check_torque(joint(), parse_band(">= 5 N.m"))
    assert (caught.value.name, caught.value.message) == ("open-torque", 'the torque ">= 5 N.m" has no upper end')
    with pytest.raises(QuantityError, match='"mm" is a unit of length and "N.m" of torque'):
        check_torque(joint(), parse_band("5 mm"))


def test_without_a_boss_the_screw_alone_is_judged() -> None:
    assert check_torque(joint("M6", "8.8"), parse_band("25 N.m")).side == "screw"
    strong = replace(joint("M6", "12.9"), friction=Friction("given", 0.2, 0.2, "given", "given"))
    assert check_torque(strong, parse_band("15 N.m")).verdict == "plausible"
