"""Figures of an engine type that a slip of pen, unit or line made wrong are told; a true one can be said to be true."""

from __future__ import annotations

from pathlib import Path

import pytest

from docgen.club.read import read_club
from docgen.proof.gaps import unchecked
from tests.proof.pages import PAGES, club_with, findings, read_page
from tests.proof.slips import after, names

MODEL, CLUB = "models/wren-210t.yaml", "club.yaml"
HOUSING = "torque: 9 N.m +/- 10 %, boss: {material: aluminium, engaged: 12 mm}"
PLUG = "class: 5.8, drive: hex 17 mm, torque: 18 N.m +/- 10 %"

FAULTS = [
    (MODEL, "class: 5.8,", "class: 58,", ["unknown-class"]),
    (MODEL, "thread: M12x1.5,", "thread: M12x1.1,", ["unknown-pitch"]),
    (MODEL, PLUG, "class: 5.8, drive: hex 10 mm, torque: 18 N.m +/- 10 %", ["drive-unlike-thread"]),
    (MODEL, PLUG, "class: 5.8, drive: hex 17 mm, torque: 180 N.m +/- 10 %", ["torque-too-high", "no-wrench-reaches"]),
    (MODEL, HOUSING, HOUSING.replace("9 N.m", "90 N.m"), ["torque-too-high"]),
    (MODEL, HOUSING, HOUSING.replace("9 N.m", "9 lbf.ft"), ["torque-too-high", "unit-unlike-rest"]),
    (MODEL, HOUSING, HOUSING.replace("12 mm", "12 m"), ["size-unlike-trade"]),
    (MODEL, "allow: 0.10..0.16 mm", "allow: 0.18..0.24 mm", ["inlet-above-exhaust"]),
    (MODEL, "allow: 0.15..0.21 mm", "allow: 1.5..2.1 mm", ["gauge-does-not-span"]),
    (MODEL, "allow: 0.10..0.16 mm", "new: 0.010..0.014 mm, allow: 0.10..0.16 mm",
     ["gauge-does-not-span", "limits-contradict"]),
    (MODEL, "oil-change: {hours: 25 h,", "oil-change: {hours: 25 min,", ["time-unlike-trade"]),
    (MODEL, "cool_down: 45 min", "cool_down: 45 h", ["time-unlike-trade"]),
    (MODEL, "air-filter: {name: air filter, number: WR-205, life: 50 h", "air-filter: {name: air filter, life: 50 min",
     ["time-unlike-trade"]),
    (MODEL, "amount: 0.58..0.62 l", "amount: 58..62 l", ["size-unlike-trade"]),
    (MODEL, "screws of the fan housing, count: 4,", "screws of the fan housing,", ["count-unlike-name"]),
    (MODEL, "new: 6.0..8.5 bar", "new: 60..85 bar", ["gauge-does-not-span", "size-unlike-trade"]),
    (MODEL, "lubrication: threadlocker, locker: joint-locker", "lubrication: threadlocker", ["locker-contradicts"]),
    (CLUB, "cures: {handling: 15 min, full: 12 h}", "cures: {handling: 15 min, full: 12 min}", ["cures-contradict"]),
    (CLUB, "reads: 0.01 mm, uncertainty: 0.03 mm", "reads: 0.01 mm, uncertainty: -0.03 mm", ["no-such-gauge"]),
]  # fmt: skip

TRUE = [
    ("drain plug, thread: M12x1.5,", "drain plug, silences: {drive-unlike-thread: A small head.}, thread: M12x1.5,",
     "hex 17 mm, torque: 18", "hex 13 mm, torque: 18", "drive-unlike-thread"),
    ("{name: inlet valve clearance,", "{name: inlet valve clearance, silences: {inlet-above-exhaust: So in the book.},",
     "allow: 0.10..0.16 mm", "allow: 0.18..0.24 mm", "inlet-above-exhaust"),
    ("cool_down: 45 min", "cool_down: 45 h\nsilences: {time-unlike-trade: It stands in sand.}",
     "title: Wren 210T", "title: Wren 210 T", "time-unlike-trade"),
]  # fmt: skip


@pytest.mark.parametrize(("file", "old", "new", "rules"), FAULTS)
def test_a_wrong_figure_is_told(tmp_path: Path, file: str, old: str, new: str, rules: list[str]) -> None:
    assert sorted(set(names(after(tmp_path, file, old, new)))) == sorted(rules)


