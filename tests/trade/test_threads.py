"""Threads: names, limits of size against the standard's own formulas, and their order."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from docgen.trade.errors import TradeError
from docgen.trade.friction import seat
from docgen.trade.materials import Boss, boss, property_class, property_classes
from docgen.trade.tables import read_table
from docgen.trade.threads import thread, threads

NAMES = list(threads())
SIZES = "M2.5 M3 M3.5 M4 M5 M6 M7 M8 M10 M12 M14 M16"
R40 = [100, 106, 112, 118, 125, 132, 140, 150, 160, 170, 180, 190, 200, 212, 224, 236, 250, 265, 280, 300, 315, 335]
R40 += [355, 375, 400, 425, 450, 475, 500, 530, 560, 600, 630, 670, 710, 750, 800, 850, 900, 950]


@pytest.mark.parametrize(
    ("written", "name"),
    [
        ("M6", "M6x1"),
        ("M8", "M8x1.25"),
        ("M8x1", "M8x1"),
        (" M10 x 1.25 ", "M10x1.25"),
        ("M10X1.25", "M10x1.25"),
        ("M10×1.25", "M10x1.25"),
        ("M2.5", "M2.5x0.45"),
    ],
)
def test_names_are_read(written: str, name: str) -> None:
    assert str(thread(written)) == name


@pytest.mark.parametrize(
    ("written", "hint"),
    [
        ("M6x1.25", "known: M6x1, M6x0.75"),
        ("M9", f"known sizes: {SIZES}"),
        ("1/4-20", f"write a metric thread as M8x1.25; known sizes: {SIZES}"),
        ("", f"write a metric thread as M8x1.25; known sizes: {SIZES}"),
    ],
)
def test_an_unknown_thread_is_refused_with_what_there_is(written: str, hint: str) -> None:
    with pytest.raises(TradeError) as caught:
        thread(written)
    assert caught.value.name == "unknown-thread"
    assert (caught.value.message, caught.value.hint) == (f'"{written}" is not a thread of the table', hint)


def test_every_size_from_m2_5_to_m16_has_one_coarse_thread_and_a_head() -> None:
    sizes = {each.d_mm for each in threads().values()}
    assert sizes == {2.5, 3, 3.5, 4, 5, 6, 7, 8, 10, 12, 14, 16}
    for size in sizes:
        same = [each for each in threads().values() if each.d_mm == size]
        assert [each.coarse for each in same] == [True] + [False] * (len(same) - 1)
        assert same[0].pitch_mm == max(each.pitch_mm for each in same)


@pytest.mark.parametrize("name", NAMES)
def test_sizes_are_in_their_order(name: str) -> None:
    of = thread(name)
    limits = of.limits
    assert of.core_mm < of.internal_minor_mm < of.pitch_diameter_mm < of.d_mm
    assert of.core_mm < of.stress_diameter_mm < of.pitch_diameter_mm
    assert max(limits.hole_minor_max, limits.screw_pitch_min) < of.pitch_diameter_mm < limits.hole_pitch_max
    assert limits.hole_pitch_max < limits.screw_major_min < of.d_mm
    assert of.internal_minor_mm < of.tapping_drill_mm < limits.hole_minor_max
    assert of.tapping_drill_mm == pytest.approx(of.d_mm - of.pitch_mm, abs=0.051)


def test_tolerances_agree_with_the_standards_formulas() -> None:
    """ISO 965-1 gives each tolerance by a formula, rounded to the R40 series: the table may be one R40 step off."""

    def near(value: float, formula: float) -> bool:
        steps = sorted({each / scale for each in R40 for scale in (1, 10)} | {float(each) for each in R40})
        below = max(each for each in steps if each <= formula)
        above = min(each for each in steps if each > formula)
        return value in (below, above) or abs(value - formula) / formula < 0.03

    pitches = read_table("thread_tolerances_by_pitch")
    for row in pitches:
        pitch = float(row["pitch_mm"])
        assert abs(int(row["es_g_um"]) - (15 + 11 * pitch)) < 1.3
        assert near(int(row["td_6_um"]), 180 * pitch ** (2 / 3) - 3.15 / math.sqrt(pitch)), row
        hole = 433 * pitch - 190 * pitch**1.22 if pitch <= 0.8 else 230 * pitch**0.7
        assert near(int(row["td1_6_um"]), hole), row
    for row in read_table("thread_tolerances_by_diameter"):
        mean = math.sqrt(float(row["over_d_mm"]) * float(row["to_d_mm"]))
        formula = 90 * float(row["pitch_mm"]) ** 0.4 * mean**0.1
        assert near(int(row["td2_6_um"]), formula), row
        assert near(int(row["t_d2_internal_6_um"]), 1.32 * int(row["td2_6_um"])), row
    assert len(pitches) == 12


@pytest.mark.parametrize("name", sorted(property_classes()))
def test_classes_are_ordered_and_proof_is_below_yield(name: str) -> None:
    of = property_class(name)
    assert 0 < of.yield_mpa < of.tensile_mpa
    assert of.proof_mpa is None or 0.87 * of.yield_mpa < of.proof_mpa < 0.95 * of.yield_mpa
    assert (of.proof_mpa is None) == (of.kind == "stainless")
    assert of.proof_means == ("0.2 % yield load" if of.kind == "stainless" else "proof load")
    if of.kind == "screw":  # the marking itself gives nominal strength and ratio
        first, second = name.split(".")
        assert of.tensile_mpa >= 100 * int(first)
        assert of.yield_mpa >= 10 * int(first) * int(second)


def test_a_nut_class_stands_for_the_screw_it_may_be_paired_with() -> None:
    assert property_class("8").yield_mpa == property_class("8.8").yield_mpa
    assert property_class("10").proof_mpa == property_class("10.9").proof_mpa


def test_unknown_materials_are_refused() -> None:
    with pytest.raises(TradeError) as caught:
        property_class("8.9")
    assert (caught.value.name, caught.value.hint) == ("unknown-property-class", "did you mean 8.8?")
    with pytest.raises(TradeError) as caught:
        boss("PA66", 10)
    assert caught.value.message == 'the shear strength of "PA66" is not known'
    assert caught.value.hint.endswith("or give the shear strength")
    assert Boss("PA66, 30 % glass", 60, 10).source == "given"
    with pytest.raises(TradeError, match="shear strength of the boss is 2 MPa"):
        Boss("chewing gum", 2, 10)


def test_heads_are_wider_than_their_holes() -> None:
    checked = 0
    for each in threads().values():
        if each.d_mm == 3.5:
            with pytest.raises(TradeError, match=f"no standard head is known for {each}"):
                seat(each)
            continue
        for head in ("hex", "cap") if each.d_mm != 7 else ("hex",):
            under = seat(each, head)
            assert each.d_mm < under.hole_mm < under.mean_mm < under.face_mm
            checked += 1
    assert checked > 40
    with pytest.raises(TradeError, match="known: hex, cap"):
        seat(thread("M6"), "round")
    with pytest.raises(TradeError, match='"cap" is not a known head'):
        seat(thread("M7"), "cap")


@given(a=st.sampled_from(NAMES), b=st.sampled_from(NAMES))
def test_a_larger_thread_of_the_same_pitch_carries_more(a: str, b: str) -> None:
    one, two = sorted((thread(a), thread(b)), key=lambda each: each.d_mm)
    if one.pitch_mm == two.pitch_mm and one.d_mm < two.d_mm:
        assert one.stress_area_mm2 < two.stress_area_mm2
    if one.d_mm == two.d_mm and one.pitch_mm < two.pitch_mm:
        assert one.stress_area_mm2 > two.stress_area_mm2
