"""What is pure and dear is done once in a process of tests: reading the same YAML again gives the same.

The process that reads strangers' files is started once, too: it keeps nothing of what it read.
"""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import Any

from docgen.club import fit, read, readlog, sidefiles, translation, yamltext
from docgen.club.folder import Folder, Read
from docgen.club.problem import Problem
from docgen.club.read import read_club
from docgen.club.yamlbytes import Source
from docgen.club.yamldoc import Data, Document
from docgen.club.yamlevents import Builder
from docgen.returns.sandbox import Reader
from docgen.share.founding import shipped_folder

Parsed = tuple[Builder | None, list[yamltext.Fault]]
_parsed: dict[str, Parsed] = {}
_parse = yamltext._parse
_fits: dict[tuple[type[Any], str, str], tuple[Data, Any, list[Problem]]] = {}
_fit = fit.fit
_turns: dict[tuple[int, str, str], tuple[Any, Any]] = {}
_told = translation._told
_idle: list[tuple[Any, Any]] = []
_start, _end = Reader._start, Reader.__exit__
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


def fitted(document: Document, shape: type[Any]) -> tuple[Any, list[Problem]]:
    """As :func:`docgen.club.fit.fit`, which follows from the document; what it gives is frozen."""
    key = (shape, document.path, document.text)
    if key not in _fits or _fits[key][0] != document.data:  # an event inside a correction has its text
        _fits[key] = (document.data, *_fit(document, shape))
    _, value, problems = _fits[key]
    return value, [*problems]


def turned(club: Folder, one: Read[Any], language: str) -> Read[Any]:
    """As ``_turned`` of translation; the value is kept, so that no other can come to stand in its place."""
    key = (id(one.value), language, translation.own_language(club, one))
    if key not in _turns:
        _turns[key] = one.value, _told(one.value, *key[1:])
    return Read(_turns[key][1], one.document)


def begun(reader: Reader) -> None:
    """As :func:`Reader._start`, with the process of a reader that ended well, where there is one."""
    if _idle:
        reader._process, reader._pipe = _idle.pop()
    else:
        _start(reader)


def ended(reader: Reader, *error: Any) -> None:
    """As leaving a reader; its process is kept for the next, unless something went wrong."""
    if reader._pipe is not None and error[0] is None and not _idle:
        _idle.append((reader._process, reader._pipe))
        reader._process = reader._pipe = None
    _end(reader, *error)


def remember() -> None:
    """From now on, in this process."""
    Reader._start, Reader.__exit__ = begun, ended  # type: ignore[method-assign]
    yamltext._parse = parse
    for module in (sidefiles, read, readlog):
        module.fit = fitted  # type: ignore[attr-defined]
    translation._turned = turned
