"""Quantities and bands: what is read, what is refused and with which words."""

from __future__ import annotations

import copy
import pickle
from decimal import Decimal
from fractions import Fraction

import pint
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from docgen.trade.quantity import Band, Quantity, QuantityError, parse_band, parse_quantity
from docgen.trade.units import dimensions, factor, units, units_of


@pytest.mark.parametrize(
    ("text", "low", "high", "nominal", "unit", "limits"),
    [
        ("34 N.m +/- 10 %", "30.6", "37.4", "34", "N.m", "30.6..37.4 N.m"),
        ("10 N.m +/- 1 N.m", "9", "11", "10", "N.m", "9..11 N.m"),
        ("0.50..0.60 mm", "0.50", "0.60", None, "mm", "0.50..0.60 mm"),
        ("<= 0.10 mm", None, "0.10", None, "mm", "<= 0.10 mm"),
        (">= 5 mm", "5", None, None, "mm", ">= 5 mm"),
        ("24 h", "24", "24", "24", "h", "24 h"),
        ("-0.05..0.05 mm", "-0.05", "0.05", None, "mm", "-0.05..0.05 mm"),
        ("0 mm +/- 0.05 mm", "-0.05", "0.05", "0", "mm", "-0.05..0.05 mm"),
        ("10 mm +/- 50 um", "9.95", "10.05", "10", "mm", "9.95..10.05 mm"),
        ("34N.m+/-10%", "30.6", "37.4", "34", "N.m", "30.6..37.4 N.m"),
        ("16:1", "16", "16", "16", ":1", "16:1"),
        ("-20 kPa +/- 10 %", "-22", "-18", "-20", "kPa", "-22..-18 kPa"),
    ],
)
def test_bands_are_read(
    text: str, low: str | None, high: str | None, nominal: str | None, unit: str, limits: str
) -> None:
    found = parse_band(text)
    ends = [None if value is None else str(value) for value in (found.low, found.high, found.nominal)]
    assert (*ends, found.unit) == (low, high, nominal, unit)
    assert str(found) == found.written == text
    assert found.limits == limits


def test_figures_stay_as_written() -> None:
    assert str(parse_quantity(" 0.50 mm ")) == "0.50 mm"
    assert parse_band("0.50..0.60 mm").limits == "0.50..0.60 mm"
    assert str(Band(Decimal("9"), Decimal("11"), "N.m")) == "9..11 N.m"
    assert str(parse_quantity("10%")) == "10 %"
    assert str(parse_quantity("16:1")) == "16:1"


