"""Chain, engine arithmetic, leaks and check characters: inverses, order, ranges and python-stdnum."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from stdnum.iso7064 import mod_37_36, mod_97_10

from docgen.trade import chain, engine, pressure
from docgen.trade.checkchar import ALPHABET, check_character, check_digits, has_valid_digits, is_valid
from docgen.trade.errors import TradeError
from docgen.trade.quantity import parse_quantity

TEETH = st.integers(6, 150)
CODE = st.text(alphabet=ALPHABET, min_size=1, max_size=40)


# --- chain ------------------------------------------------------------------------------------------------------------


def test_check_dimensions_over_teeth_and_pins() -> None:
    """Even: straight across; odd: the pitch diameter times cos(90 degrees / N)."""
    for teeth in (10, 11, 82, 83):
        across = chain.pitch_diameter_mm(teeth) * (1 if teeth % 2 == 0 else math.cos(math.pi / 2 / teeth))
        assert chain.caliper_diameter_mm(teeth, 4.6) == pytest.approx(across - 4.6)
        assert chain.over_pins_mm(teeth, 4.6) == pytest.approx(across + 4.6)


@given(teeth=st.integers(6, 149))
def test_more_teeth_make_a_larger_sprocket(teeth: int) -> None:
    assert chain.pitch_diameter_mm(teeth + 1) > chain.pitch_diameter_mm(teeth)
    assert chain.outside_diameter_mm(teeth + 1) > chain.outside_diameter_mm(teeth) > chain.pitch_diameter_mm(teeth)
    assert chain.over_pins_mm(teeth, 4.6) <= chain.pitch_diameter_mm(teeth) + 4.6
    # the straight pitches approach the circle from inside
    assert chain.pitch_diameter_mm(teeth) * math.pi > teeth * chain.KART_PITCH_MM


@given(one=st.integers(9, 13), two=st.integers(60, 95), links=st.integers(90, 140))
def test_length_and_centre_distance_are_inverse(one: int, two: int, links: int) -> None:
    try:
        centre = chain.centre_for_mm(links, one, two)
    except TradeError as error:
        refused = error.name
    else:
        refused = ""
        assert chain.length_in_pitches(centre, one, two) == pytest.approx(links, abs=0.15)
        assert chain.links_for(centre, one, two) % 2 == 0
    assert refused in ("", "chain-too-short")


def test_links_and_centres_of_a_kart() -> None:
    assert chain.links_for(chain.centre_for_mm(106, 11, 82), 11, 82) in (106, 108)
    with pytest.raises(TradeError, match="40 links do not go round 11 and 82 teeth"):
        chain.centre_for_mm(40, 11, 82)
    with pytest.raises(TradeError, match="distance between the shafts is 50 mm"):
        chain.length_in_pitches(50, 11, 82)


def test_equal_sprockets_need_two_centres_and_one_turn_of_teeth() -> None:
    assert chain.length_in_pitches(100 * chain.KART_PITCH_MM, 20, 20) == pytest.approx(220)


@given(pitches=st.integers(10, 120), percent=st.floats(-1, 5))
def test_elongation_comes_back(pitches: int, percent: float) -> None:
    measured = pitches * chain.KART_PITCH_MM * (1 + percent / 100)
    assert chain.elongation_percent(measured, pitches) == pytest.approx(percent, abs=1e-9)


def test_a_miscounted_link_is_no_elongation() -> None:
    with pytest.raises(TradeError) as caught:
        chain.elongation_percent(11 * chain.KART_PITCH_MM * 1.01, 10)
    assert caught.value.message == "elongation is 11.1 %; it must lie between -2 and 10 %"


def test_elongation_limits() -> None:
    assert [chain.elongation_limit_percent(n) for n in (40, 67, 80, 100)] == [3, 3, 2.5, 2]
    assert chain.elongation_limit_percent(150, fixed_centres=True) == pytest.approx(200 / 150)


# --- engine -----------------------------------------------------------------------------------------------------------


@given(bore=st.floats(20, 150), stroke=st.floats(5, 200), ratio=st.floats(2, 30))
def test_compression_and_head_volume_are_inverse(bore: float, stroke: float, ratio: float) -> None:
    head = engine.head_volume_for_cc(bore, stroke, ratio)
    if 1 <= head <= 500:
        assert engine.compression_ratio(bore, stroke, head) == pytest.approx(ratio)
        assert engine.compression_ratio(bore, stroke * 0.5, head) < ratio


@given(fuel=st.floats(0.1, 50), ratio=st.floats(10, 100))
def test_oil_and_fuel_are_inverse(fuel: float, ratio: float) -> None:
    oil = engine.oil_for_fuel_ml(fuel, ratio)
    if oil >= 1:
        assert engine.fuel_for_oil_l(oil, ratio) == pytest.approx(fuel)


def test_squish() -> None:
    found = engine.squish([1.02, 1.00, 1.06, 1.04])
    assert (found.least_mm, found.mean_mm, round(found.spread_mm, 6)) == (1.0, pytest.approx(1.03), 0.06)
    assert engine.gasket_for_squish_mm(0.4, 1.15, 1.0) == pytest.approx(0.25)
    with pytest.raises(TradeError, match="even without a gasket the squish stays 0.10 mm too large"):
        engine.gasket_for_squish_mm(0.1, 1.2, 1.0)
    with pytest.raises(TradeError, match="squish needs solder on two sides of the piston"):
        engine.squish([1.0])


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda: engine.swept_cc(12, 50), "bore is 12 mm; it must lie between 20 and 150 mm"),
        (
            lambda: engine.compression_ratio(54, 54.5, 0),
            "volume above the piston is 0 cc; it must lie between 1 and 500 cc",
        ),
        (
            lambda: engine.head_volume_for_cc(54, 54.5, 1),
            "compression ratio is 1; it must lie between 1.01 and 30",
        ),
        (lambda: engine.piston_speed_m_s(54, -1), "engine speed is -1 rpm; it must lie between 0 and 25000 rpm"),
        (
            lambda: engine.oil_for_fuel_ml(5, 4),
            "parts of fuel to one of oil is 4; it must lie between 10 and 100",
        ),
        (lambda: chain.pitch_diameter_mm(5), "number of teeth is 5; it must lie between 6 and 150"),
        (
            lambda: pressure.leak_rate_ml_min(0, 50, 45, 60),
            "closed volume is 0 ml; it must lie between 1 and 100000 ml",
        ),
    ],
)
def test_out_of_range_is_an_error_and_no_clamp(call: object, message: str) -> None:
    assert callable(call)
    with pytest.raises(TradeError) as caught:
        call()
    assert (caught.value.name, caught.value.message) == ("out-of-range", message)


# --- leaks ------------------------------------------------------------------------------------------------------------


@given(volume=st.floats(1, 5000), leak=st.floats(0, 500), seconds=st.floats(1, 3600))
def test_leak_and_fall_of_pressure_are_inverse(volume: float, leak: float, seconds: float) -> None:
    fall = pressure.pressure_fall_kpa(volume, leak, seconds)
    if fall <= 500:
        assert pressure.leak_rate_ml_min(volume, 500, 500 - fall, seconds) == pytest.approx(leak, abs=1e-6)
        if fall <= 50:  # a vacuum that rises by as much leaks as much
            assert pressure.leak_rate_ml_min(volume, -50, -50 + fall, seconds) == pytest.approx(leak, abs=1e-6)


def test_the_form_of_the_regulation_gives_the_same_leak() -> None:
    """40 CFR 1065.644's worked input: n = V / R (p2 / T2 - p1 / T1) / t, turned into ml/min at standard atmosphere."""
    moles_per_second = 0.002 / 8.314472 * (50600 - 25300) / 293.15 / 70
    as_air = moles_per_second * 8.314472 * 293.15 / 101325 * 1e6 * 60
    gauge = [kpa - pressure.ATMOSPHERE_KPA for kpa in (25.3, 50.6)]
    assert pressure.leak_rate_ml_min(2000, *gauge, 70) == pytest.approx(as_air, rel=1e-9)


