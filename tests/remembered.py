"""What is pure and dear is done once in a process of tests: reading the same YAML again gives the same."""

from __future__ import annotations

from docgen.club import yamltext
from docgen.club.yamlbytes import Source
from docgen.club.yamlevents import Builder

Parsed = tuple[Builder | None, list[yamltext.Fault]]
_parsed: dict[str, Parsed] = {}
_parse = yamltext._parse
LONG = 1 << 20
"""Characters up to which a file's reading is kept: the hostile ones are longer."""


def parse(source: Source) -> Parsed:
    """As :func:`docgen.club.yamltext._parse`, which follows from the text alone."""
    if len(source.text) > LONG:
        return _parse(source)
    if source.text not in _parsed:
        _parsed[source.text] = _parse(source)
    built, faults = _parsed[source.text]
    return built, [*faults]


def remember() -> None:
    """From now on, in this process."""
    yamltext._parse = parse
