"""What differs between two versions, in a mechanic's words, marked where it is a number or a matter of safety."""

from __future__ import annotations

import pytest

from docgen.club.yamldoc import Data
from docgen.club.yamltext import read_yaml
from docgen.share.changes import changes
from docgen.share.differences import difference_lines
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
        'NUMBER  step "Let rotor and nut dry.": wait',
        "    was: 10 min",
        "    now: 5 min",
    ]),
    "a text": (JOB, [("do: Clean the rotor.", "do: Clean the rotor on all sides.")], [
        'words  step "Clean the rotor.": text',
        "    was: Clean the rotor.",
        "    now: Clean the rotor on all sides.",
    ]),
    "a number in a text": (JOB, [("do: Clean the rotor.", "do: Clean the rotor in 2 baths.")], [
        'NUMBER  step "Clean the rotor.": text',
        "    was: Clean the rotor.",
        "    now: Clean the rotor in 2 baths.",
    ]),
    "a reason": (JOB, [("why: The stop keeps the crankshaft from turning.", "why: The stop spares the piston pin.")], [
        'words  step "Undo the rotor nut.": reason',
        "    was: The stop keeps the crankshaft from turning.",
        "    now: The stop spares the piston pin.",
    ]),
    "a step gone": (JOB, [(TIGHTEN, "")], [
        'SAFETY  step behind "Slide the rotor on." (gone): "Tighten the rotor nut."; tightens rotor-nut; takes 2 min',
    ]),
    "a step more": (JOB, [(SLIDE, f"      - do: Oil the shaft.\n{SLIDE}")], [
        'words  step behind "Put paste on the bore of the rotor." (new): "Oil the shaft."',
    ]),
    "a step moved": (JOB, [(SPACER, ""), (NUT, SPACER + NUT)], [
        "SAFETY  order of the steps",
        '    was: "Slide the spacer on."; "Put paste on the bore of the rotor."; "Slide the rotor on."',
        '    now: "Put paste on the bore of the rotor."; "Slide the rotor on."; "Slide the spacer on."',
    ]),
    "a hold point gone": (JOB, [("        hold: {why: A rotor that rubs bends the crankshaft., id: gap-seen}\n", "")], [
        'SAFETY  step "Measure the {rotor-gap} at the widest place.": hold (gone):'
        " reason A rotor that rubs bends the crankshaft.; id gap-seen",
    ]),
    "a safety message": (JOB, [("avoid: Work in the open air, away from flame and spark.", "avoid: Work outside.")], [
        'SAFETY  safety message "Cleaning fluid vapour catches fire.": avoid',
        "    was: Work in the open air, away from flame and spark.",
        "    now: Work outside.",
    ]),
    "a step off the leaf": (JOB, [(SLIDE, f"{SLIDE}        off_leaf: The nut's row says it.\n")], [
        'SAFETY  step "Slide the rotor on.": not on the leaf (new): The nut\'s row says it.',
    ]),
    "a row of the leaf": (JOB, [(SLIDE, f"{SLIDE}        row: Rotor on\n")], [
        'words  step "Slide the rotor on.": row of the leaf (new): Rotor on',
    ]),
    "an opening packed": (JOB, [(TIGHTEN, f"{TIGHTEN}        packs: {{rotor: cloth}}\n")], [
        'SAFETY  step "Tighten the rotor nut.": packs (new): rotor cloth',
    ]),
    "an interval": (JOB, [("every: {hours: 5 h,", "every: {hours: 8 h,")], [
        "NUMBER  every: hours",
        "    was: 5 h",
        "    now: 8 h",
    ]),
    "a title": (JOB, [("title: Rotor - clean and regrease", "title: Rotor service")], [
        "words  title",
        "    was: Rotor - clean and regrease",
        "    now: Rotor service",
    ]),
    "a purpose": (JOB, [("code: ROT", "purpose: So that it runs.\ncode: ROT")], [
        "words  purpose (new): So that it runs.",
    ]),
    "a torque": (MODEL, [("34 N.m", "43 N.m")], [
        "NUMBER  fastener rotor-nut: torque",
        "    was: 34 N.m +/- 10 %",
        "    now: 43 N.m +/- 10 %",
    ]),
    "a torque gone": (MODEL, [("    torque: 34 N.m +/- 10 %\n", "")], [
        "NUMBER  fastener rotor-nut: torque (gone): 34 N.m +/- 10 %",
    ]),
    "a limit": (MODEL, [("allow: 0.20..0.45 mm", "allow: 0.20..0.54 mm")], [
        "NUMBER  limit rotor-gap: allow",
        "    was: 0.20..0.45 mm",
        "    now: 0.20..0.54 mm",
    ]),
    "a limit more": (MODEL, [("limits:\n", "limits:\n  play: {allow: <= 0.10 mm}\n")], [
        "NUMBER  limit (new): play; allow <= 0.10 mm",
    ]),
    "a mark of care": (MODEL, [("    critical: true\n", "")], [
        "SAFETY  fastener rotor-nut: critical (gone): true",
    ]),
    "one word or a list of one": (
        JOB, [("before: [Engine cold and extinguisher near.]", "before: Engine cold and extinguisher near.")], []
    ),
}  # fmt: skip


@pytest.mark.parametrize(("path", "edits", "lines"), CASES.values(), ids=CASES)
def test_how_a_change_is_said(path: str, edits: list[tuple[str, str]], lines: list[str]) -> None:
    found = changes(data(path), data(path, *edits))
    assert [line for change in found for line in difference_lines(change)] == lines


def test_every_case_back_again_has_the_same_marks() -> None:
    """Whoever takes a change back changes the same numbers; a step that is gone then comes."""
    tried = 0
    for path, edits, lines in CASES.values():
        back = changes(data(path, *edits), data(path))
        said = [line for change in back for line in difference_lines(change)]
        came = any("step behind" in line for line in lines)
        marked = [any(line.startswith(("SAFETY", "NUMBER")) for line in of) for of in (lines, said)]
        assert came or marked[0] == marked[1], edits
        tried += 1
    assert tried == len(CASES)
