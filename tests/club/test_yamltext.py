"""The YAML reader: text left as written, positions, encodings, bounds."""

from __future__ import annotations

import pytest

from docgen.club.problem import Problem
from docgen.club.yamlbytes import MAX_BYTES
from docgen.club.yamldoc import Document
from docgen.club.yamlevents import MAX_DEPTH, MAX_NODES
from docgen.club.yamlscalar import MAX_TEXT
from docgen.club.yamltext import MAX_PROBLEMS, read_yaml


def read(content: str | bytes) -> Document:
    document, problems = read_yaml("f.yaml", content)
    assert problems == []
    assert document is not None
    return document


def only(content: str | bytes) -> Problem:
    problems = read_yaml("f.yaml", content)[1]
    assert len(problems) == 1, [str(problem) for problem in problems]
    return problems[0]


# The words that YAML 1.1's implicit types (its language-independent types: bool, float, int, merge, null, timestamp,
# value) would turn into something else; from memory.
IMPLICIT = """yes no on off y n Yes NO On OFF true false True FALSE null Null NULL ~ 12:30 190:20:30 1.10 0x1F 0o17 017
0b1010 1_000 1e3 6.8523015e+5 .inf -.INF .nan .5 685. +12 -0 2026-01-18 2026-01-18T10:00:00Z
2001-12-14T21:59:43.10-05:00 = 0""".split()


@pytest.mark.parametrize("word", IMPLICIT)
def test_text_stays_as_written(word: str) -> None:
    document = read(f"a: {word}\nb: [{word}]\n{word}: x\n")
    assert document.data == {"a": word, "b": [word], word: "x"}


def test_only_an_empty_value_is_none() -> None:
    data = read("a:\nb: ''\nc: {d: , e: \"\"}\nf:\n  -\n  - x\ng:  # later\nh: |\ni: ~\n").data
    assert data == {"a": None, "b": "", "c": {"d": None, "e": ""}, "f": [None, "x"], "g": None, "h": "", "i": "~"}


def test_proper_comments_and_texts_are_let_through() -> None:
    content = (
        "# a comment\n"
        "---\n"
        "a: b  # two spaces before, one behind\n"
        "c: 'd' # behind quotes\n"
        "e: [f, g] # behind brackets\n"
        "h: # before a list\n"
        "  - i#j\n"
        "  - k   #\n"
        "l: |\n"
        "  m # n\n"
        "o: fit the washer\n"
        "  and the nut\n"
        "p: a:b c -d \"e\" it's {f} [g]\n"
        "q: \u0634\u062f \u0663 \u0635\u0648\u0627\u0645\u064a\u0644 \u062b\u0645 \u0646\u0638\u0641\n"
        "r: Attention\u00a0! caf\u00e9 \u0645\u06cc\u200c\u062e\u0648\u0627\u0647\u0645\n"
        "s: <= 0.10 mm\n"
        't: ">= 5 mm"\n'
        "u: -5 mm\n"
        "v: a\t\n"
        "...\n"
    )
    assert read(content).data == {
        "a": "b",
        "c": "d",
        "e": ["f", "g"],
        "h": ["i#j", "k"],
        "l": "m # n\n",
        "o": "fit the washer and the nut",
        "p": "a:b c -d \"e\" it's {f} [g]",
        "q": "\u0634\u062f \u0663 \u0635\u0648\u0627\u0645\u064a\u0644 \u062b\u0645 \u0646\u0638\u0641",
        "r": "Attention\u00a0! caf\u00e9 \u0645\u06cc\u200c\u062e\u0648\u0627\u0647\u0645",
        "s": "<= 0.10 mm",
        "t": ">= 5 mm",
        "u": "-5 mm",
        "v": "a",
    }


@pytest.mark.parametrize("content", [b"\xef\xbb\xbfa: b\r\nc: d\r\n", "\ufeffa: b\r\nc: d\r\n", "a: b\rc: d\r"])
def test_a_byte_order_mark_and_any_line_ends_are_let_through(content: str | bytes) -> None:
    document = read(content)
    assert document.data == {"a": "b", "c": "d"}
    assert document.lines == ["a: b", "c: d", ""]
    assert document.at(("c",)) == (2, 4)


def test_bytes_that_are_not_utf_8() -> None:
    problems = read_yaml("f.yaml", b"title: x\r\ndo: Caf\xe9 \xe9\r\nwhy: @x\r\n")[1]
    assert "\n".join(map(str, problems)) == (
        "f.yaml:2:8 not-utf-8: byte 18 of the file (hexadecimal E9), "
        'perhaps meant as "\u00e9", is not part of UTF-8 text\n'
        "   2 | do: Caf\ufffd \ufffd\n"
        "     |        ^\n"
        "       to mend: open the file in your text editor and save it again with the encoding UTF-8\n"
        'f.yaml:3:6 reserved-start: text that starts with "@" must stand in quotes\n'
        "   3 | why: @x\n"
        "     |      ^\n"
        '       to mend: put the text in quotes: why: "@x"'
    )
    assert str(only("a: b\n".encode("utf-16"))) == (
        "f.yaml not-utf-8: the file is saved as UTF-16, which is not read here: every character takes two bytes in it\n"
        "       to mend: open the file in your text editor and save it again with the encoding UTF-8"
    )


