"""Tightening orders, places and stages."""

from __future__ import annotations

import math
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from docgen.trade.errors import TradeError
from docgen.trade.pattern import Screw, circle, in_turn, rectangle, row, stages
from docgen.trade.plug import plug
from docgen.trade.quantity import parse_band


def order(places: tuple[Screw, ...]) -> list[int]:
    return [place.member for place in in_turn(places)]


@pytest.mark.parametrize(
    ("n", "expected"),
    [
        (1, [1]),
        (2, [1, 2]),
        (3, [1, 2, 3]),
        (4, [1, 3, 2, 4]),
        (5, [1, 3, 5, 2, 4]),
        (6, [1, 4, 2, 5, 3, 6]),
        (8, [1, 5, 3, 7, 2, 6, 4, 8]),
        (9, [1, 4, 7, 2, 5, 8, 3, 6, 9]),
        (12, [1, 7, 4, 10, 2, 8, 5, 11, 3, 9, 6, 12]),
        (16, [1, 9, 5, 13, 3, 11, 7, 15, 2, 10, 6, 14, 4, 12, 8, 16]),
    ],
)
def test_across_a_circle(n: int, expected: list[int]) -> None:
    """4, 8, 12 and 16 are the legacy cross pattern of ASME PCC-1 (from memory)."""
    assert order(circle(n)) == expected


def test_places_on_a_circle_go_clockwise_from_the_top() -> None:
    assert [(round(place.x, 9), round(place.y, 9)) for place in circle(4)] == [(0, 1), (1, 0), (0, -1), (-1, 0)]


def test_rows_and_rectangles_go_from_the_middle_outwards() -> None:
    assert order(row(1)) == [1]
    assert order(row(4)) == [2, 3, 1, 4]
    assert order(row(5)) == [3, 2, 4, 1, 5]
    assert order(rectangle(2, 2)) == [1, 4, 2, 3]
    assert order(rectangle(3, 2)) == [2, 5, 1, 6, 3, 4]
    assert order(rectangle(3, 3)) == [5, 2, 8, 4, 6, 1, 9, 3, 7]
    assert order(rectangle(3, 3, frame=True)) == [2, 7, 4, 5, 1, 8, 3, 6]
    assert [(place.x, place.y) for place in rectangle(2, 2)] == [(-1, 1), (1, 1), (-1, -1), (1, -1)]


@given(n=st.integers(1, 48))
def test_every_screw_comes_once_and_neighbours_never_follow_each_other_at_first(n: int) -> None:
    for places in (circle(n), row(n)):
        assert sorted(place.turn for place in places) == list(range(1, n + 1))
        assert [place.member for place in places] == list(range(1, n + 1))
        assert all(abs(place.x) <= 1 + 1e-9 and abs(place.y) <= 1 + 1e-9 for place in places)
    if n >= 4:
        first, second, *_ = in_turn(circle(n))
        assert math.dist((first.x, first.y), (second.x, second.y)) > 1.4


@given(columns=st.integers(2, 8), rows=st.integers(2, 8), frame=st.booleans())
def test_on_a_rectangle_no_screw_further_in_is_left_for_later(columns: int, rows: int, frame: bool) -> None:
    places = in_turn(rectangle(columns, rows, frame=frame))
    outwards = [round(math.hypot(place.x, place.y), 6) for place in places]
    assert outwards == sorted(outwards)
    assert len(places) == (2 * (columns + rows) - 4 if frame else columns * rows)


@pytest.mark.parametrize("bad", [lambda: circle(0), lambda: circle(49), lambda: row(0), lambda: rectangle(1, 4)])
def test_patterns_have_their_range(bad: object) -> None:
    assert callable(bad)
    with pytest.raises(TradeError, match="there must be"):
        bad()


def test_stages_rise_to_the_full_torque_and_go_round_once_more() -> None:
    found = stages(parse_band("10.3 N.m +/- 10 %"), Decimal("0.5"), [Decimal("0.3"), Decimal("0.7")])
    assert [(None if stage.torque is None else str(stage.torque), stage.says) for stage in found] == [
        (None, "in order, by hand until each head is seated"),
        ("3.0", "in order"),
        ("7.0", "in order"),
        ("10.3", "in order"),
        ("10.3", "once more, one after the other, until none moves"),
    ]
    assert [stage.torque for stage in stages(parse_band("0.6 N.m"), Decimal("0.5"))] == [
        None,
        Decimal("0.6"),
        Decimal("0.6"),
    ]
    for shares in ([Decimal(1)], [Decimal("0.7"), Decimal("0.3")], [Decimal(0)]):
        with pytest.raises(TradeError, match="must rise between 0 and 1"):
            stages(parse_band("10 N.m"), Decimal(1), shares)
    with pytest.raises(TradeError, match="has no one figure to rise to"):
        stages(parse_band("9..11 N.m"), Decimal(1))


def test_spark_plugs() -> None:
    new = plug("M14", "gasket", "aluminium")
    used = plug("M14", "gasket", "aluminium", gasket="used")
    taper = plug("M14x1.25", "taper", "cast-iron")
    assert (str(new.torque), str(new.turn)) == ("24.4..29.3 N.m", "0.5..0.75 turn")
    assert (str(used.torque), str(used.turn)) == ("24.4..29.3 N.m", "0.0833 turn")
    assert (str(taper.torque), str(taper.turn)) == ("14.6..24.4 N.m", "0.0625 turn")
    assert str(plug("M10").torque) == "9.8..11.8 N.m"
    assert plug("M18", "gasket").turn is None


@pytest.mark.parametrize(
    "asked",
    [
        ("M16", "gasket", "aluminium", "new"),
        ("M14", "cone", "aluminium", "new"),
        ("M14", "gasket", "brass", "new"),
        ("M14", "gasket", "aluminium", "old"),
        ("M8", "gasket", "cast-iron", "new"),
        ("M14x1", "gasket", "aluminium", "new"),
    ],
)
def test_an_unknown_plug_is_no_guess(asked: tuple[str, str, str, str]) -> None:
    thread, seat, head, gasket = asked
    with pytest.raises(TradeError) as caught:
        plug(thread, seat, head, gasket=gasket)
    assert caught.value.name == "unknown-plug"
    assert caught.value.message == f"no chart is known for a plug {thread}, {seat} seat, {head} head, {gasket} gasket"
    assert "M14x1.25 gasket aluminium" in caught.value.hint
