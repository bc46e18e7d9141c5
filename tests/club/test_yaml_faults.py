"""Every fault that the YAML reader finds, in its whole words, and every complaint of the parser under it."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
import yaml

from docgen.club.yamlsyntax import SITES
from docgen.club.yamltext import read_yaml

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


def test_every_fault_has_a_case() -> None:
    sources = sorted((Path(__file__).parents[2] / "docgen" / "club").glob("yaml*.py"))
    assert len(sources) >= 8
    code = "\n".join(path.read_text(encoding="utf-8") for path in [*sources, sources[0].with_name("text.py")])
    names = set(re.findall(r'"([a-z]+(?:-[a-z0-9]+)+)"', code)) | {"merge-key"}
    shown = set(re.findall(r"^f\.yaml\S* ([a-z0-9-]+): ", FAULTS.read_text(encoding="utf-8"), flags=re.M))
    elsewhere = {"too-large", "not-utf-8", "too-long", "too-many-values", "too-many-problems"}
    unreached = {"not-yaml"}  # the words for a place that no case is known to reach
    assert names - {"utf-8"} == shown | elsewhere | unreached
    assert len(names) > 30


DIRECTIVES = ["%", "%YAML", "%YAML x", "%YAML 1", "%YAML 1.x", "%YAML 1.2x", "%YAML 1.1234567890123"]
DIRECTIVES += ["%YAML 1.2\n%YAML 1.2"]
DIRECTIVES += ["%TAG", "%TAG x y", "%TAG !x y", "%TAG !x! <", "%TAG !x!y z", "%TAG ! a\n%TAG ! a"]
DIRECTIVES += ["%x-y z", "%x!y", "%é"]
TAGS = ["!<>", "!<x y>", "!x,y z", "!!", "!x!", "!<!", "!x%z", "!é"]


@pytest.mark.parametrize("lines", DIRECTIVES)
def test_no_directive_gets_through(lines: str) -> None:
    expected = [
        ("f.yaml", number, 1, "directive-not-allowed", 'a line that starts with "%" is an instruction to YAML')
        for number in range(1, lines.count("\n") + 2)
    ]
    problems = read_yaml("f.yaml", f"{lines}\n---\na: b\n")[1]
    assert [(p.path, p.line, p.col, p.name, p.message.split(",")[0]) for p in problems] == expected


@pytest.mark.parametrize("tag", TAGS)
def test_no_tag_gets_through(tag: str) -> None:
    problems = read_yaml("f.yaml", f"a: {tag}\n")[1]
    assert [(p.line, p.col, p.name) for p in problems] == [(1, 4, "tag-not-allowed")]


UNREACHED = {
    # Refused before parsing, by their characters.
    "control characters are not allowed",
    "found an incorrect leading UTF-8 octet",
    "found an incorrect trailing UTF-8 octet",
    "invalid Unicode character",
    "invalid leading UTF-8 octet",
    "invalid length of a UTF-8 sequence",
    "invalid trailing UTF-8 octet",
    "unexpected low surrogate area",
    "incomplete UTF-8 octet sequence",
    "incomplete UTF-16 character",
    "incomplete UTF-16 surrogate pair",
    "unexpected high surrogate area",
    # The parser's first event, which no file can take away.
    "did not find expected <stream-start>",
}


def test_every_complaint_of_the_parser_has_an_answer() -> None:
    """Compared with the sentences in the compiled parser itself, so that a new one in a later version is noticed."""
    opening = "did not find|could not find|found|exceeded|mapping|block sequence|control"
    complaint = re.compile(rf"(?:{opening}) [ -~]* [ -~]*")
    binary = Path(yaml._yaml.__file__).read_bytes()
    sentences = {text.decode() for text in re.findall(rb"[ -~]{12,}", binary)}
    known = {text for text in sentences if complaint.fullmatch(text) and "->" not in text} - UNREACHED
    if not known:
        pytest.skip("the compiled parser of this system keeps its sentences elsewhere")
    files = [content for _, content, _ in CASES if content.isprintable() or "\u2028" not in content]
    files += [f"{lines}\n---\na: b\n" for lines in DIRECTIVES] + [f"a: {tag}\n" for tag in TAGS] + ["[" * 2000]
    heard, answered = set(), set()
    for content in files:
        try:
            list(yaml.parse(content.encode("utf-8", "replace").decode(), Loader=yaml.CSafeLoader))
        except yaml.MarkedYAMLError as error:
            heard.add(error.problem)
            answered |= {words for words, _ in SITES if words in f"{error.context} {error.problem}"}
        except yaml.YAMLError:
            pass
    assert known - heard == set()
    assert answered == {words for words, _ in SITES}