REFUSED = [
    ("34", "torque", "no-unit", '"34" has no unit', "write it after the figure, as in 34 N.m"),
    ("24", None, "no-unit", '"24" has no unit', "write it after the figure, as in 24 mm"),
    ("34 Nm", None, "unknown-unit", '"Nm" is not a known unit', "did you mean N.m?"),
    ("34 nm", "torque", "unknown-unit", '"nm" is not a known unit', "did you mean N.m?"),
    ("5 hours", "time", "unknown-unit", '"hours" is not a known unit', "did you mean h?"),
    ("12 ft-lb", None, "unknown-unit", '"ft-lb" is not a known unit', "did you mean lbf.ft?"),
    ("12 KPA", None, "unknown-unit", '"KPA" is not a known unit', "did you mean kPa?"),
    ("12 lbs.ft", None, "unknown-unit", '"lbs.ft" is not a known unit', "did you mean lbf.ft?"),
    # What looks alike is another size: all units of the dimension are named, and none is proposed.
    ("340 N.cm", "torque", "unknown-unit", '"N.cm" is not a known unit', "units of torque: N.m, lbf.in, lbf.ft, kgf.m"),
    ("5 mbar", "pressure", "unknown-unit", '"mbar" is not a known unit', "units of pressure: Pa, kPa, MPa, bar, psi"),
    ("4 thou", "length", "unknown-unit", '"thou" is not a known unit', "units of length: mm, um, cm, m, in"),
    ("4 Mm", "length", "unknown-unit", '"Mm" is not a known unit', "units of length: mm, um, cm, m, in"),
    ("4 mpa", "pressure", "unknown-unit", '"mpa" is not a known unit', "units of pressure: Pa, kPa, MPa, bar, psi"),
    ("4 MM", "length", "unknown-unit", '"MM" is not a known unit', "did you mean mm?"),
    ("4 Mins", "time", "unknown-unit", '"Mins" is not a known unit', "did you mean min?"),
    ("5 bananas", "time", "unknown-unit", '"bananas" is not a known unit', "units of time: s, min, h, day, month"),
    (
        "34 mm",
        "torque",
        "wrong-dimension",
        '"mm" is a unit of length; torque is needed here',
        "units of torque: N.m, lbf.in, lbf.ft, kgf.m",
    ),
    (
        "34 N.m +/- 1 mm",
        "torque",
        "wrong-dimension",
        '"mm" is a unit of length and "N.m" of torque: they cannot be converted',
        "",
    ),
    (
        "34 N.m ± 10 %",
        "torque",
        "not-a-number",
        '"34 N.m ± 10 %" cannot be read as a figure with its unit',
        "write +/- for the tolerance, as in 34 N.m +/- 10 %",
    ),
    (
        "0,5 mm",
        "length",
        "decimal-comma",
        '"0,5 mm" cannot be read as a figure with its unit',
        "write a decimal point and no thousands mark, as in 0.50 mm",
    ),
    (
        "0.60..0.50 mm",
        "length",
        "empty-range",
        "the range 0.60..0.50 mm is empty: 0.60 is more than 0.50",
        "write the smaller figure first: 0.50..0.60 mm",
    ),
    ("34 +/- 3 N.m", None, "no-unit", '"34" has no unit', "write it after the figure, as in 34 mm"),
    (
        "+/- 0.05 mm",
        None,
        "not-a-number",
        '"+/- 0.05 mm" has no figure before +/-',
        "write the figure to aim at first, as in 0 mm +/- 0.05 mm",
    ),
    (
        "0,50..0,60 mm",
        None,
        "decimal-comma",
        '"0,50..0,60 mm" cannot be read as a figure with its unit',
        "write a decimal point and no thousands mark, as in 0.50 mm",
    ),
    (
        "0.5 mm..0.6 mm",
        None,
        "unit-twice",
        '"0.5 mm..0.6 mm" gives the unit twice',
        "write it once, as in 0.50..0.60 mm",
    ),
    (
        "34 N.m +/- -1 N.m",
        None,
        "negative-tolerance",
        '"34 N.m +/- -1 N.m" has a negative tolerance',
        "leave out its sign",
    ),
    (
        "50 % +/- 5 %",
        None,
        "ambiguous-tolerance",
        'per cent of "50 %" can be read in two ways',
        "write the two ends, as in 45..55 %",
    ),
    ("-3 N.m", None, "negative-value", "-3 N.m is less than nothing: torque cannot be negative", ""),
    ("-1..3 h", None, "negative-value", "-1 h is less than nothing: time cannot be negative", ""),
    ("1 N.m +/- 2 N.m", None, "negative-value", "-1 N.m is less than nothing: torque cannot be negative", ""),
    ("", "torque", "not-a-number", "there is no figure here", "write a figure and its unit, as in 34 N.m"),
    (
        "tight",
        None,
        "not-a-number",
        '"tight" cannot be read as a figure with its unit',
        "write a figure and its unit, as in 34 N.m",
    ),
    (
        "0.5-0.6 mm",
        None,
        "not-a-number",
        '"0.5-0.6 mm" cannot be read as a figure with its unit',
        "write a range as 0.5..0.6 mm",
    ),
    (
        "1/2 turn",
        "angle",
        "not-a-number",
        '"1/2 turn" cannot be read as a figure with its unit',
        "write a decimal figure instead of a fraction, as in 0.5 turn",
    ),
    (
        "< 3 mm",
        None,
        "not-a-number",
        '"< 3 mm" cannot be read as a figure with its unit',
        "write <= or >=: both ends belong to the band",
    ),
    ("≤ 3 mm", None, "not-a-number", '"≤ 3 mm" cannot be read as a figure with its unit', "write <= or >="),
    (
        ".5 mm",
        None,
        "not-a-number",
        '".5 mm" cannot be read as a figure with its unit',
        "write a nought before the point, as in 0.5 mm",
    ),
    (
        "1e3 N.m",
        None,
        "not-a-number",
        '"1e3 N.m" cannot be read as a figure with its unit',
        "write the figure out in full",
    ),
    (
        "−1 mm",
        None,
        "not-a-number",
        '"−1 mm" cannot be read as a figure with its unit',
        "write the minus sign as -",
    ),
    (
        "1234567890123 mm",
        None,
        "not-a-number",
        '"1234567890123 mm" cannot be read as a figure with its unit',
        "write at most 12 figures before and after the point",
    ),
    (
        "nan mm",
        None,
        "not-a-number",
        '"nan mm" cannot be read as a figure with its unit',
        "write a figure and its unit, as in 34 N.m",
    ),
]


