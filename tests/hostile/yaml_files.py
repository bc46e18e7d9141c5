"""Hostile YAML: put among the club's procedures, models or records, and proofed."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from tests.hostile.cases import Case, Place
from tests.smallclub import texts

PROCEDURE, MODEL = "procedures/rotor-service.yaml", "models/willow-80.yaml"
TORQUE = "torque: 34 N.m +/- 10 %"


def _instead(path: str, right: str, wrong: str) -> Callable[[Place], str]:
    """The small club's file with one thing changed."""

    def act(place: Place) -> str:
        text = texts()[path]
        assert right in text
        place.put(path, text.replace(right, wrong, 1))
        return place.docgen("proof")

    return act


def _whole(content: str | bytes, path: str = "procedures/stranger.yaml") -> Callable[[Place], str]:
    """A file more."""

    def act(place: Place) -> str:
        place.put(path, content)
        return place.docgen("proof")

    return act


def _made(recipe: Callable[[], str | bytes]) -> Callable[[Place], str]:
    """A large file, made only when its turn comes."""
    return lambda place: _whole(recipe())(place)


def _bomb(width: int, levels: int) -> str:
    rows = ["a0: &a0 [lol]", *(f"a{n}: &a{n} [{', '.join([f'*a{n - 1}'] * width)}]" for n in range(1, levels))]
    return "\n".join(rows) + "\n"


TAGS = {
    "a Python object": "revision: !!python/object/apply:os.system ['touch /tmp/owned']",
    "a Python name": "revision: !!python/name:os.system",
    "a module loaded": "revision: !!python/module:subprocess",
    "a whole number by tag": "revision: !!int 3",
    "bytes": "revision: !!binary aGVsbG8=",
    "an include": "revision: !include /etc/passwd",
    "an environment variable": "revision: !ENV ${HOME}",
    "a tag of its own by address": "revision: !<tag:example.invalid,2000:x> 3",
}
ALIASES = {
    "a value repeated": "revision: &three 3\nprint: *three",
    "a merge of mappings": "revision: 3\n<<: {code: XXX}",
    "an alias to itself": "revision: &a [*a]",
    "an alias to nothing": "revision: *nowhere",
}
LOOK_ALIKES = {
    "a fullwidth three": "torque: \uff134 N.m +/- 10 %",
    "an Arabic-Indic three": "torque: \u06634 N.m +/- 10 %",
    "an extended Arabic-Indic four": "torque: 3\u06f4 N.m +/- 10 %",
    "a Devanagari tolerance": "torque: 34 N.m +/- \u0967\u0966 %",
    "a mathematical bold three": "torque: \U0001d7d14 N.m +/- 10 %",
    "a superscript": "torque: 3\u2074 N.m +/- 10 %",
    "a letter l for a one": "torque: l4 N.m +/- 10 %",
    "a letter O for a nought": "torque: 3O N.m +/- 10 %",
    "a Cyrillic unit": "torque: 34 N.\u043c +/- 10 %",
    "a no-break space inside": "torque: 3\u00a04 N.m +/- 10 %",
    "a low line point": "torque: 3\u06d44 N.m +/- 10 %",
}
TURNED = {
    "right-to-left override in a torque": "torque: 34\u202e N.m +/- 10 %",
    "right-to-left mark": "torque: \u200f34 N.m +/- 10 %",
    "left-to-right isolate": "torque: \u206634\u2069 N.m +/- 10 %",
    "Arabic letter mark": "torque: 34\u061c N.m +/- 10 %",
    "zero-width space": "torque: 3\u200b4 N.m +/- 10 %",
    "tag characters": "torque: 34 N.m +/- 10 %\U000e0031",
    "Hangul filler": "torque: 34\u3164 N.m +/- 10 %",
    "joiner between digits": "torque: 3\u200d4 N.m +/- 10 %",
    "an override written as a code": 'torque: "34 \\u202e N.m"',
}