@pytest.mark.parametrize(("old", "new", "other", "instead", "rule"), TRUE)
def test_an_unusual_but_true_figure_is_said_with_its_reason(
    tmp_path: Path, old: str, new: str, other: str, instead: str, rule: str
) -> None:
    found = after(tmp_path, MODEL, old, new, (other, instead))
    assert [(one.name, one.level) for one in found] == [(rule, "note")]
    assert any(line.startswith("silenced here: ") for line in found[0].trail)


def test_a_silence_of_a_model_that_silences_nothing_is_told(tmp_path: Path) -> None:
    idle = "drain plug, silences: {torque-too-low: It was low once.}, thread: M12x1.5,"
    (found,) = after(tmp_path, MODEL, "drain plug, thread: M12x1.5,", idle)
    assert (found.name, found.message) == ("silence-of-nothing", "torque-too-low finds nothing here to silence")


def test_a_sealing_plug_may_be_slack(tmp_path: Path) -> None:
    assert after(tmp_path, MODEL, PLUG, PLUG.replace("18 N.m", "7 N.m")) == []
    slack = after(tmp_path, MODEL, PLUG, PLUG.replace("18 N.m", "7 N.m"), ("10 %, sealing: true, boss", "10 %, boss"))
    assert names(slack) == ["torque-too-low"]


def test_the_screw_is_checked_whatever_it_goes_into(tmp_path: Path) -> None:
    steel = "torque: 9 N.m +/- 10 %, boss: {material: steel, engaged: 8 mm}"
    found = after(tmp_path, MODEL, steel, steel.replace("9 N.m", "29 N.m"))
    assert "torque-too-high" in names(found)


def test_what_is_not_checked_says_why(tmp_path: Path) -> None:
    after(tmp_path, MODEL, "drain plug, thread: M12x1.5, class: 5.8,", "drain plug,",
          ("sealing: true, boss: {material: aluminium, engaged: 12 mm}", "sealing: true"))  # fmt: skip
    assert [str(one) for one in unchecked(read_club(tmp_path))] == [
        "models/wren-210t.yaml:39 starter-screws: the thread that it goes into is not checked, because the strength of"
        " steel is in no table",
        "models/wren-210t.yaml:50 drain-plug: its torque is not checked, because the model gives no thread",
    ]


NUT = "thread: M12x1.25, class: '8', drive: hex 17 mm, "


@pytest.mark.parametrize(
    ("first", "small", "told"),
    [
        ("torque: 20 N.m +/- 10 %", "torque: 10 N.m +/- 10 %", "20 N.m +/- 10 % here, but 10 N.m +/- 10 % on small"),
        ("torque: 10 N.m +/- 10 %", "torque: 20 N.m +/- 10 %", "10 N.m +/- 10 % here, but 20 N.m +/- 10 % on small"),
        ("torque: 20 N.m +/- 10 %", "torque: 12 N.m +/- 10 %", None),
        # What bears less, slips better or only seals may well get half.
        ("torque: 20 N.m +/- 10 %", "boss: {material: aluminium}, torque: 10 N.m +/- 10 %", None),
        ("torque: 20 N.m +/- 10 %", "lubrication: oiled, torque: 10 N.m +/- 10 %", None),
        ("torque: 20 N.m +/- 10 %", "sealing: true, torque: 10 N.m +/- 10 %", None),
    ],
)
def test_half_the_torque_of_the_only_other_type_is_told_once(
    tmp_path: Path, first: str, small: str, told: str | None
) -> None:
    models = read_page(PAGES / "torque-unlike-others.md").passing
    plain = "thread: M12x1.25, drive: hex 17 mm, torque: 20 N.m +/- 10 %"
    model = models["models/first.yaml"]
    assert plain in model
    files = {f"models/{name}.yaml": model.replace(plain, NUT + torque).replace("model: first", f"model: {name}")
             for name, torque in (("first", first), ("small", small))}  # fmt: skip
    found = [one for one in findings(club_with(tmp_path / "club", files), None, None) if "unlike" in one.name]
    said = [("models/first.yaml", "torque-unlike-others", "note", f"hub-nut is {told}")] if told else []
    assert [(one.path, one.name, one.level, one.message) for one in found] == said
