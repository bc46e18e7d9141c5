"""Where YAML cannot be parsed: the commonest slips by the text at the place, all others by what could stand there."""

import re
from collections.abc import Callable
from typing import NamedTuple

import yaml

from docgen.club.problem import counted
from docgen.club.text import ODD_SPACE, describe
from docgen.club.yamlbytes import STAND_IN, Fault
from docgen.club.yamlevents import MAX_DEPTH, Builder, own_line, too_deep
from docgen.club.yamlscalar import Piece, as_key, piece, quote_hint, reserved_start, row, short, stuck_key

_LEAD = re.compile(r"\s*(?:- +)*")
_KEY = re.compile(r"\s*(?:- +)*[\w-]+: +")
_STUCK = re.compile(r"([A-Za-z][\w-]*):(?=[^ \t/])")
_CLOSING = {"[": "]", "{": "}"}
_WITHIN = ("colon-in-text", "reserved-start", "text-after-quote")
"""Faults that lie within one value."""


class Repair(NamedTuple):
    """Characters to put over those at a place, so that the rest of the file can be checked."""

    line: int
    col: int
    text: str


class Site(NamedTuple):
    """Where the parser gave up, where what it was reading there began, and what came before."""

    line: int
    col: int
    from_line: int
    from_col: int
    built: Builder

    def row(self, number: int) -> str:
        """Line `number` of the file; empty past its end."""
        return row(self.built.lines, number)

    @property
    def here(self) -> str:
        """The line from the place on."""
        return self.row(self.line)[self.col - 1 :]

    @property
    def before(self) -> str:
        """The line up to the place."""
        return self.row(self.line)[: self.col - 1]

    @property
    def last(self) -> Piece | None:
        """The text that was read last, if that was a text."""
        return piece(self.built.last) if isinstance(self.built.last, yaml.ScalarEvent) else None

    @property
    def quote(self) -> str:
        """The quote that opened the text that the place lies in; empty outside of such a text."""
        began = self.row(self.from_line)[self.from_col - 1 :]
        within = began[: self.col - self.from_col] if self.from_line == self.line else began
        return began[0] if began[:1] in ("'", '"') and within.count(began[0]) == 1 else ""

    @property
    def flow(self) -> bool:
        """Whether the place stands inside brackets or braces."""
        return bool(self.built.stack) and self.built.stack[-1].flow

    def fault(self, name: str, message: str, hint: str) -> Fault:
        """A fault at the place."""
        return Fault(min(self.line, len(self.built.lines)), self.col, name, message, hint)


def diagnose(error: yaml.YAMLError, built: Builder) -> tuple[Fault, Repair | None]:
    """What is wrong where the parser gave up on a file, and how to get past it; None leaves the rest unread."""
    from_mark = getattr(error, "context_mark", None)
    mark = getattr(error, "problem_mark", None) or from_mark
    line, col = (mark.line + 1, mark.column + 1) if mark is not None else (1, 1)
    began = (from_mark.line + 1, from_mark.column + 1) if from_mark is not None else (line, col)
    site = Site(line, col, *began, built)
    fault = next(found for look in LOOKS if (found := look(site)))
    return fault, _repair(fault, site)


def _repair(fault: Fault, site: Site) -> Repair | None:
    """A space behind a colon, or a stand-in for a value that begins and ends on the line of its key."""
    source = site.row(fault.line)
    if fault.name == "missing-space" and source[fault.col - 1 : fault.col] == ":":
        return Repair(fault.line, fault.col + 1, " ")
    opened = next((one.at[0] for one in site.built.stack if one.flow), 0)
    begun = site.last.line if site.last and fault.name == "text-after-quote" else opened or fault.line
    whole = begun == fault.line and (not opened or source.rstrip().endswith(("]", "}")))
    key = _KEY.match(source)
    more = source[fault.col :].strip() and not source.rstrip().endswith(":")
    if fault.name in _WITHIN and whole and key and key.end() < fault.col and more:
        return Repair(fault.line, key.end() + 1, STAND_IN * (len(source) - key.end()))
    return None


def _indent(source: str) -> int:
    """How many blanks stand before the text of a line."""
    return len(source) - len(source.lstrip())


def _key_column(source: str) -> int:
    """How many characters stand before the key of a line: its indent, and the dashes of the list items it begins."""
    found = _LEAD.match(source)
    return found.end() if found else 0


