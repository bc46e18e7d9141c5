"""Wrenches: settings, choice, and torques in other units."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from docgen.trade.errors import TradeError
from docgen.trade.quantity import QuantityError, parse_band
from docgen.trade.wrench import Wrench, choose, rounded, setting

SMALL = Wrench("small wrench", Decimal(2), Decimal(25), Decimal("0.5"))
LARGE = Wrench("large wrench", Decimal(20), Decimal(200), Decimal(1))
INCH = Wrench("inch wrench", Decimal(20), Decimal(240), Decimal(5), "lbf.in")


def test_the_nearest_mark_is_set() -> None:
    found = setting(SMALL, parse_band("10.2 N.m +/- 10 %"))
    assert (str(found.setting), str(found.applied), found.notes) == ("10.0 N.m", "10 N.m", ())


def test_a_wrench_in_another_unit_is_set_in_its_own() -> None:
    found = setting(INCH, parse_band("10 N.m +/- 10 %"))
    assert (str(found.setting), str(found.applied)) == ("90 lbf.in", "10.17 N.m")
    assert found.notes == ()


def test_what_the_mechanic_ought_to_know() -> None:
    assert setting(LARGE, parse_band("24 N.m +/- 10 %")).notes == (
        "24 N.m is in the lowest fifth of large wrench, where it is not tested",
    )
    assert setting(SMALL, parse_band("10 N.m +/- 2 %")).notes == ("the wrench's own 4 % can leave 9.8..10.2 N.m",)
    assert Wrench("tiny", Decimal(1), Decimal(10), Decimal("0.1")).accuracy_percent == 6
    assert Wrench("tiny", Decimal(10), Decimal(88), Decimal(1), "lbf.in").accuracy_percent == 6
    assert Wrench("tiny", Decimal(10), Decimal(89), Decimal(1), "lbf.in").accuracy_percent == 4


@pytest.mark.parametrize(
    ("wrench", "torque", "name", "message"),
    [
        (LARGE, "5 N.m +/- 10 %", "beyond-wrench", "large wrench (20 to 200 N.m) does not reach 5 N.m"),
        (SMALL, "30 N.m +/- 10 %", "beyond-wrench", "small wrench (2 to 25 N.m) does not reach 30 N.m"),
        (
            LARGE,
            "30.4 N.m +/- 1 %",
            "no-mark-in-band",
            "large wrench can be set to 30 N.m but to nothing nearer: outside 30.096..30.704 N.m",
        ),
        (SMALL, "<= 5 N.m", "open-torque", '"<= 5 N.m" has no two ends to aim between'),
    ],
)
def test_a_wrench_that_will_not_do_says_why(wrench: Wrench, torque: str, name: str, message: str) -> None:
    with pytest.raises(TradeError) as caught:
        setting(wrench, parse_band(torque))
    assert (caught.value.name, caught.value.message) == (name, message)


def test_the_wrench_is_chosen_by_range_then_nearness_then_size() -> None:
    register = [LARGE, INCH, SMALL]
    chosen = {text: choose(register, parse_band(text)).wrench.name for text in ("10 N.m", "24 N.m", "60 N.m")}
    assert chosen == {"10 N.m": "small wrench", "24 N.m": "small wrench", "60 N.m": "large wrench"}
    assert choose([LARGE], parse_band("24 N.m +/- 10 %")).notes[0].startswith("24 N.m is in the lowest fifth")


def test_no_wrench_reaches() -> None:
    with pytest.raises(TradeError) as caught:
        choose([LARGE, SMALL], parse_band("1 N.m +/- 10 %"))
    assert caught.value.name == "no-wrench-reaches"
    assert caught.value.message == (
        "no wrench of the register gives 1 N.m +/- 10 %: large wrench (20 to 200 N.m) does not reach 1 N.m; "
        "small wrench (2 to 25 N.m) does not reach 1 N.m"
    )
    with pytest.raises(TradeError, match="there is no torque wrench in the register"):
        choose([], parse_band("1 N.m"))
    with pytest.raises(TradeError, match="open-torque"):
        choose([SMALL], parse_band("<= 1 N.m"))


def test_bad_wrenches() -> None:
    for low, high, step in [("5", "5", "1"), ("0", "10", "0"), ("0", "10", "20"), ("-1", "10", "1")]:
        with pytest.raises(TradeError, match="bad-wrench"):
            Wrench("bad", Decimal(low), Decimal(high), Decimal(step))
    with pytest.raises(QuantityError, match="torque is needed here"):
        Wrench("bad", Decimal(1), Decimal(10), Decimal(1), "mm")


@given(torque=st.decimals(3, 190, places=2), tolerance=st.integers(10, 20))
def test_every_setting_stays_in_the_band(torque: Decimal, tolerance: int) -> None:
    band = parse_band(f"{torque} N.m +/- {tolerance} %")
    found = choose([SMALL, LARGE, INCH], band)
    assert band.contains(found.setting)
    assert found.wrench.low <= found.setting.value <= found.wrench.high
    assert (found.setting.value - found.wrench.low) % found.wrench.step == 0


def test_a_torque_beside_in_another_unit() -> None:
    shown = rounded(parse_band("34 N.m +/- 10 %"), "lbf.ft", Decimal(1))
    assert (shown.limits, str(shown.nominal)) == ("23..27 lbf.ft", "25")
    assert rounded(parse_band("<= 10 N.m"), "lbf.in", Decimal(5)).limits == "<= 85 lbf.in"
    with pytest.raises(TradeError) as caught:
        rounded(parse_band("10 N.m +/- 1 %"), "lbf.ft", Decimal(1))
    assert caught.value.message == "no multiple of 1 lbf.ft lies in 10 N.m +/- 1 %"
    with pytest.raises(TradeError):
        rounded(parse_band("10 N.m"), "lbf.ft", Decimal(0))


def test_a_torque_without_tolerance_is_rounded_to_the_nearest_step() -> None:
    shown = rounded(parse_band("8 N.m"), "lbf.in", Decimal("0.1"))
    assert (str(shown), shown.low, shown.high, shown.nominal) == ("70.8 lbf.in", *[Decimal("70.8")] * 3)


@given(torque=st.decimals(3, 190, places=1), unit=st.sampled_from(["lbf.in", "lbf.ft", "kgf.m", "N.m"]))
def test_rounding_goes_inwards(torque: Decimal, unit: str) -> None:
    band = parse_band(f"{torque} N.m +/- 20 %")
    shown = rounded(band, unit, Decimal("0.01")).to("N.m")
    assert band.low is not None
    assert band.high is not None
    assert shown.low is not None
    assert shown.high is not None
    assert band.low <= shown.low <= shown.high <= band.high
