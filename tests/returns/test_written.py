"""Figures, dates and hours as people write them: every spelling of a figure is that figure, and nothing else passes."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from docgen.job import wording
from docgen.job.frozen_before import Printed
from docgen.returns.diagnostic import Refused
from docgen.returns.numbers import Figure, read_figure
from docgen.returns.writing import lines, one_line, read_date, read_hours, ticked
from docgen.trade.quantity import Band, Quantity, QuantityError
from docgen.trade.units import find_unit, units

WIDE = str.maketrans("0123456789.,-", "０１２３４５６７８９．，－")
UNITS = sorted(set(units()) - {":1"})


@given(
    value=st.decimals(0, 99999, places=3).map(lambda d: Decimal(str(d)).normalize() + 0),
    unit=st.sampled_from(UNITS),
    comma=st.booleans(),
    bare=st.booleans(),
    gap=st.sampled_from(["", " ", "  ", "\u00a0"]),
    spelt=st.integers(0, 20),
    wide=st.booleans(),
)
def test_every_spelling_of_a_figure_is_that_figure(
    value: Decimal, unit: str, comma: bool, bare: bool, gap: str, spelt: int, wide: bool
) -> None:
    figure = f"{value:f}"
    if bare and figure.startswith("0."):
        figure = figure[1:]
    if comma and unit not in ("rpm", "Hz"):
        figure = figure.replace(".", ",")
    spellings = ["", unit, *(one for one in find_unit(unit).also if not one[0].isdecimal())]
    written = f"{figure}{gap}{spellings[spelt % len(spellings)]}".strip()
    found = read_figure(f" {written.translate(WIDE) if wide else written} ", unit)
    assert found.quantity == Quantity(value, unit)
    assert (found.said == "") == (written in (f"{value}", f"{value} {unit}") and not wide)


@given(st.text(max_size=30), st.sampled_from(UNITS))
def test_any_text_is_a_figure_or_is_refused(text: str, unit: str) -> None:
    try:
        found = read_figure(text, unit)
    except Refused:
        return
    assert any(char.isdecimal() or char in "½¼¾" or char.isnumeric() for char in text)
    assert read_figure(str(found.quantity), unit).quantity.exactly(unit) == found.quantity.exactly(unit)


@given(st.integers(0, 400), st.integers(1, 9), st.sampled_from([2, 4, 5, 8, 10]))
def test_turns_are_written_as_fractions(whole: int, top: int, under: int) -> None:
    if top >= under:
        return
    expected = whole + Decimal(top) / Decimal(under)
    for text in (f"{whole} {top}/{under}", f"{whole}-{top}/{under}", f"{whole} {top} / {under} turns"):
        assert read_figure(text, "turn").quantity == Quantity(expected, "turn")


@pytest.mark.parametrize(
    ("text", "unit", "name"),
    [
        *(
            (text, "mm", "not-a-figure")
            for text in ("1.234,5", "0.4-0.5", "<0.5", "1 000", "1e3", "0. 5", "5,", "~0.5")
        ),
        *((text, "mm", "not-a-figure") for text in ("0.5±0.1", "0.5 0.6", "0.5+", "1/2", "ok")),
        *((text, "turn", "not-a-figure") for text in ("1/3", "3/2", "1/0")),
        ("12,500", "rpm", "two-ways-to-read"),
        ("-3", "h", "negative-figure"),
        ("5 furlong", "mm", "unknown-unit"),
        ("0.45 bar", "mm", "wrong-unit"),
    ],
)
def test_what_is_no_single_figure_is_refused_by_name(text: str, unit: str, name: str) -> None:
    with pytest.raises(Refused) as caught:
        read_figure(text, unit)
    assert caught.value.said.name == name
    assert caught.value.said.hint


def test_another_unit_of_the_same_kind_stands_and_is_told() -> None:
    assert read_figure("0.018 in", "mm") == Figure(
        Quantity(Decimal("0.018"), "in"), '"0.018 in" understood as 0.018 in, that is 0.4572 mm'
    )


@given(st.dates(date(1990, 1, 1), date(2100, 1, 1)))
def test_every_clear_way_to_write_a_date(day: date) -> None:
    months = "January February March April May June July August September October November December".split()
    name = months[day.month - 1]
    for text in (
        day.isoformat(), f"{day.day}.{day.month}.{day.year}", f"{day.day:02}. {day.month:02}. {day.year}",
        f"{day.year}/{day.month}/{day.day}", f"{day.day} {name} {day.year}", f"{name[:3]} {day.day}, {day.year}",
        f"{day.day}th {name[:3]}. {day.year}",
    ):  # fmt: skip
        assert read_date(text) == (day, "" if text == day.isoformat() else f'"{text}" understood as {day}')
    slashed = f"{day.day}/{day.month}/{day.year}"
    if day.day > 12 or day.day == day.month:
        assert read_date(slashed)[0] == day
    else:
        with pytest.raises(Refused, match="may be"):
            read_date(slashed)


@given(st.text(max_size=30))
def test_any_text_is_a_date_or_is_refused(text: str) -> None:
    try:
        found, _ = read_date(text)
    except Refused:
        return
    assert found is None or isinstance(found, date)


@given(st.integers(0, 9999), st.integers(0, 59))
def test_hours_and_minutes_are_exact(hours: int, minutes: int) -> None:
    for text in (f"{hours}:{minutes:02}", f"{hours} h {minutes} min", f"{hours}h{minutes:02}"):
        assert read_hours(text).quantity.exactly("min") == 60 * hours + minutes


@given(st.text(max_size=80))
def test_text_is_kept_but_for_what_cannot_be_seen(text: str) -> None:
    line = one_line(text)
    assert line == one_line(line)
    assert "\n" not in line
    assert " ".join(one for one in lines(text)).split() == line.split()


def test_names_of_all_scripts_stay_as_they_are() -> None:
    for name in ("Zoë Kőszegi", "鈴木 一郎", "Łukasz Ćwikła", "Ελένη", "עדי"):
        assert one_line(f" {name}\r\n") == name
    assert one_line("A\u200bB\u202ec\x07d") == "ABcd"
    assert one_line("５ mm，Bohrung") == "5 mm，Bohrung"


def test_ticks_of_every_viewer() -> None:
    assert [ticked(value) for value in ("on", "/Yes", "1", "Ja", "Off", "/Off", "", "0")] == [True] * 4 + [False] * 4


_FIGURE = st.decimals(-50, 50, places=2).map(lambda d: Decimal(str(d)) + 0)


@given(
    _FIGURE,
    _FIGURE,
    st.sampled_from(["mm", "bar", "V", "deg", "um"]),
    st.sampled_from(["both", "high", "low", "about"]),
)
def test_a_printed_band_is_read_back_as_it_was(one: Decimal, other: Decimal, unit: str, ends: str) -> None:
    low, high = min(one, other), max(one, other)
    try:
        if ends == "about":
            written = f"{high} {unit} +/- {abs(low)} {unit}"
            band = Band(high - abs(low), high + abs(low), unit, high, written)
        else:
            band = Band(low if ends != "high" else None, high if ends != "low" else None, unit)
    except QuantityError:
        return
    found = Printed(wording.IN_ENGLISH).band(wording.band(band))
    assert found is not None
    assert (found.low, found.high, found.unit) == (band.low, band.high, band.unit)
