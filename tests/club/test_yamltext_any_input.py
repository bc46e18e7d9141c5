"""The YAML reader on anything at all: it never raises, stays in its bounds, and agrees with an independent parser."""

from __future__ import annotations

import json
import re
import subprocess
import sys

import pytest
import yaml
from hypothesis import example, given, settings
from hypothesis import strategies as st

from docgen.club.yamldoc import Data
from docgen.club.yamltext import MAX_PROBLEMS, read_yaml
from tests.shares import share

VALID = """\
# a procedure
procedure: clutch-service
title: Clutch - clean, inspect and regrease
every: {hours: 5 h, months: 6}  # whichever comes first
spares: [outer-thrust-washer, 'nut']
stages:
  - stage: Open
    steps:
      - do: Undo the clutch nut.
        why: |
          It holds the drum.
          It is tight.
        undoes: [clutch-nut]
      - look: {id: washer-worn, accept: Flat on both faces, fail: {renews: [outer-thrust-washer]}}
        do: "Look at the outer thrust washer,
          both faces."
      - do: Measure the clearance
          at three places.
        measure: clutch-clearance
        limit: 34 N.m +/- 10 %
"""
BITS = [" ", "  ", "\n", "\t", "#", " #", ":", ": ", "-", "- ", "? ", "[", "]", "{", "}", ",", "&a ", "*a", "!t"]
BITS += ["|", ">", "'", '"', "%", "@", "`", "\\", "...", "---", "<<: ", "~", "\u00a0", "x", "y: z"]
BITS += ["\n  ", "\n    ", "\u200d", "\ufeff", "\r", "\r\n", "\x00", "\u0663", "\u2028", "\ud800", "\x85", "\u201c"]
LEAK = re.compile(r"expected|token|scalar|block mapping|block sequence|flow |stream|anchor |octet|while (scann|pars)")


@st.composite
def mutated(draw: st.DrawFn) -> str:
    """A valid file with a few pieces put in, taken out or put over others."""
    text = VALID
    for _ in range(draw(st.integers(1, 4))):
        at = draw(st.integers(0, len(text)))
        text = text[:at] + draw(st.sampled_from(["", *BITS])) + text[at + draw(st.integers(0, 3)) :]
    return text


soup = st.lists(st.sampled_from(BITS), max_size=40).map("".join)
anything = st.one_of(mutated(), soup, st.text(max_size=200), st.binary(max_size=200))


def check(content: str | bytes) -> None:
    """What holds for every content."""
    document, problems = read_yaml("f.yaml", content)
    assert problems == sorted(problems)
    assert len(problems) <= MAX_PROBLEMS + 1
    assert document is not None or problems
    text = content if isinstance(content, str) else content.decode("utf-8", "replace")
    lines = text.removeprefix("\ufeff").replace("\r\n", "\n").replace("\r", "\n").split("\n")
    for problem in problems:
        assert not LEAK.search(problem.message + re.sub('".*"', "", problem.hint)), str(problem)
        assert str(problem).isprintable() or "\n" in str(problem)
        if problem.line:
            assert 1 <= problem.line <= len(lines)
            assert 1 <= problem.col <= len(lines[problem.line - 1]) + 1
            assert problem.source == lines[problem.line - 1]
    if not problems:
        assert document is not None
        agree(document.data, text.removeprefix("\ufeff"))


def agree(data: Data, text: str) -> None:
    """The same data as PyYAML's own parser reads, written in Python and independent of the compiled one used here.

    It has no None: an empty value is an empty text to it. Where it gives up (tabs behind values, question marks in
    brackets), there is nothing to compare.
    """
    try:
        other = yaml.load(text, Loader=yaml.BaseLoader)
    except yaml.YAMLError:
        assert "\t" in text or "?" in text, text
        return
    assert as_text(data) == other


def as_text(data: Data) -> object:
    if isinstance(data, dict):
        return {key: as_text(value) for key, value in data.items()}
    if isinstance(data, list):
        return [as_text(value) for value in data]
    return "" if data is None else data


@settings(max_examples=share(120, 400), deadline=None)
@given(anything)
@example(VALID)
@example("- !!map\n&a")
@example("\\\n---")
@example('{a: x, "b": [c, {d: e}], f: "g: h # i"}')
def test_no_content_makes_it_raise(content: str | bytes) -> None:
    check(content)


def test_the_valid_file_is_valid() -> None:
    assert read_yaml("f.yaml", VALID)[1] == []


seen = st.characters(codec="utf-8", exclude_categories=["Cc", "Cf", "Cn", "Co", "Zl", "Zp", "Nd", "Zs"])
plain = st.text(seen, max_size=30)


def nested(inner: st.SearchStrategy[object]) -> st.SearchStrategy[object]:
    return st.lists(inner, max_size=4) | st.dictionaries(plain, inner, max_size=4)