def _lead(site: Site) -> Fault | None:
    """A line that is indented with anything but spaces."""
    for line in (site.line, site.from_line):
        source = site.row(line)
        lead = source[: _indent(source)]
        if "\t" in lead:
            more = sum("\t" in other[: _indent(other)] for other in site.built.lines[line:] if other.strip())
            message = "this line is indented with a tab" + (f", as {counted(more, 'line')} below it" if more else "")
            return Fault(line, lead.index("\t") + 1, "tab-indent", message, "use spaces, two for each step")
        if odd := ODD_SPACE.search(lead):
            message = f"this line is indented with a {describe(odd[0])}, which looks like a space but is not one"
            return Fault(line, odd.start() + 1, "odd-space", message, "type the indent again with the space bar")
    if site.here.startswith("\t"):
        return site.fault("tab-indent", "a tab stands where YAML wants a space", "put a space in its place")
    return None


def _document(site: Site) -> Fault | None:
    """Lines about the file as a whole, which are not allowed in it."""
    if sum(site.before.count(sign) for sign in "[{") > MAX_DEPTH:
        return too_deep(site.line, site.col)
    for number, source in enumerate(site.built.lines[: site.line], 1):
        if source.startswith(("%", "...")) or (source.startswith("--- ") and number == site.line):
            return own_line(number, 1)
    return None


def _quote(site: Site) -> Fault | None:
    """A quote that is not closed, or closed too early."""
    source, last, sign = site.row(site.line), site.last, site.quote
    if sign and sign not in site.row(site.from_line)[site.from_col :]:
        message = f"the quote ({sign}) that opens here is never closed"
        return Fault(site.from_line, site.from_col, "unclosed-quote", message, f"put {sign} at the end of the text")
    quoted = last is not None and last.style in ("'", '"') and last.end_line == site.line
    if last is not None and quoted and last.line < site.line and site.here.strip():
        message = f"the quote ({last.style}) that opens here closes only at line {site.line}, where more follows"
        hint = f"put {last.style} at the end of the text that it opens"
        return Fault(last.line, last.col, "unclosed-quote", message, hint)
    if not site.before.rstrip().endswith(("'", '"')) or site.here[:1] in ("", *":,]}"):
        return None
    hint = "put the whole text in one pair of quotes"
    if site.flow:
        hint = "put a comma between two entries, or put the whole text in quotes"
    elif quoted and last is not None:
        hint = quote_hint(source, last.col)
    return site.fault("text-after-quote", "the text in quotes ends before this, but the line goes on", hint)


def _stuck(site: Site) -> Fault | None:
    """A key or a dash without a space behind it, here or on the line that this one was read as more of."""
    last = site.last
    if site.flow and site.here.startswith(":") and site.here[1:2] in tuple(",]}"):
        hint = "put a space and the value after the colon"
        return site.fault("missing-space", "there is no space after this colon", hint)
    for line, col in dict.fromkeys([(site.from_line, site.from_col), *([(last.line, last.col)] if last else [])]):
        text = site.row(line)[col - 1 :]
        if found := _STUCK.match(text):
            if not (odd := ODD_SPACE.match(text, found.end())):
                return stuck_key(line, col, found[1], text)
            message = f'behind the colon of "{short(found[1])}" stands a {describe(odd[0])}, not an ordinary space'
            return Fault(line, col + found.end(), "odd-space", message, "type it again with the space bar")
        if re.match(r"-[^\s-]", text) and not site.flow and not site.row(line)[: col - 1].strip():
            message = "there is no space after the dash, so this is not read as a list item"
            return Fault(line, col, "missing-space", message, f"write: - {short(text[1:])}")
    return None


def _reserved(site: Site) -> Fault | None:
    """A text that begins with a sign to which YAML gives a meaning."""
    for line, col in dict.fromkeys([(site.from_line, site.from_col), (site.line, site.col)]):
        source = site.row(line)
        inside = bool(source[: col - 1].strip()) and ("-?" if site.flow else "?,")
        if source[col - 1 : col] in tuple("!@`%&*|>" + (inside or "")):
            return reserved_start(line, col, source, flow=site.flow)
    closed = site.built.closed
    ended = closed is not None and closed.flow and site.before.rstrip().endswith(("]", "}")) and not site.flow
    if closed is not None and ended and closed.at[0] == site.line and site.here[:1] not in ("]", "}"):
        return reserved_start(*closed.at, site.row(site.line))
    return None


def _brackets(site: Site) -> Fault | None:
    """Brackets that are not closed, and a colon too many between them."""
    if not site.flow:
        return None
    line, col = site.built.stack[-1].at
    opening, colon = site.row(line)[col - 1 : col], site.here.startswith(":")
    inside = _indent(site.row(site.line)) > _key_column(site.row(line))
    if not site.row(site.line).strip() or (site.line > line and (not inside or colon)):
        return Fault(line, col, "unclosed-bracket", f'the "{opening}" that opens here is not closed',
                     f'put "{_CLOSING.get(opening, "]")}" behind its last entry')  # fmt: skip
    if colon and not site.before.rstrip().endswith(("{", ",")):
        message = "there is a colon too many here: a comma is missing before it, or it belongs to a text"
        hint = "put a comma between two entries, and a text with a colon in quotes"
        return site.fault("colon-in-text", message, hint)
    return None


