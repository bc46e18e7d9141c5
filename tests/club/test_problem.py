"""How a problem reads, in text and as plain values, and which name a slip is taken for."""

from __future__ import annotations

import json

import pytest

from docgen.club.problem import Problem, close_name, did_you_mean, visible

VERBS = (
    "do why undoes removes fits renews starts tightens applies cleans measure look hold safety stage steps only_with "
    "procedure title code revision dated needs every spares stages id accept fail again behind held_by part_of bench"
).split()
PARTS = ["clutch-nut", "clutch-drum", "inner-thrust-washer", "outer-thrust-washer", "carburettor-gasket"]


def test_whole_text_of_a_problem() -> None:
    problem = Problem(
        "procedures/clutch.yaml",
        36,
        9,
        "never-refitted",
        'the part "clutch-drum" is still off at the end',
        "add a step that fits it",
        "        fits: [inner-thrust-washer]",
        trail=("clutch-drum went off at line 31", "nothing fits it after that"),
    )
    assert str(problem) == (
        'procedures/clutch.yaml:36:9 never-refitted: the part "clutch-drum" is still off at the end\n'
        "  36 |         fits: [inner-thrust-washer]\n"
        "     |         ^\n"
        "       clutch-drum went off at line 31\n"
        "       nothing fits it after that\n"
        "       to mend: add a step that fits it"
    )


def test_a_problem_of_a_whole_file_has_no_line() -> None:
    assert str(Problem("club.yaml", 0, 0, "no-club", "there is no club.yaml", "make one")) == (
        "club.yaml no-club: there is no club.yaml\n       to mend: make one"
    )
    assert str(Problem("club.yaml", 0, 0, "no-club", "there is none")) == "club.yaml no-club: there is none"


def test_a_note_says_that_it_is_one() -> None:
    assert str(Problem("a.yaml", 2, 1, "no-why", "this step has no why", level="note")) == (
        "a.yaml:2:1 no-why (note): this step has no why"
    )


@pytest.mark.parametrize(
    ("col", "source", "shown"),
    [
        (4, "\t\tdo: x", "   7 |   do: x\n     |    ^"),
        (6, "caf\u00e9: x", "   7 | caf\u00e9: x\n     |      ^"),
        (7, "cafe\u0301: x", "   7 | cafe\u0301: x\n     |      ^"),
        (4, "\u6f22\u5b57: x", "   7 | \u6f22\u5b57: x\n     |      ^"),
        (5, "a\x1b[2Jb", "   7 | a<U+001B>[2Jb\n     | " + " " * 11 + "^"),
        (4, "ab\u202ecd", "   7 | ab<U+202E>cd\n     |           ^"),
        (99, "short", "   7 | short\n     |      ^"),
        (1, "x" * 300, "   7 | " + "x" * 100 + "...\n     | ^"),
        (300, "x" * 299 + "y", "   7 | ..." + "x" * 99 + "y\n     | " + " " * 102 + "^"),
        (150, "x" * 149 + "y" + "z" * 150, "   7 | ..." + "x" * 66 + "y" + "z" * 33 + "...\n     | " + " " * 69 + "^"),
    ],
)
def test_the_caret_stands_under_its_column(col: int, source: str, shown: str) -> None:
    assert str(Problem("a.yaml", 7, col, "x", "m", source=source)) == f"a.yaml:7:{col} x: m\n{shown}"


def test_a_line_number_of_many_figures_keeps_the_lines_together() -> None:
    assert str(Problem("a.yaml", 123456, 2, "x", "m", "h", "ab")) == (
        "a.yaml:123456:2 x: m\n123456 | ab\n       |  ^\n         to mend: h"
    )


def test_nothing_in_a_problem_can_command_a_terminal() -> None:
    text = str(Problem("a\x1b.yaml", 1, 1, "x", "m\x1b[31m", "h\x07", "s\x9b", trail=("t\u202e",)))
    assert text == (
        "a<U+001B>.yaml:1:1 x: m<U+001B>[31m\n   1 | s<U+009B>\n     | ^\n       t<U+202E>\n       to mend: h<U+0007>"
    )
    assert visible("a\u00a0b\tc\u200b\ufeff\n") == "a b c<U+200B><U+FEFF><U+000A>"


def test_plain_values() -> None:
    problem = Problem("a.yaml", 2, 3, "no-unit", "m", "h", "s" * 5000, "note", ("t",))
    assert problem.to_json() == {
        "path": "a.yaml",
        "line": 2,
        "col": 3,
        "level": "note",
        "name": "no-unit",
        "message": "m",
        "hint": "h",
        "source": "s" * 1000,
        "trail": ["t"],
    }
    assert json.loads(json.dumps(problem.to_json())) == problem.to_json()


def test_problems_sort_by_place() -> None:
    places = [("b.yaml", 1, 1), ("a.yaml", 10, 1), ("a.yaml", 9, 5), ("a.yaml", 9, 2), ("a.yaml", 0, 0)]
    assert [(p.path, p.line, p.col) for p in sorted(Problem(*place, "x", "m") for place in places)] == sorted(places)


@pytest.mark.parametrize(
    ("word", "meant"),
    [
        ("tigthens", "tightens"),
        ("tighten", "tightens"),
        ("Fits", "fits"),
        ("fit", "fits"),
        ("WHY", "why"),
        ("only-with", "only_with"),
        ("only with", "only_with"),
        ("onlywith", "only_with"),
        ("undose", "undoes"),
        ("titel", "title"),
        ("meassure", "measure"),
        ("to", None),
        ("wy", None),
        ("unscrews", None),
        ("zzz", None),
        ("", None),
        ("x" * 100_000, None),
    ],
)
def test_close_names_among_the_verbs(word: str, meant: str | None) -> None:
    assert close_name(word, VERBS) == meant


@pytest.mark.parametrize(
    ("word", "meant"),
    [
        ("Clutch Nut", "clutch-nut"),
        ("clucth-drum", "clutch-drum"),
        ("gasket", "carburettor-gasket"),
        ("nut", "clutch-nut"),
        ("gaskit", "carburettor-gasket"),
        ("nat", None),
        ("clutch", None),
        ("thrust-washer", None),
        ("clutch-drun", "clutch-drum"),
    ],
)
def test_close_names_among_parts(word: str, meant: str | None) -> None:
    assert close_name(word, PARTS) == meant


def test_no_names_no_close_name() -> None:
    assert close_name("nut", []) is None
    assert did_you_mean("nut", []) == ""


def test_hints() -> None:
    assert did_you_mean("clucth-nut", PARTS) == 'did you mean "clutch-nut"?'
    assert did_you_mean("zzz", ["b", "a", "b"]) == "known here: a, b"
    assert did_you_mean("zzz", [f"{number}" * 9 for number in range(13)]) == ""
    assert did_you_mean("\u0441lutch-nut", PARTS) == (
        'did you mean "clutch-nut"? ("\u0441" is U+0441 (cyrillic small letter es))'
    )
