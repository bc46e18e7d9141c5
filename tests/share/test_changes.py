"""What differs between two versions, in a mechanic's words, marked where it is a number or a matter of safety."""

from __future__ import annotations

import pytest

from docgen.club.yamldoc import Data
from docgen.club.yamltext import read_yaml
from docgen.share.changes import changes
from docgen.share.changewords import change_lines, conflict_lines
from docgen.share.merge import merge
from tests.smallclub import texts

JOB, MODEL = "procedures/rotor-service.yaml", "models/willow-80.yaml"


def data(path: str, *edits: tuple[str, str]) -> dict[str, Data]:
    text = texts()[path]
    for old, new in edits:
        assert text.count(old) == 1, old
        text = text.replace(old, new)
    document, problems = read_yaml(path, text)
    assert document is not None
    assert not problems
    assert isinstance(document.data, dict)
    return document.data


TIGHTEN = "      - do: Tighten the rotor nut.\n        tightens: [rotor-nut]\n        takes: 2 min\n"
SPACER = "      - do: Slide the spacer on.\n        fits: [spacer]\n        takes: 1 min\n"
SLIDE, NUT = "      - do: Slide the rotor on.\n", "      - do: Tighten the rotor nut.\n"
CASES = {
    "nothing": (JOB, [], []),
    "revision and day alone": (JOB, [("revision: 3", "revision: 4"), ("2030-01-15", "2030-02-15")], []),
    "a wait": (JOB, [("wait: 10 min", "wait: 5 min")], [
        '! step changed: "Let rotor and nut dry."  (in Clean and check, behind "Wipe the thread of the rotor nut'
        ' with the fluid.")',
        "    ! wait: 10 min  ->  5 min",
    ]),
    "a text": (JOB, [("do: Clean the rotor.", "do: Clean the rotor on all sides.")], [
        '  step reworded: "Clean the rotor."  (in Clean and check)',
        "      text: Clean the rotor.  ->  Clean the rotor on all sides.",
    ]),
    "a number in a text": (JOB, [("do: Clean the rotor.", "do: Clean the rotor in 2 baths.")], [
        '! step changed: "Clean the rotor."  (in Clean and check)',
        "    ! text: Clean the rotor.  ->  Clean the rotor in 2 baths.",
    ]),
    "a reason": (JOB, [("why: The stop keeps the crankshaft from turning.", "why: The stop spares the piston pin.")], [
        '  step reworded: "Undo the rotor nut."  (in Open, behind "Take the side plate and its gasket off.")',
        "      reason: The stop keeps the crankshaft from turning.  ->  The stop spares the piston pin.",
    ]),
    "a step gone": (JOB, [(TIGHTEN, "")], [
        '! step removed: "Tighten the rotor nut."  (in Close, behind "Slide the rotor on.")',
        "      tightens: rotor-nut",
        "      takes: 2 min",
    ]),
    "a step more": (JOB, [(SLIDE, f"      - do: Oil the shaft.\n{SLIDE}")], [
        '  step added: "Oil the shaft."  (in Close, behind "Put paste on the bore of the rotor.")',
    ]),
    "a step moved": (JOB, [(SPACER, ""), (NUT, SPACER + NUT)], [
        '  step moved: "Slide the spacer on."  (in Close, behind "Slide the rotor on.")',
    ]),
    "a hold point gone": (JOB, [("        hold: {why: A rotor that rubs bends the crankshaft., id: gap-seen}\n", "")], [
        '! step changed: "Measure the {rotor-gap} at the widest place."  (in Close, behind "Tighten the rotor nut.")',
        "    ! hold, reason: A rotor that rubs bends the crankshaft.",
        "    ! hold, id: gap-seen",
    ]),
    "a safety message": (JOB, [("avoid: Work in the open air, away from flame and spark.", "avoid: Work outside.")], [
        '! safety message reworded: "Cleaning fluid vapour catches fire."',
        "      avoid: Work in the open air, away from flame and spark.  ->  Work outside.",
    ]),
    "a step off the leaf": (JOB, [(SLIDE, f"{SLIDE}        off_leaf: The nut's row says it.\n")], [
        '! step changed: "Slide the rotor on."  (in Close, behind "Put paste on the bore of the rotor.")',
        "    ! not on the leaf: The nut's row says it.",
    ]),
    "a row of the leaf": (JOB, [(SLIDE, f"{SLIDE}        row: Rotor on\n")], [
        '  step reworded: "Slide the rotor on."  (in Close, behind "Put paste on the bore of the rotor.")',
        "      row of the leaf: Rotor on",
    ]),
    "an opening packed": (JOB, [(TIGHTEN, f"{TIGHTEN}        packs: {{rotor: cloth}}\n")], [
        '! step changed: "Tighten the rotor nut."  (in Close, behind "Slide the rotor on.")',
        "    ! packs, rotor: cloth",
    ]),
    "an interval": (JOB, [("every: {hours: 5 h,", "every: {hours: 8 h,")], ["! every", "    ! hours: 5 h  ->  8 h"]),
    "a title": (JOB, [("title: Rotor - clean and regrease", "title: Rotor service")], [
        "  title: Rotor - clean and regrease  ->  Rotor service"]),
    "a purpose": (JOB, [("code: ROT", "purpose: So that it runs.\ncode: ROT")], ["  purpose: So that it runs."]),
    "a torque": (MODEL, [("34 N.m", "43 N.m")], [
        "! fastener rotor-nut", "    ! torque: 34 N.m +/- 10 %  ->  43 N.m +/- 10 %"]),
    "a torque gone": (MODEL, [("    torque: 34 N.m +/- 10 %\n", "")], [
        "! fastener rotor-nut", "    ! torque: 34 N.m +/- 10 %"]),
    "a limit": (MODEL, [("allow: 0.20..0.45 mm", "allow: 0.20..0.54 mm")], [
        "! limit rotor-gap", "    ! allow: 0.20..0.45 mm  ->  0.20..0.54 mm"]),
    "a limit more": (MODEL, [("limits:\n", "limits:\n  play: {allow: <= 0.10 mm}\n")], [
        "! limit play added", "    ! allow: <= 0.10 mm"]),
    "a mark of care": (MODEL, [("    critical: true\n", "")], ["! fastener rotor-nut", "    ! critical: true"]),
    "one word or a list of one": (
        JOB, [("before: [Engine cold and extinguisher near.]", "before: Engine cold and extinguisher near.")], []
    ),
}  # fmt: skip