def _colon(site: Site) -> Fault | None:
    """A colon where no key can stand: in a text, or on a line that was read as more of the text above."""
    last = site.last
    if site.flow or not site.here.startswith(":"):
        return None
    if not site.before.strip(" -"):
        return as_key(site.line, site.col)
    if site.before.rstrip().endswith(":"):
        return reserved_start(site.line, site.col, site.row(site.line))
    if last is None or not last.plain or last.end_line != site.line:
        return None
    if last.line < site.line:
        return _read_as_text(site, last)
    message = f'the colon with a space behind it makes "{short(last.text)}" a key of its own'
    hint = quote_hint(site.row(site.line), last.col)
    if not site.here[1:].strip():
        hint = "put every key on a line of its own, or put the text in quotes"
    return site.fault("colon-in-text", message, hint)


def _read_as_text(site: Site, last: Piece) -> Fault:
    above = site.row(last.line)
    before = above[: last.col - 1].strip(" -")
    if not before:
        message = f"this line has no key with a colon, but line {site.line} below it goes on with one"
        hint = "put its key before it, or, if it is the key, a colon behind it"
        return Fault(last.line, last.col, "no-colon", message, hint)
    key = short(before.rstrip(":"))
    message = f'this line stands further in than "{key}" at line {last.line}, so it is read as more of its text'
    hint = f"if it is a key of its own, start it at column {_key_column(above) + 1}"
    return Fault(site.line, _indent(site.row(site.line)) + 1, "bad-indent", message, hint)


def _dash(site: Site) -> Fault | None:
    """A list on the line of its key."""
    if site.flow or not site.here.startswith("-") or not site.before.strip():
        return None
    hint = "start the list on the next line; if it is text, " + quote_hint(site.row(site.line), site.col)
    return site.fault("list-on-key-line", "a list item cannot stand on the line of its key", hint)


def _no_colon(site: Site) -> Fault | None:
    """A line that is nothing."""
    source = site.row(site.from_line)[site.from_col - 1 :]
    began = site.from_line < site.line or site.from_col < site.col
    if site.flow or site.quote or not began or source.startswith("-") or re.search(r":(?: |$)", source):
        return None
    message = "this line is neither a key with its colon nor a list item with its dash"
    hint = "after a key, put a colon and a space; if this goes on with the text above, start it further in"
    return Fault(site.from_line, site.from_col, "no-colon", message, hint)


def _unexpected(site: Site) -> Fault:
    """Anything else: what could stand at the place."""
    columns, top = sorted(_columns_above(site)), site.built.stack[-1] if site.built.stack else None
    if site.quote:
        wanted = f"the end of the text in quotes that begins at line {site.from_line} (a backslash in it is two: \\\\)"
    elif top is not None and top.flow:
        line, sign = top.at[0], site.row(top.at[0])[top.at[1] - 1 :][:1]
        wanted = f'a comma and one more entry, or "{_CLOSING.get(sign, "]")}" for the "{sign}" of line {line}'
    elif site.before.strip() or not site.here.strip():
        wanted = "the end of the line, or quotes round the whole text"
    elif site.col not in columns:
        names = " or ".join((", ".join(map(str, columns)) or "1").rsplit(", ", 1))
        message = f"this line starts at column {site.col}; the lines that it could belong to start at column {names}"
        return site.fault("bad-indent", message, "line it up with the line that it belongs to")
    elif top is not None and isinstance(top.container, list):
        wanted = f"a dash and a space, as in the list of line {top.at[0]}"
    else:
        wanted = "a key with a colon and a space" + (f", as at line {top.at[0]}" if top is not None else "")
    hint = "compare it with a file that works; a text that holds more than words and figures stands in quotes"
    return site.fault("not-yaml", f"this cannot be read; what could stand here is {wanted}", hint)


def _columns_above(site: Site) -> set[int]:
    """Columns at which the lists and mappings around a line begin, read off the lines above it."""
    columns: set[int] = set()
    lowest = 1 << 30
    for source in reversed(site.built.lines[max(0, site.line - 201) : site.line - 1]):
        depth = _indent(source)
        if source.strip() and not source.lstrip().startswith("#") and depth < lowest:
            lowest = depth
            columns |= {depth + 1, _key_column(source) + 1}
    return columns


LOOKS: tuple[Callable[[Site], Fault | None], ...] = (
    _lead, _document, _quote, _stuck, _reserved, _brackets, _colon, _dash, _no_colon, _unexpected,
)  # fmt: skip
"""What is looked for, in this order; the first that is found answers, the last one always does."""
