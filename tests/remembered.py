"""What is pure and dear is done once in a process of tests: reading the same YAML again gives the same."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from docgen.club import yamltext
from docgen.club.folder import Folder
from docgen.club.read import read_club
from docgen.club.yamlbytes import Source
from docgen.club.yamlevents import Builder
from docgen.share.founding import shipped_folder

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


@cache
def shipped() -> Folder:
    """What comes with docgen, read: no test writes there."""
    return read_club(shipped_folder())


def begun_from(root: Path) -> Folder:
    """What a new club takes things from, as :func:`docgen.club.read.read_club` reads it."""
    return shipped() if root == shipped_folder() else read_club(root)


def remember() -> None:
    """From now on, in this process."""
    yamltext._parse = parse
