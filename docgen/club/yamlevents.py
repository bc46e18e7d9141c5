"""From YAML events to plain data with positions, refusing what a club's file may not hold."""

import re
from dataclasses import dataclass, field

import yaml

from docgen.club.yamlbytes import Fault
from docgen.club.yamldoc import Data, Loc, Position
from docgen.club.yamlscalar import (
    Piece,
    as_key,
    check_key,
    check_value,
    piece,
    reserved_start,
    row,
    short,
    start,
    stuck_key,
)

MAX_DEPTH = 20
"""Deepest nesting of lists and mappings."""
MAX_NODES = 50_000
"""Most values and keys in one file."""


_BLANK = re.compile(r"[ \t]*((?<![^ \t])#.*)?")
"""Blanks and a comment behind them."""


class Stop(Exception):
    """The rest of the file is not worth, or not safe, reading; the reason is among the faults."""


@dataclass
class Open:
    """A list or mapping that is being filled; `drop`: the value of `key` is not to be kept.

    `stray`: a key without a value was found and reported.
    """

    container: dict[str, Data] | list[Data]
    loc: Loc
    at: Position
    flow: bool
    key: Piece | None = None
    drop: bool = False
    stray: bool = False


@dataclass
class Builder:
    """Takes the events of one file, one by one. `data`, `values` and `keys` are then what Document needs."""

    lines: list[str]
    data: Data = None
    values: dict[Loc, Position] = field(default_factory=dict)
    keys: dict[Loc, Position] = field(default_factory=dict)
    faults: list[Fault] = field(default_factory=list)
    stack: list[Open] = field(default_factory=list)
    nodes: int = 0
    documents: int = 0
    last: yaml.Event | None = None
    closed: Open | None = None

    def take(self, event: yaml.Event) -> None:
        """Take the next event. Errors: `Stop` when a bound is passed or a second document begins."""
        if isinstance(event, yaml.DocumentStartEvent):
            self._begin(event)
        elif isinstance(event, yaml.NodeEvent):
            self._node(event)
        elif isinstance(event, yaml.CollectionEndEvent):
            self.closed = self.stack.pop()
        self.last = event

    def _begin(self, event: yaml.DocumentStartEvent) -> None:
        self.documents += 1
        if self.documents > 1:
            self.faults.append(own_line(*start(event)))
            raise Stop
        if event.version or event.tags:
            self.faults.append(own_line(next(n for n, line in enumerate(self.lines, 1) if line.startswith("%")), 1))

    def _node(self, event: yaml.NodeEvent) -> None:
        self.nodes += 1
        if self.nodes > MAX_NODES:
            message = f"the file holds more than {MAX_NODES} values"
            self._fault(start(event), "too-many-values", message, "split it into smaller files")
            raise Stop
        top = self.stack[-1] if self.stack else None
        wants_key = top is not None and isinstance(top.container, dict) and top.key is None
        self._refuse_properties(event, wants_key)
        if isinstance(event, yaml.CollectionStartEvent):
            self._open(event, wants_key)
        elif top is not None and wants_key:
            self._key(top, event)
        else:
            self._value(event)

    def _refuse_properties(self, event: yaml.NodeEvent, is_key: bool) -> None:
        if event.anchor is not None or getattr(event, "tag", None) is not None:
            line, col = start(event)
            flow = is_key or (bool(self.stack) and self.stack[-1].flow)
            self.faults.append(reserved_start(line, col, row(self.lines, line), flow=flow))

    def _open(self, event: yaml.CollectionStartEvent, wants_key: bool) -> None:
        at = start(event)
        if len(self.stack) >= MAX_DEPTH:
            self.faults.append(too_deep(*at))
            raise Stop
        if wants_key:
            self.faults.append(as_key(*at))
            raise Stop
        fresh: dict[str, Data] | list[Data] = {} if isinstance(event, yaml.MappingStartEvent) else []
        self.stack.append(Open(fresh, self._put(fresh, at), at, bool(event.flow_style)))

    def _key(self, top: Open, event: yaml.NodeEvent) -> None:
        found = piece(event)
        at = (found.line, found.col)
        loc = (*top.loc, found.text)
        top.key, top.drop = found, True
        faults = list(check_key(found, self.lines))
        self.faults += faults
        top.stray = top.stray or any(fault.name == "text-cut" for fault in faults)
        if found.plain and found.text == "":
            self.faults.append(as_key(*at))
        elif loc in self.keys:
            first = self.keys[loc][0]
            message = f'the key "{short(found.text)}" stands here a second time; the first is at line {first}'
            self._fault(at, "duplicate-key", message, "keep one of the two")
        elif found.style != "*":
            self.keys[loc] = at
            top.drop = False

    def _value(self, event: yaml.NodeEvent) -> None:
        if not isinstance(event, yaml.ScalarEvent):
            self._put(None, start(event))
            return
        found = piece(event)
        top = self.stack[-1] if self.stack else None
        if top is not None and top.flow and top.key is not None and not self._has_colon(top.key):
            if not top.stray:
                self.faults.append(self._stray(top, top.key))
            top.drop = top.stray = True
        else:
            in_list = top is not None and isinstance(top.container, list)
            flow = top is not None and top.flow
            self.faults.extend(check_value(found, self.lines, in_list=in_list, flow=flow))
        empty = found.plain and found.text == ""
        self._put(None if empty else found.text, (found.line, found.col))

    def _stray(self, top: Open, key: Piece) -> Fault:
        """A text in `{...}` that became a key because of a comma in it, or because it has no value."""
        held = top.container if isinstance(top.container, dict) else {}
        before = list(held)
        if ":" in key.text and key.plain:
            found = stuck_key(key.line, key.col, key.text.split(":")[0], key.text)
            return found if key.line == key.end_line else found._replace(col=key.col)
        if before:
            message = f'the comma makes "{short(key.text)}" a key of its own, without a value'
            hint = f'if it belongs to the text of "{short(before[-1])}", put that whole text in quotes'
            if str(held[before[-1]])[-1:].isdigit() and key.text[:1].isdigit():
                hint = "write a decimal with a point, 0.5 and not 0,5; and thousands without a mark"
            return Fault(key.line, key.col, "stray-comma-key", message, hint)
        message = f'"{short(key.text)}" stands in {{ }} without a value'
        hint = "write key: value; for a list, use [ ]; if the braces are part of a text, put the whole text in quotes"
        return Fault(key.line, key.col, "key-without-value", message, hint)

    def _has_colon(self, key: Piece) -> bool:
        """Whether a colon follows the key, on its line or on a later one."""
        line, at = key.end_line, key.end_col - 1
        while line <= len(self.lines):
            found = _BLANK.match(self.lines[line - 1], at)
            if found and found.end() < len(self.lines[line - 1]):
                return self.lines[line - 1][found.end()] == ":"
            line, at = line + 1, 0
        return False

    def _put(self, value: Data, at: Position) -> Loc:
        if not self.stack:
            self.data = value
            loc: Loc = ()
        else:
            top = self.stack[-1]
            if isinstance(top.container, list):
                loc = (*top.loc, len(top.container))
                top.container.append(value)
                self.keys[loc] = at
            else:
                key = top.key.text if top.key is not None else ""
                # What is dropped still gets a place of its own, so that keys inside it are told apart.
                loc = (*top.loc, key, -self.nodes) if top.drop else (*top.loc, key)
                if not top.drop:
                    top.container[key] = value
                top.key, top.drop = None, False
        self.values[loc] = at
        return loc

    def _fault(self, at: Position, name: str, message: str, hint: str) -> None:
        self.faults.append(Fault(*at, name, message, hint))


def own_line(line: int, col: int) -> Fault:
    """A line that starts with `%`, `---` or `...`, as YAML has them to order the reader about and to part documents."""
    message = "a file holds one document, and no line that starts with %, --- or ... within it"
    return Fault(line, col, "several-documents", message, "delete that line, or make a file of its own of what follows")


def too_deep(line: int, col: int) -> Fault:
    """Lists and mappings inside one another beyond the bound."""
    message = f"lists and mappings are nested more than {MAX_DEPTH} deep here"
    return Fault(line, col, "too-deep", message, "close the brackets, or bring the lines further out")
