"""Repairs of a stripped thread."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from docgen.trade.errors import TradeError
from docgen.trade.friction import friction, seat
from docgen.trade.materials import boss, property_class
from docgen.trade.retap import INSERT_LENGTHS, insert, insert_strip_load, next_size, retap
from docgen.trade.stripping import internal_area_mm2, strip_load
from docgen.trade.threads import thread, threads
from docgen.trade.tightening import Joint, estimate


def test_one_size_up() -> None:
    sizes = {
        name: next_size(thread(name)).name for name in ("M3", "M4", "M5", "M6", "M6x0.75", "M8", "M8x1", "M10", "M12")
    }
    assert sizes == {
        "M3": "M4x0.7",
        "M4": "M5x0.8",
        "M5": "M6x1",
        "M6": "M8x1.25",
        "M6x0.75": "M8x1.25",
        "M8": "M10x1.5",
        "M8x1": "M10x1.5",
        "M10": "M12x1.75",
        "M12": "M14x2",
    }
    with pytest.raises(TradeError, match="no thread of the table is large enough to replace M16x2"):
        next_size(thread("M16"))


def test_a_retap_says_what_it_voids_and_changes() -> None:
    done = retap(thread("M6"), thread("M8"), 12)
    assert done.voids == ("torque given for M6x1", "drive given for M6x1", "source of both")
    assert done.changes == (
        "hexagon 10 mm becomes 13 mm; key of a cap screw 5 mm becomes 6 mm",
        "hole in the part above: 6.6 mm becomes 9 mm",
    )
    assert done.drill_mm == 6.8
    assert done.area_before_mm2 == internal_area_mm2(thread("M6"), 12)
    assert done.area_after_mm2 == internal_area_mm2(thread("M8"), 12)


def test_a_drill_that_leaves_the_old_thread_is_refused() -> None:
    with pytest.raises(TradeError) as caught:
        retap(thread("M8"), thread("M8x1"), 12)
    assert caught.value.name == "old-thread-remains"
    assert caught.value.message == "the 7 mm hole for M8x1 leaves part of the old M8x1.25"
    assert caught.value.hint == "the next size is M10x1.5"


def test_a_retap_raises_what_the_boss_allows_and_the_new_torque_follows() -> None:
    screw = property_class("8.8")

    def governed(name: str) -> tuple[str, float]:
        of = thread(name)
        found = estimate(Joint(of, screw, friction("oiled", screw), seat(of), strip_load(of, screw, boss("AZ91", 12))))
        return found.governs, found.ceiling_nm

    assert governed("M6")[1] < governed("M8")[1]
    assert governed("M8")[0] == "boss"


@given(name=st.sampled_from(list(threads())), diameters=st.sampled_from(INSERT_LENGTHS[1:]))
def test_an_insert_makes_the_boss_stronger_and_keeps_the_screw(name: str, diameters: float) -> None:
    of = thread(name)
    done = insert(of, diameters)
    assert done.before == done.after == of
    assert of.d_mm < done.drill_mm < of.d_mm + of.pitch_mm
    assert 1 < done.strength_ratio < 1.6


def test_an_insert_in_a_joint() -> None:
    of, screw = thread("M6"), property_class("8.8")
    strip = insert_strip_load(insert(of, 2), boss("AZ91", 12))
    assert strip.says == "insert for M6x1 in AZ91 (magnesium), shear strength 140 MPa"
    found = estimate(Joint(of, screw, friction("oiled", screw), seat(of), strip))
    assert found.governs == "screw"
    assert insert(of, 2).changes == (
        "tap for the insert: outside 7.30 mm, hole at least 6.22 mm",
        "insert 12 mm long (2 d)",
    )
    with pytest.raises(TradeError) as caught:
        insert(of, 1.2)
    assert (caught.value.message, caught.value.hint) == (
        "an insert is not made 1.2 d long",
        "lengths: 1, 1.5, 2, 2.5 d",
    )