@pytest.mark.parametrize(("text", "dimension", "name", "message", "hint"), REFUSED)
def test_refused_with_whole_words(text: str, dimension: str | None, name: str, message: str, hint: str) -> None:
    with pytest.raises(QuantityError) as caught:
        parse_band(text, dimension)
    assert (caught.value.name, caught.value.message, caught.value.hint) == (name, message, hint)
    assert isinstance(caught.value, ValueError)


def test_a_calendar_month_has_no_fixed_length() -> None:
    assert str(parse_quantity("6 month", "time")) == "6 month"
    with pytest.raises(QuantityError, match="a month is a calendar month and has no fixed length"):
        parse_quantity("6 month").to("h")


def test_ends_belong_to_the_band() -> None:
    clearance = parse_band("0.50..0.60 mm")
    inside = [parse_quantity(text) for text in ("0.50 mm", "0.60 mm", "550 um", "0.055 cm")]
    outside = [parse_quantity(text) for text in ("0.499 mm", "0.601 mm", "601 um")]
    assert [clearance.contains(q) for q in inside] == [True] * 4
    assert [clearance.contains(q) for q in outside] == [False] * 3
    assert parse_band("<= 0.5 turn").contains(parse_quantity("180 deg"))
    assert parse_band(">= 5 mm").contains(parse_quantity("5 mm"))
    assert not parse_band(">= 5 mm").contains(parse_quantity("4.999999 mm"))


def test_comparison_over_units() -> None:
    one_lbf_ft = parse_quantity("1 lbf.ft")
    assert one_lbf_ft < parse_quantity("1.36 N.m")
    assert one_lbf_ft > parse_quantity("1.35 N.m")
    assert parse_quantity("12 lbf.in") <= one_lbf_ft
    assert parse_quantity("12 lbf.in") >= one_lbf_ft
    assert parse_quantity("12 lbf.in") != one_lbf_ft
    with pytest.raises(QuantityError) as caught:
        assert one_lbf_ft < parse_quantity("1 mm")
    assert caught.value.name == "wrong-dimension"


def test_band_in_another_unit() -> None:
    assert str(parse_band("34 N.m +/- 10 %").to("N.m")) == "34 N.m +/- 10 %"
    assert str(parse_band("0.50..0.60 mm").to("um")) == "500..600 um"
    assert str(parse_band("<= 1 bar").to("kPa")) == "<= 100 kPa"


def test_built_by_hand_it_is_checked_too() -> None:
    for build, name in [
        (lambda: Quantity(Decimal("NaN"), "mm"), "not-a-number"),
        (lambda: Quantity(Decimal(1), "furlong"), "unknown-unit"),
        (lambda: Band(Decimal(2), Decimal(1), "mm"), "empty-range"),
        (lambda: Band(None, None, "mm"), "empty-range"),
    ]:
        with pytest.raises(QuantityError) as caught:
            build()
        assert caught.value.name == name


def test_values_and_errors_survive_copying() -> None:
    found = parse_band("34 N.m +/- 10 %")
    assert pickle.loads(pickle.dumps(found)) == copy.copy(found) == found
    with pytest.raises(QuantityError) as caught:
        parse_quantity("34 Nm")
    again = pickle.loads(pickle.dumps(caught.value))
    assert (again.name, again.message, again.hint) == ("unknown-unit", '"Nm" is not a known unit', "did you mean N.m?")