data = st.recursive(plain, nested, max_leaves=12)


@settings(max_examples=share(90, 300), deadline=None)
@given(data)
def test_what_another_writer_wrote_comes_back(value: object) -> None:
    """Text, lists and mappings written by PyYAML's emitter are read as they were, or refused with a reason."""
    written = yaml.dump({"data": value}, Dumper=yaml.SafeDumper, allow_unicode=True, default_style='"')
    document, problems = read_yaml("f.yaml", written)
    allowed = {"reserved-start", "damaged-text", "hidden-character", "complex-key", "too-deep"}
    assert {problem.name for problem in problems} <= allowed
    if not problems:
        assert document is not None
        assert document.data == {"data": value}


def test_one_slip_in_a_good_file_makes_one_problem() -> None:
    """Every way to put one sign into, or take one out of, a good file: hardly any may be reported twice."""
    counts: dict[int, int] = {}
    for at in range(len(VALID)):
        put_in = [VALID[:at] + bit + VALID[at:] for bit in (" ", "\t", ":", "[", '"', "@", "#")]
        for slip in [VALID[:at] + VALID[at + 1 :], *put_in]:
            found = len(read_yaml("f.yaml", slip)[1])
            counts[found] = counts.get(found, 0) + 1
    total = sum(counts.values())
    assert total == 8 * len(VALID)
    assert max(counts) <= 2, counts
    assert counts.get(2, 0) / (total - counts[0]) < 0.01, counts


HOSTILE = {
    "duplicate keys": "'a: 1\\n' * 200000",
    "anchors on one line": "'[' + '&a x, ' * 170000",
    "aliases that would multiply": "''.join(f'a{i}: &a{i} [' + f'*a{i - 1},' * 9 + ']\\n' for i in range(1, 2000))",
    "stray keys on one line": "'{' + 'a, ' * 340000",
    "hidden characters": "'\\u200b' * 340000",
    "joiners": "'a\\u200d' * 260000",
    "one long text": "'a: ' + 'x' * 1000000",
    "one long key": "'x' * 1000000 + ':'",
    "comments that cut": "'- a #b\\n' * 140000",
    "a flow of comments that cut": "'[' + 'a #b\\n,' * 140000",
    "lines read as text": "'a: b\\n' + ' - c\\n' * 200000",
    "stuck keys": "'a:b\\n' * 250000",
    "tabs": "'a: b\\n' + '\\tc: d\\n' * 160000",
    "colons in text": "'a: b: c\\n' * 120000",
    "reserved signs": "'a: @x\\n' * 140000",
    "a long flow mapping": "'{' + ', '.join(f'k{i}: 1' for i in range(24000)) + '}'",
    "brackets": "'[' * 1000000",
    "braces with keys": "'{a: ' * 250000",
    "dashes": "'- ' * 500000",
    "quotes": "'a: \"' + '\\\\d' * 500000 + '\"'",
    "digits of another script": "'- \\u0663\\n' * 250000",
    "wrong bytes": "b'a: ' + b'\\xff' * 1000000",
    "blank lines": "'\\n' * 1000000",
    "question marks": "'? a\\n' * 250000",
}


TRIAL = """
import json, os, resource, sys
from docgen.club.yamltext import read_yaml
for recipe in json.load(sys.stdin):
    child = os.fork()
    if child:
        print(os.waitpid(child, 0)[1], flush=True)
        continue
    try:
        resource.setrlimit(resource.RLIMIT_AS, (1 << 30, 1 << 30))
        resource.setrlimit(resource.RLIMIT_CPU, (10, 10))
        document, problems = read_yaml("f.yaml", eval(recipe))
        longest = max((len(str(problem)) for problem in problems), default=0)
        print(document is not None, len(problems), longest, end=" ", flush=True)
    finally:
        os._exit(sys.exc_info()[0] is not None)
"""


@pytest.fixture(scope="module")
def tried() -> dict[str, str]:
    """What became of each: whether it was read, how many problems, the longest of them, and how its process ended."""
    command = [sys.executable, "-c", TRIAL]
    done = subprocess.run(command, input=json.dumps([*HOSTILE.values()]), capture_output=True, text=True, check=False)
    assert (done.returncode, done.stderr) == (0, "")
    return dict(zip(HOSTILE, done.stdout.splitlines(), strict=True))


@pytest.mark.parametrize("kind", HOSTILE)
def test_a_hostile_megabyte_takes_bounded_time_and_memory(tried: dict[str, str], kind: str) -> None:
    """The system itself ends the process at 10 s of processor time or 1 GiB of address space, Python's own included."""
    read, found, longest, ended = tried[kind].split()
    assert ended == "0"
    assert read == "True" or int(found)
    assert int(found) <= MAX_PROBLEMS + 1
    assert int(longest) < 3000
