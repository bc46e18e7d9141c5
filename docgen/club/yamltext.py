"""Reading one YAML file strictly: text stays text, positions are kept, and every problem is reported at once."""

from __future__ import annotations

from dataclasses import dataclass, field

import yaml

from docgen.club.problem import Problem
from docgen.club.yamldoc import Data, Document, Loc, Position

MAX_BYTES = 1 << 20


def read_yaml(path: str, text: str | bytes) -> tuple[Document | None, list[Problem]]:
    """Read one file."""
    if isinstance(text, bytes):
        try:
            text = text.decode("utf-8-sig")
        except UnicodeDecodeError as error:
            return None, [Problem(path, 0, 0, "not-utf-8", f"Byte {error.start + 1} is not UTF-8.")]
    text = text.removeprefix("\ufeff").replace("\r\n", "\n").replace("\r", "\n")
    lines = text.split("\n")
    build = _Build(path, lines)
    try:
        for event in yaml.parse(text, Loader=yaml.CSafeLoader):
            build.take(event)
    except yaml.YAMLError as error:
        mark = getattr(error, "problem_mark", None)
        line, col = (mark.line + 1, mark.column + 1) if mark else (1, 1)
        source = lines[line - 1] if line <= len(lines) else ""
        build.problems.append(Problem(path, line, col, "bad-yaml", "This line cannot be read.", "", source))
        return None, build.problems
    if build.problems:
        return None, build.problems
    return Document(path, text, build.data, build.values, build.keys), build.problems


@dataclass
class _Frame:
    container: dict[str, Data] | list[Data]
    loc: Loc
    key: str | None = None


@dataclass
class _Build:
    path: str
    lines: list[str]
    data: Data = None
    values: dict[Loc, Position] = field(default_factory=dict)
    keys: dict[Loc, Position] = field(default_factory=dict)
    problems: list[Problem] = field(default_factory=list)
    stack: list[_Frame] = field(default_factory=list)

    def take(self, event: yaml.Event) -> None:
        mark = event.start_mark
        at = (mark.line + 1, mark.column + 1) if mark else (1, 1)
        if isinstance(event, yaml.AliasEvent) or getattr(event, "anchor", None):
            self.problems.append(Problem(self.path, *at, "anchor-not-allowed", "Anchors are not allowed."))
        if isinstance(event, yaml.ScalarEvent):
            frame = self.stack[-1] if self.stack else None
            if frame and isinstance(frame.container, dict) and frame.key is None:
                loc = (*frame.loc, event.value)
                if loc in self.keys:
                    self.problems.append(Problem(self.path, *at, "duplicate-key", "Duplicate key."))
                self.keys[loc] = at
                frame.key = event.value
            else:
                self.put(None if event.value == "" and event.style is None else event.value, at)
        elif isinstance(event, yaml.MappingStartEvent):
            fresh: dict[str, Data] = {}
            self.stack.append(_Frame(fresh, self.put(fresh, at)))
        elif isinstance(event, yaml.SequenceStartEvent):
            items: list[Data] = []
            self.stack.append(_Frame(items, self.put(items, at)))
        elif isinstance(event, yaml.CollectionEndEvent):
            self.stack.pop()

    def put(self, value: Data, at: Position) -> Loc:
        if not self.stack:
            self.data = value
            loc: Loc = ()
        else:
            frame = self.stack[-1]
            if isinstance(frame.container, list):
                loc = (*frame.loc, len(frame.container))
                frame.container.append(value)
            else:
                key = frame.key or ""
                loc = (*frame.loc, key)
                frame.container[key] = value
                frame.key = None
        self.values[loc] = at
        return loc