def test_every_dimension_has_units_and_an_unknown_one_is_a_slip_of_code() -> None:
    asked = """length torque force time mass volume pressure angle voltage resistance temperature speed ratio area
        stress current frequency flow"""
    assert set(dimensions()) == set(asked.split())
    assert units_of("stress") == ("Pa", "kPa", "MPa", "psi")
    with pytest.raises(ValueError, match="no dimension 'colour'"):
        parse_quantity("1 mm", "colour")


FIXED = [unit for unit in units().values() if unit.factor is not None and unit.symbol != "degC"]
PAIRS = [(a.symbol, b.symbol) for a in FIXED for b in FIXED if set(a.dimensions) & set(b.dimensions)]
IN_PINT = {
    "mm": "millimeter", "um": "micrometer", "cm": "centimeter", "m": "meter", "in": "inch",
    "N.m": "newton*meter", "lbf.in": "pound_force*inch", "lbf.ft": "pound_force*foot", "kgf.m": "kilogram_force*meter",
    "N": "newton", "kN": "kilonewton", "s": "second", "min": "minute", "h": "hour", "day": "day",
    "g": "gram", "kg": "kilogram", "ml": "milliliter", "l": "liter", "cm3": "centimeter**3", "cc": "centimeter**3",
    "m3": "meter**3", "Pa": "pascal", "kPa": "kilopascal", "MPa": "megapascal", "bar": "bar",
    "psi": "pound_force_per_square_inch", "deg": "degree", "turn": "360*degree", "V": "volt", "A": "ampere",
    "ohm": "ohm", "kohm": "kiloohm", "%": "0.01", ":1": "1", "m/s": "meter/second", "km/h": "kilometer/hour",
    "Hz": "1/second", "rpm": "1/minute", "mm2": "millimeter**2", "m2": "meter**2", "ml/min": "milliliter/minute",
    "m3/s": "meter**3/second",
}  # fmt: skip
"""Each of our units, and each unit that others are told in, as a library of units that is not ours defines it."""


def test_every_factor_is_exactly_that_of_a_library_that_is_not_ours() -> None:
    registry = pint.UnitRegistry(non_int_type=Fraction, cache_folder=None)

    def ratio(one: str, other: str) -> Fraction:
        quotient = registry.Quantity(registry(IN_PINT[one])) / registry.Quantity(registry(IN_PINT[other]))
        base = quotient.to_base_units()
        assert base.dimensionless, (one, other)
        return Fraction(base.magnitude)

    assert {unit.symbol: unit.factor for unit in FIXED} == {u.symbol: ratio(u.symbol, u.si) for u in FIXED}
    assert {pair: factor(*pair) for pair in PAIRS} == {pair: ratio(*pair) for pair in PAIRS}
    assert len(FIXED) >= 40
    assert len(PAIRS) >= 130
    compared = {unit.symbol for unit in FIXED}
    assert sorted(set(units()) - compared) == ["degC", "month"]  # one unit of its kind; no fixed length
    assert set(IN_PINT) - compared == {"m2", "m3", "m3/s"}


def test_the_units_of_a_dimension_are_told_in_the_same_one() -> None:
    for dimension in dimensions():
        assert len({units()[symbol].si for symbol in units_of(dimension)}) == 1, dimension


@settings(deadline=None, max_examples=60)
@given(
    pair=st.sampled_from(PAIRS),
    value=st.decimals(min_value=0, max_value=99999, places=4, allow_nan=False),
)
def test_there_and_back_is_the_same(pair: tuple[str, str], value: Decimal) -> None:
    there = Quantity(value, pair[0])
    assert there.exactly(pair[1]) / Quantity(Decimal(1), pair[0]).exactly(pair[1]) == value
    assert abs(there.to(pair[1]).to(pair[0]).value - value) <= abs(value) * Decimal("1e-26")


@settings(deadline=None, max_examples=100)
@given(text=st.text(alphabet="0123456789.+-/<>=%, Nmh±:…e", max_size=14))
def test_any_text_is_read_or_refused_by_name(text: str) -> None:
    try:
        found = parse_band(text)
    except QuantityError as error:
        said = (error.name, error.message)
    else:
        said = ("read", str(found))
        assert parse_band(str(found)) == found
        assert parse_band(found.limits).limits == found.limits
    assert all(said)