def test_a_pressure_that_goes_the_wrong_way_is_no_leak() -> None:
    for start, end in ((50, 51), (-50, -51)):
        with pytest.raises(TradeError) as caught:
            pressure.leak_rate_ml_min(300, start, end, 60)
        assert caught.value.name == "no-leak-direction"
        assert caught.value.message == f"the pressure went from {start} to {end} kPa, away from the atmosphere"


def test_pressure_units_for_pop_off_and_leak_tests() -> None:
    shown = {unit: round(parse_quantity("10 psi").to(unit).value, 4) for unit in ("kPa", "bar", "Pa", "MPa")}
    assert {unit: str(value) for unit, value in shown.items()} == {
        "kPa": "68.9476",
        "bar": "0.6895",
        "Pa": "68947.5729",
        "MPa": "0.0689",
    }


# --- check characters -------------------------------------------------------------------------------------------------


@given(text=CODE)
def test_mod_37_36_agrees_with_stdnum(text: str) -> None:
    assert check_character(text) == mod_37_36.calc_check_digit(text)
    assert is_valid(text + check_character(text))
    assert mod_37_36.is_valid(text + check_character(text))


@given(number=st.text(alphabet="0123456789", min_size=1, max_size=40))
def test_mod_97_10_agrees_with_stdnum(number: str) -> None:
    assert check_digits(number) == mod_97_10.calc_check_digits(number)
    assert has_valid_digits(number + check_digits(number))
    assert mod_97_10.is_valid(number + check_digits(number))


@given(text=CODE, data=st.data())
def test_one_wrong_character_is_always_found(text: str, data: st.DataObject) -> None:
    whole = text + check_character(text)
    place = data.draw(st.integers(0, len(whole) - 1))
    wrong = data.draw(st.sampled_from([each for each in ALPHABET if each != whole[place]]))
    assert not is_valid(whole[:place] + wrong + whole[place + 1 :])


def test_nearly_every_swap_of_neighbours_is_found() -> None:
    """MOD 37-36 misses few: of all pairs of neighbours before the check character, over 99 in 100 are found."""
    missed = total = 0
    for a in ALPHABET:
        for b in ALPHABET:
            if a != b:
                total += 1
                missed += is_valid(b + a + check_character(a + b))
    assert total == 36 * 35
    assert missed / total < 0.01


@pytest.mark.parametrize("text", ["", "a1", "A 1", "A-1", "Ä", "A" * 65])
def test_characters_that_do_not_belong_are_refused(text: str) -> None:
    with pytest.raises(TradeError) as caught:
        check_character(text)
    assert caught.value.name == "bad-characters"
    assert caught.value.message == f'"{text[:64]}" must be 1 to 64 characters of 0 to Z'
    assert not is_valid(text)


def test_numbers_too_short_long_or_foreign_are_never_valid() -> None:
    assert [has_valid_digits(text) for text in ("", "44", "7944A", "٧٩٤٤٤", "1" * 67)] == [False] * 5
