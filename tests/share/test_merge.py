"""Two clubs' changes put together: nothing of either is lost, and what both changed is never mixed."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from docgen.club.yamldoc import Data
from docgen.share.merge import Conflict, Merged, merge

BOOK: dict[str, Data] = {"procedure": "x", "revision": "3", "dated": "2030-01-01"}


def step(text: str, **more: Data) -> dict[str, Data]:
    return {"do": text, **more}


def job(*steps: dict[str, Data], **more: Data) -> dict[str, Data]:
    return {**BOOK, "stages": [{"stage": "Open", "steps": list(steps)}], **more}


ONE, TWO, THREE = step("Undo the clutch nut."), step("Take the drum off."), step("Clean the drum.", takes="4 min")
NEW, OTHER = step("Turn the engine over by hand."), step("Look at the plug for deposits.")
WELL, LONG = step("Clean the drum well.", takes="4 min"), step("Clean the drum.", takes="9 min")
TWO_SAID, TWO_OTHERWISE = step("Take the drum off straight."), step("Take the drum off with both hands.")


def steps(merged: Merged) -> list[Any]:
    stages = merged.data["stages"]
    assert isinstance(stages, list)
    return [one for stage in stages for one in stage["steps"]]  # type: ignore[index,union-attr,call-overload]


BASE = job(ONE, TWO, THREE)
TOGETHER = {
    "one reworded, another added": (job(ONE, TWO_SAID, THREE), job(ONE, TWO, THREE, NEW), [ONE, TWO_SAID, THREE, NEW]),
    "both added, in different places": (job(NEW, ONE, TWO, THREE), job(ONE, TWO, THREE, OTHER),
                                        [NEW, ONE, TWO, THREE, OTHER]),
    "one taken out, another changed": (job(TWO, THREE), job(ONE, TWO, LONG), [TWO, LONG]),
    "both the same": (job(ONE, TWO_SAID, THREE), job(ONE, TWO_SAID, THREE), [ONE, TWO_SAID, THREE]),
    "both took the same out": (job(ONE, THREE), job(ONE, THREE), [ONE, THREE]),
    "only ours": (job(NEW, ONE, TWO, THREE), BASE, [NEW, ONE, TWO, THREE]),
    "only theirs": (BASE, job(ONE, THREE), [ONE, THREE]),
}  # fmt: skip


@pytest.mark.parametrize(("ours", "theirs", "result"), TOGETHER.values(), ids=TOGETHER)
def test_what_goes_together(ours: dict[str, Data], theirs: dict[str, Data], result: list[Data]) -> None:
    merged = merge(BASE, ours, theirs)
    assert merged.conflicts == []
    assert steps(merged) == result


def row(one: dict[str, Data]) -> str:
    """A step as it stands in the text of a stage."""
    return "".join(f"      {'  ' if n else '- '}{key}: {value}\n" for n, (key, value) in enumerate(one.items()))


APART = {
    "both reworded it": (job(ONE, TWO_SAID, THREE), job(ONE, TWO_OTHERWISE, THREE), [TWO], [TWO_SAID], [TWO_OTHERWISE]),
    "ours took out what theirs reworded": (job(ONE, THREE), job(ONE, TWO_SAID, THREE), [TWO], [], [TWO_SAID]),
    "theirs took out what ours reworded": (job(ONE, TWO_SAID, THREE), job(ONE, THREE), [TWO], [TWO_SAID], []),
    "both added at one place": (job(ONE, NEW, TWO, THREE), job(ONE, OTHER, TWO, THREE), [], [NEW], [OTHER]),
    "one changed the text of a step, the other its time": (
        job(ONE, TWO, WELL), job(ONE, TWO, LONG), [THREE], [WELL], [LONG]),
    "one took out the step before the one that the other changed": (
        job(ONE, THREE), job(ONE, TWO, LONG), [TWO, THREE], [THREE], [TWO, LONG]),
}  # fmt: skip


@pytest.mark.parametrize(("ours", "theirs", "was", "here", "there"), APART.values(), ids=APART)
def test_what_is_left_side_by_side(
    ours: dict[str, Data], theirs: dict[str, Data], was: list[Any], here: list[Any], there: list[Any]
) -> None:
    merged = merge(BASE, ours, theirs)
    assert merged == Merged(ours, [Conflict(*(tuple(map(row, side)) for side in (was, here, there)))])


def test_what_both_added_in_two_places_and_cannot_be_read_together() -> None:
    here = {"procedure": "x", "code": "XAB", "title": "X"}
    there = {"procedure": "x", "title": "X", "code": "XCD"}
    merged = merge({"procedure": "x", "title": "X"}, here, there)  # type: ignore[arg-type]
    assert merged.data == here
    assert [one.why for one in merged.conflicts] == ['the key "code" stands here a second time; the first is at line 4']


NUT: dict[str, Data] = {"thread": "M10x1", "torque": "34 N.m", "locker": "medium"}
ENGINE: dict[str, Data] = {"model": "m", "fasteners": {"nut": NUT, "plug": {"torque": "25 N.m"}}, "equipment": ["a"]}


def engine(**fasteners: Data) -> dict[str, Data]:
    held: Data = {"nut": NUT, "plug": {"torque": "25 N.m"}, **fasteners}
    return {**ENGINE, "fasteners": held}


def test_two_fasteners_changed_go_together() -> None:
    merged = merge(ENGINE, engine(nut={**NUT, "torque": "36 N.m"}), engine(plug={"torque": "22 N.m"}))
    assert merged == Merged(engine(nut={**NUT, "torque": "36 N.m"}, plug={"torque": "22 N.m"}), [])


def test_one_fastener_of_which_one_changed_the_torque_and_the_other_the_locker_is_never_mixed() -> None:
    ours, theirs = {**NUT, "torque": "36 N.m"}, {**NUT, "locker": "high"}
    merged = merge(ENGINE, engine(nut=ours), engine(nut=theirs))
    assert [len(side) for one in merged.conflicts for side in (one.base, one.ours, one.theirs)] == [1, 1, 1]
    assert merged.data == engine(nut=ours)


def test_new_entries_keep_their_order() -> None:
    theirs = {**ENGINE, "fasteners": {"first": {}, "nut": NUT, "behind": {}, "plug": {"torque": "25 N.m"}}}
    assert list(merge(ENGINE, ENGINE, theirs).data["fasteners"]) == ["first", "nut", "behind", "plug"]  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("ours", "theirs", "result"),
    [
        (("3", "2030-01-01"), ("4", "2030-03-01"), ("5", "2030-03-01")),
        (("4", "2030-02-01"), ("4", "2030-03-01"), ("5", "2030-03-01")),
        (("7", "2030-05-01"), ("4", "2030-03-01"), ("8", "2030-05-01")),
    ],
)
def test_the_revision_of_what_both_changed(
    ours: tuple[str, str], theirs: tuple[str, str], result: tuple[str, str]
) -> None:
    here = job(ONE, TWO_SAID, THREE) | {"revision": ours[0], "dated": ours[1]}
    there = job(ONE, TWO, THREE, NEW) | {"revision": theirs[0], "dated": theirs[1]}
    data = merge(BASE, here, there).data
    assert (data["revision"], data["dated"]) == result


def test_the_revision_of_what_only_they_changed() -> None:
    there = job(ONE, TWO, THREE, NEW) | {"revision": "4", "dated": "2030-03-01"}
    assert merge(BASE, BASE, there).data == there
    assert merge(BASE, there, there).data == there


def test_a_step_moved_over_a_heading_and_reworded_is_not_lost() -> None:
    two = [{"stage": "A", "steps": [ONE, TWO]}, {"stage": "B", "steps": [THREE]}]
    moved = [{"stage": "A", "steps": [ONE]}, {"stage": "B", "steps": [TWO, THREE]}]
    said = [{"stage": "A", "steps": [ONE, TWO_SAID]}, {"stage": "B", "steps": [THREE]}]
    merged = merge({**BOOK, "stages": two}, {**BOOK, "stages": moved}, {**BOOK, "stages": said})  # type: ignore[dict-item]
    assert any(row(TWO_SAID) in one.theirs for one in merged.conflicts)
    assert merged.data["stages"] == moved


# --- whatever the two sides do ---------------------------------------------------------------------------------------

ALPHA = ("nut", "drum", "plug", "seal", "reed", "chain", "pump", "head", "coil", "pipe", "ring", "shaft")
BEGIN = [step(f"{name} {name} {name} is looked at by {name}", id=name) for name in ALPHA]
ACTS = st.lists(
    st.tuples(st.integers(0, len(BEGIN) - 1), st.sampled_from(["leave out", "say otherwise", "put before"])), max_size=5
)


def edited(acts: list[tuple[int, str]], who: str) -> tuple[list[dict[str, Data]], set[str], set[str]]:
    """The steps after some edits, what was taken out, and the texts that are new."""
    found, gone, new = [], set(), set()
    by = dict(acts)
    for at, one in enumerate(BEGIN):
        act = by.get(at)
        if act == "put before":
            found.append(step(f"{who} {at}", id=f"{who}-{at}"))
            new.add(f"{who} {at}")
        if act == "leave out":
            gone.add(str(one["do"]))
            continue
        found.append({**one, "do": f"{one['do']} {who}"} if act == "say otherwise" else one)
        if act == "say otherwise":
            gone.add(str(one["do"]))
            new.add(f"{one['do']} {who}")
    return found, gone, new


@given(ACTS, ACTS)
def test_nothing_that_either_did_is_lost_or_there_is_a_conflict(
    ours: list[tuple[int, str]], theirs: list[tuple[int, str]]
) -> None:
    mine, gone_here, new_here = edited(ours, "ours")
    other, gone_there, new_there = edited(theirs, "theirs")
    merged = merge(job(*BEGIN), job(*mine), job(*other))
    turned = merge(job(*BEGIN), job(*other), job(*mine))
    assert bool(merged.conflicts) == bool(turned.conflicts)
    if not merged.conflicts:
        texts = [str(one["do"]) for one in steps(merged)]
        assert len(texts) == len(set(texts))
        assert new_here | new_there <= set(texts)
        assert not (gone_here | gone_there) & set(texts)
        assert sorted(texts) == sorted(str(one["do"]) for one in steps(turned))
        kept = [text for text in texts if text in {str(one["do"]) for one in BEGIN}]
        assert kept == [str(one["do"]) for one in BEGIN if one["do"] in kept]
    else:
        both = {at for at, _ in ours} & {at for at, _ in theirs}
        near = {at + 1 for at, _ in ours} & {at for at, _ in theirs} | {at for at, _ in ours} & {
            at + 1 for at, _ in theirs
        }
        assert both | near, "two who worked in different places are no conflict"


@given(ACTS)
def test_one_side_alone_is_taken_as_it_is(acts: list[tuple[int, str]]) -> None:
    other = job(*edited(acts, "theirs")[0])
    for base, ours, theirs in ((job(*BEGIN), job(*BEGIN), other), (job(*BEGIN), other, job(*BEGIN)), (other,) * 3):
        merged = merge(base, ours, theirs)
        assert merged.conflicts == []
        assert merged.data == other