def _cases() -> Iterator[Case]:
    for name, line in TAGS.items():
        yield Case("yaml-tag", name, _instead(PROCEDURE, "revision: 3", line))
    for name, line in ALIASES.items():
        yield Case("yaml-alias", name, _instead(PROCEDURE, "revision: 3", line))
    yield Case("yaml-alias", "a bomb of nine times nine", _made(lambda: _bomb(9, 10)))
    yield Case("yaml-alias", "a bomb on one line", _whole("a: &a [&b [&c [&d [x,x],*d,*d],*c,*c],*b,*b]\n"))
    yield Case("yaml-depth", "brackets 21 deep", _whole("a: " + "[" * 21 + "]" * 21 + "\n"))
    yield Case("yaml-depth", "brackets a million deep", _made(lambda: "[" * 1_000_000))
    yield Case("yaml-depth", "braces a quarter of a million deep", _made(lambda: "{a: " * 250_000))
    yield Case("yaml-depth", "dashes half a million deep", _made(lambda: "- " * 500_000))
    yield Case("yaml-depth", "indents 40 deep", _whole("".join(f"{'  ' * n}k{n}:\n" for n in range(40))))
    yield Case("yaml-size", "a byte too many", _made(lambda: "a: " + "x" * (1 << 20) + "\n"))
    yield Case("yaml-size", "sixty megabytes", _made(lambda: b"#" * (60 << 20)))
    yield Case("yaml-size", "one text of a megabyte", _made(lambda: "a: " + "x" * 1_000_000 + "\n"))
    yield Case("yaml-size", "a hundred thousand values", _made(lambda: "- a\n" * 100_000))
    yield Case("yaml-size", "a million empty lines", _made(lambda: "\n" * 1_000_000))
    yield Case("yaml-size", "one key of a megabyte", _made(lambda: "x" * 1_000_000 + ": 1\n"))
    yield Case("yaml-size", "a club.yaml too large", _made_at("club.yaml", "club: A\n" + "#" * (1 << 20)))
    yield Case("yaml-duplicate-key", "a torque given twice", _instead(MODEL, TORQUE, f"{TORQUE}\n    torque: 340 N.m"))
    yield Case("yaml-duplicate-key", "the second in quotes", _instead(PROCEDURE, "code: ROT", 'code: ROT\n"code": XXX'))
    yield Case("yaml-duplicate-key", "in braces", _instead(MODEL, "{gauge: feelers,", "{gauge: feelers, gauge: paste,"))
    for name, line in LOOK_ALIKES.items():
        yield Case("yaml-look-alike-digit", name, _instead(MODEL, TORQUE, line))
    for name, line in TURNED.items():
        yield Case("yaml-turned-text", name, _instead(MODEL, TORQUE, line))
    yield Case("yaml-turned-text", "in a comment", _instead(MODEL, TORQUE, f"{TORQUE}  # \u202e was 43"))
    yield Case("yaml-turned-text", "in a key", _instead(MODEL, "torque: 34", "tor\u200bque: 34"))
    yield Case("yaml-turned-text", "in a file's name", _whole("a: 1\n", "procedures/a\u202elmay.yaml"))
    yield Case("yaml-bytes", "a null byte", _whole(b"procedure: stranger\x00\n"))
    yield Case("yaml-bytes", "an escape to the terminal", _whole(b"procedure: \x1b]0;owned\x07stranger\n"))
    yield Case("yaml-bytes", "not UTF-8", _whole(b"procedure: \xc3\x28\n"))
    yield Case("yaml-bytes", "an overlong slash", _whole(b"procedure: \xc0\xafetc\n"))
    yield Case("yaml-bytes", "UTF-16", _whole("procedure: stranger\n".encode("utf-16")))
    yield Case("yaml-bytes", "half a surrogate pair", _whole(b'procedure: "\\ud800"\n'))
    yield Case("yaml-bytes", "a second document", _whole("procedure: stranger\n---\nprocedure: other\n"))
    yield Case("yaml-bytes", "a directive", _whole("%TAG ! tag:example.invalid,2000:\n---\nprocedure: stranger\n"))
    yield Case("yaml-bytes", "nothing", _whole(b""))
    yield Case("yaml-bytes", "another kind of file", _whole(b"\x7fELF\x02\x01\x01" + bytes(2)))


def _made_at(path: str, content: str) -> Callable[[Place], str]:
    return _whole(content, path)


CASES = tuple(_cases())