def test_bounds_hold_and_what_is_just_inside_them_is_read() -> None:
    read("a: b\n#" + "x" * (MAX_BYTES - 6))
    assert str(only(b"a: b\n#" + b"x" * (MAX_BYTES - 5))) == (
        "f.yaml too-large: the file is 1048577 bytes long; the most that is read is 1048576\n"
        "       to mend: split it into smaller files"
    )
    assert only("\u20ac" * (MAX_BYTES // 3 + 1)).name == "too-large"
    read("[" * MAX_DEPTH + "]" * MAX_DEPTH)
    assert only("[" * (MAX_DEPTH + 1) + "]" * (MAX_DEPTH + 1)).name == "too-deep"
    assert only("[" * 2000).name == "too-deep"
    read("[" + "a," * (MAX_NODES - 1) + "]")
    problem = only("[" + "a," * MAX_NODES + "]")
    assert (problem.name, problem.message) == ("too-many-values", "the file holds more than 50000 values")
    read(f"a: {'x' * MAX_TEXT}\n")
    problem = only(f"a: {'x' * (MAX_TEXT + 1)}\n")
    assert problem.name == "too-long"
    assert problem.message == "this text is 20001 characters long; the most that is read is 20000"
    read(f"{'k' * 1024}: x\n")
    assert only(f"{'k' * 1025}: x\n").name == "colon-in-text"


def test_a_file_with_very_many_problems_says_how_many() -> None:
    problems = read_yaml("f.yaml", "a: 1\n" * 5001)[1]
    assert len(problems) == MAX_PROBLEMS + 1
    assert str(problems[0]) == (
        "f.yaml too-many-problems: the file has 5000 problems; the first 100 are shown\n"
        "       to mend: begin with these"
    )
    assert [problem.line for problem in problems[1:]] == list(range(2, MAX_PROBLEMS + 2))


def test_a_document_is_only_given_when_the_file_was_parsed_to_its_end() -> None:
    assert read_yaml("f.yaml", "a: @x\n")[0] is None
    assert read_yaml("f.yaml", "[" * 30)[0] is None
    document = read_yaml("f.yaml", "a: x\na: y\nb: {c, d: e}\nf: g #h\n")[0]
    assert document is not None
    assert document.data == {"a": "x", "b": {"d": "e"}, "f": "g"}


def test_positions() -> None:
    document = read("title: Clutch\nsteps:\n  - do: Fit\n    fits: [washer, 'nut']\n    why:\n-1: {a: b}\n")
    assert dict(document.values) == {
        (): (1, 1),
        ("title",): (1, 8),
        ("steps",): (3, 3),
        ("steps", 0): (3, 5),
        ("steps", 0, "do"): (3, 9),
        ("steps", 0, "fits"): (4, 11),
        ("steps", 0, "fits", 0): (4, 12),
        ("steps", 0, "fits", 1): (4, 20),
        ("steps", 0, "why"): (5, 9),
        ("-1",): (6, 5),
        ("-1", "a"): (6, 9),
    }
    assert dict(document.keys) == {
        ("title",): (1, 1),
        ("steps",): (2, 1),
        ("steps", 0): (3, 5),
        ("steps", 0, "do"): (3, 5),
        ("steps", 0, "fits"): (4, 5),
        ("steps", 0, "fits", 0): (4, 12),
        ("steps", 0, "fits", 1): (4, 20),
        ("steps", 0, "why"): (5, 5),
        ("-1",): (6, 1),
        ("-1", "a"): (6, 6),
    }


def test_what_is_missing_stands_where_its_nearest_parent_stands() -> None:
    document = read("title: Clutch\nsteps:\n  - do: Fit\n")
    assert document.at(("steps", 0, "why", "x")) == (3, 5)
    assert document.at(("steps", 7)) == (3, 3)
    assert document.at(("none",)) == (1, 1)
    assert document.key_at(("steps", 0, "why")) == (3, 5)
    assert document.key_at(("steps", 7)) == (2, 1)
    assert document.key_at(("none",)) == (1, 1)
    assert (document.line(0), document.line(2), document.line(9)) == ("", "steps:", "")


def test_a_problem_made_by_a_document_knows_its_place() -> None:
    document = read("title: Clutch\ntorque: 34\n")
    value = document.problem(("torque",), "no-unit", "there is no unit", "write 34 N.m", trail=("it came from here",))
    assert value == Problem(
        "f.yaml", 2, 9, "no-unit", "there is no unit", "write 34 N.m", "torque: 34", "error", ("it came from here",)
    )
    key = document.problem(("torque",), "unknown-key", "there is no such key", key=True, level="note")
    assert key == Problem("f.yaml", 2, 1, "unknown-key", "there is no such key", "", "torque: 34", "note")
