"""Every fault that the YAML reader finds, in its whole words."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from docgen.club.yamltext import read_yaml
from tests.club.twenty import TWENTY

FAULTS = Path(__file__).with_name("yaml-faults.txt")


def cases() -> list[tuple[str, str, str]]:
    """Name, file and expected words of each case in `yaml-faults.txt`; "(codes)" marks a file in Python codes."""
    found = []
    for block in re.split(r"^=== ", FAULTS.read_text(encoding="utf-8"), flags=re.M)[1:]:
        name, rest = block.split("\n", 1)
        content, says = rest.split("-" * 10 + "\n")
        if name.endswith("(codes)"):
            content = content.encode("latin-1").decode("unicode_escape")
        found.append((name, content, says.strip("\n")))
    return found


CASES = cases()


def test_there_are_many_cases() -> None:
    assert len(CASES) >= 150
    assert len({name for name, _, _ in CASES}) == len(CASES)


@pytest.mark.parametrize(("content", "says"), [case[1:] for case in CASES], ids=[case[0] for case in CASES])
def test_whole_words_of_every_fault(content: str, says: str) -> None:
    assert "\n".join(map(str, read_yaml("f.yaml", content)[1])) == says


BOUNDS = {"too-large", "too-long", "too-many-values", "too-many-problems", "too-deep"}
REFUSED = {"control-character", "hidden-character", "damaged-text", "complex-key", "several-documents", "empty-file"}


@pytest.mark.parametrize(("content", "name"), [one[1:] for one in TWENTY], ids=[one[0] for one in TWENTY])
def test_each_of_the_twenty_mistakes_is_told_once_with_what_to_do(content: str | bytes, name: str) -> None:
    problems = read_yaml("f.yaml", content)[1]
    assert [(one.name, bool(one.line), bool(one.hint)) for one in problems] == [(name, True, True)]


def test_only_the_twenty_have_words_of_their_own() -> None:
    assert len({what for what, _, _ in TWENTY}) == 20
    sources = sorted((Path(__file__).parents[2] / "docgen" / "club").glob("yaml*.py"))
    assert len(sources) >= 5
    code = "\n".join(path.read_text(encoding="utf-8") for path in [*sources, sources[0].with_name("text.py")])
    names = set(re.findall(r'"([a-z]+(?:-[a-z0-9]+)+)"', code)) - {"utf-8"}
    assert names == {name for _, _, name in TWENTY} | BOUNDS | REFUSED | {"not-yaml"}
    shown = set(re.findall(r"^f\.yaml\S* ([a-z0-9-]+): ", FAULTS.read_text(encoding="utf-8"), flags=re.M))
    assert names - shown == BOUNDS - {"too-deep"} | {"not-utf-8"}


DIRECTIVES = ["%", "%YAML", "%YAML x", "%YAML 1", "%YAML 1.x", "%YAML 1.2x", "%YAML 1.1234567890123"]
DIRECTIVES += ["%YAML 1.2\n%YAML 1.2"]
DIRECTIVES += ["%TAG", "%TAG x y", "%TAG !x y", "%TAG !x! <", "%TAG !x!y z", "%TAG ! a\n%TAG ! a"]
DIRECTIVES += ["%x-y z", "%x!y", "%é"]
TAGS = ["!<>", "!<x y>", "!x,y z", "!!", "!x!", "!<!", "!x%z", "!é"]


@pytest.mark.parametrize("lines", DIRECTIVES)
def test_no_directive_gets_through(lines: str) -> None:
    problems = read_yaml("f.yaml", f"{lines}\n---\na: b\n")[1]
    assert [(p.line, p.col, p.name) for p in problems] == [(1, 1, "several-documents")]


@pytest.mark.parametrize("tag", TAGS)
def test_no_tag_gets_through(tag: str) -> None:
    problems = read_yaml("f.yaml", f"a: {tag}\n")[1]
    assert [(p.line, p.col, p.name) for p in problems] == [(1, 4, "reserved-start")]