@pytest.mark.parametrize(("path", "edits", "lines"), CASES.values(), ids=CASES)
def test_how_a_change_is_said(path: str, edits: list[tuple[str, str]], lines: list[str]) -> None:
    found = changes(data(path), data(path, *edits))
    assert [line for change in found for line in change_lines(change)] == lines


def test_every_case_back_again_has_the_same_marks() -> None:
    """Whoever takes a change back changes the same numbers; a step that is gone then comes."""
    tried = 0
    for path, edits, lines in CASES.values():
        back = changes(data(path, *edits), data(path))
        said = [line for change in back for line in change_lines(change)]
        marked = any(line.lstrip().startswith("!") for line in lines) and not lines[0].startswith("! step removed")
        assert any(line.lstrip().startswith("!") for line in said) == marked or "step added" in lines[0], edits
        tried += 1
    assert tried == len(CASES)


def test_a_conflict_shows_only_what_differs() -> None:
    ours = data(MODEL, ("34 N.m", "38 N.m"))
    theirs = data(MODEL, ("34 N.m", "30 N.m"), ("locker: lock", "locker: paste"))
    (conflict,) = merge(data(MODEL), ours, theirs).conflicts
    assert list(conflict_lines(conflict)) == [
        "Both changed: fastener rotor-nut",
        "  torque",
        "    before:  34 N.m +/- 10 %",
        "    yours:   38 N.m +/- 10 %",
        "    theirs:  30 N.m +/- 10 %",
        "  locker",
        "    before:  lock",
        "    yours:   lock",
        "    theirs:  paste",
    ]


def test_a_conflict_over_a_step_that_is_gone() -> None:
    gone = ("      - do: Put the side plate on.\n        fits: [side-plate]\n        takes: 1 min\n", "")
    ours = data(JOB, gone)
    theirs = data(JOB, ("do: Put the side plate on.", "do: Put the side plate on, pins first."))
    (conflict,) = merge(data(JOB), ours, theirs).conflicts
    assert list(conflict_lines(conflict)) == [
        "Both changed: step",
        '  before:  "Put the side plate on."; fits: side-plate; takes: 1 min',
        "  yours:   nothing",
        '  theirs:  "Put the side plate on, pins first."; fits: side-plate; takes: 1 min',
    ]
