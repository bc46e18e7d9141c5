"""The paginator: blocks of random heights stand whole, in order, without overlap, on as few faces as filling needs."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from docgen.press.paginate import WIDE, Block, Placement, TooTall, paginate, room
from docgen.sheets.page import Body

FIRST, OTHERS = 200.0, 250.0
NEAR = 1e-6


def sheet_of(first: float, others: float, *, stretch: float = 0.0, even: bool = False) -> Body:
    """Faces of such heights."""
    return Body(10, 90, (20, first), (20, others), stretch=stretch, even=even)


blocks = st.lists(
    st.builds(
        Block,
        height=st.floats(1, 60),
        columns=st.sampled_from([WIDE, 2, 2, 2]),
        with_next=st.sampled_from([False, False, False, True]),
        early=st.sampled_from([0.0, 1.0]),
    ),
    min_size=1,
    max_size=60,
)


def order(place: Placement, columns: int) -> tuple[int, float, int, float]:
    """What comes first on paper within one run."""
    return (place.face, 0.0, place.column, place.top) if columns > WIDE else (place.face, place.top, 0, place.top)


@given(blocks, st.booleans(), st.floats(0, 5))
def test_every_block_stands_whole_in_its_order_and_on_nothing_else(
    found: list[Block], even: bool, stretch: float
) -> None:
    sheet = sheet_of(FIRST, OTHERS, stretch=stretch, even=even)
    try:
        places = paginate(found, sheet)
    except TooTall as error:
        group, height = error.block, 0.0
        while True:
            height += found[group].height
            if not found[group].with_next or group + 1 == len(found):
                break
            group += 1
        assert height > OTHERS
        return
    assert len(places) == len(found)
    for block, place in zip(found, places, strict=True):
        assert 0 <= place.column < block.columns
        assert place.top >= -NEAR
        assert place.top + block.height + place.grown <= room(sheet, place.face) + 1e-3
    for n, (block, place) in enumerate(zip(found, places, strict=True)):
        for other, at in zip(found[n + 1 :], places[n + 1 :], strict=True):
            assert at.face >= place.face
            if at.face == place.face and (WIDE in (block.columns, other.columns) or at.column == place.column):
                assert at.top >= place.top + block.height - 1e-3
            if at.face == place.face and block.columns == other.columns > WIDE and n + 1 == len(found):
                assert order(at, 2) > order(place, 2)


@given(blocks)
def test_what_stays_with_the_next_stands_directly_above_it(found: list[Block]) -> None:
    try:
        places = paginate(found, sheet_of(FIRST, OTHERS))
    except TooTall:
        return
    for n, block in enumerate(found[:-1]):
        if block.with_next and found[n + 1].columns == block.columns:
            assert (places[n].face, places[n].column) == (places[n + 1].face, places[n + 1].column)
            assert places[n + 1].top == pytest.approx(places[n].top + block.height)


@given(st.lists(st.floats(5, 80), min_size=1, max_size=80))
def test_one_run_takes_no_more_faces_than_filling_each_column(heights: list[float]) -> None:
    places = paginate([Block(height, 2) for height in heights], sheet_of(FIRST, OTHERS, even=True))
    faces, column, used = 0, 0, 0.0
    for height in heights:
        room = FIRST if faces == 0 else OTHERS
        if used + height > room:
            column, used = column + 1, 0.0
            if column == 2:
                faces, column = faces + 1, 0
        used += height
    assert places[-1].face == faces


def test_an_even_sheet_fills_its_faces_alike_and_stretches_what_is_left() -> None:
    places = paginate([Block(20, 2)] * 30, sheet_of(200, 200, stretch=4, even=True))  # 600 in four columns of 200
    columns: dict[tuple[int, int], list[float]] = {}
    for place in places:
        columns.setdefault((place.face, place.column), []).append(place.top)
    assert sorted(len(tops) for tops in columns.values()) == [7, 7, 8, 8]
    assert {round(b - a, 6) for tops in columns.values() for a, b in pairwise(tops)} == {24.0}


def test_a_run_that_others_follow_is_balanced_above_them() -> None:
    places = paginate([*[Block(30, 2)] * 4, Block(10), *[Block(20, 2)] * 2], sheet_of(200, 200))
    assert [(p.face, p.column, p.top) for p in places] == [
        (0, 0, 0), (0, 0, 30), (0, 1, 0), (0, 1, 30), (0, 0, 60), (0, 0, 70), (0, 1, 70),
    ]  # fmt: skip


def test_a_strip_over_the_full_width_stays_with_the_columns_below_it() -> None:
    """20 mm are left below the columns of the first face: enough for the strip, and not for what it stays with."""
    found = [*[Block(80, 2)] * 2, Block(15, spare=1, with_next=True), *[Block(20, 2)] * 4]
    strip, below = paginate(found, sheet_of(100, 100))[2:4]
    assert (strip.face, strip.top, below.face, below.top) == (1, 0, 1, 15)


def test_a_face_begins_with_a_stage_rather_than_in_the_middle_of_one() -> None:
    found = [Block(20, 1 + 1, early=1.0 if n in (0, 9) else 0.0) for n in range(16)]
    places = paginate(found, sheet_of(100, 100, even=True))
    assert places[9].face == 1
    assert places[9].top == 0
    assert places[8].face == 0


def test_what_grows_takes_what_is_left_of_its_face() -> None:
    places = paginate([Block(50), Block(20, grows=500), Block(30)], sheet_of(200, 200))
    assert [(p.top, p.grown) for p in places] == [(0, 0), (50, 100), (170, 0)]
    places = paginate([Block(50), Block(20, grows=40), Block(30)], sheet_of(200, 200))
    assert [(p.top, p.grown) for p in places] == [(0, 0), (50, 40), (110, 0)]


def test_a_group_that_fits_on_no_face_is_named() -> None:
    with pytest.raises(TooTall) as error:
        paginate([Block(10), Block(150, with_next=True), Block(120)], sheet_of(200, 250))
    assert (error.value.block, error.value.by) == (1, 20)
    assert str(error.value) == "block 1 is 20.0 too high for a face"
