"""Where YAML cannot be parsed: the commonest slips, known by the text at the place where the parser gave up."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import NamedTuple

import yaml

from docgen.club.text import ODD_SPACE, describe
from docgen.club.yamlbytes import STAND_IN, Fault
from docgen.club.yamlevents import MAX_DEPTH, Builder, directive, too_deep
from docgen.club.yamlmark import Piece, piece, row
from docgen.club.yamlscalar import anchor, comment_cut, empty_key, quote_hint, reserved_start, short, stuck_key, tag

MAX_KEY = 1024
"""Longest key, in characters: YAML 1.2, section 7.4 ("implicit keys")."""
_LEAD = re.compile(r"\s*(?:- +)*")
_STUCK = re.compile(r"([A-Za-z][\w-]*):(?=[^ \t/])")
_ALIAS = re.compile(r"[&*][\w-]+(?=[\s,\]}]|$)")
_CLOSING = {"[": "]", "{": "}"}


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
    def opening(self) -> str:
        """The character at which what was being read began."""
        return self.row(self.from_line)[self.from_col - 1 : self.from_col]

    @property
    def last(self) -> Piece | None:
        """The text that was read last, if that was a text."""
        return piece(self.built.last) if isinstance(self.built.last, yaml.ScalarEvent) else None

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
    """None for what would change how lines hang together, and so make faults of its own."""
    source = site.row(fault.line)
    if fault.name == "directive-not-allowed":
        return Repair(fault.line, 1, "#")
    if fault.name == "missing-space" and source[fault.col - 1 : fault.col] == ":":
        return Repair(fault.line, fault.col + 1, " ")
    if fault.name == "text-after-quote" and site.last and not site.flow:
        return Repair(site.last.line, site.last.col, STAND_IN * (len(source) - site.last.col + 1))
    inside = source[: fault.col - 1].strip(" -") and (source[fault.col :].strip() or fault.name == "stray-bracket")
    masked = ("colon-in-text", "reserved-start", "anchor-not-allowed", "tag-not-allowed", "stray-bracket")
    return Repair(fault.line, fault.col, STAND_IN) if inside and fault.name in masked else None


def indent(source: str) -> int:
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
        lead = source[: indent(source)]
        if "\t" in lead:
            more = sum("\t" in other[: indent(other)] for other in site.built.lines[line:] if other.strip())
            others = (
                f", and so are {more} lines below it" if more > 1 else ", and so is a line below it" if more else ""
            )
            message = f"this line is indented with a tab{others}"
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
        if source.startswith("%"):
            return directive(number, 1)
        if source.startswith("..."):
            return Fault(number, 1, "several-documents", "the line ... ends the file here", "delete the line ...")
        if source.startswith("--- ") and number == site.line:
            message = "nothing may stand on the line of the --- that starts the file"
            return Fault(number, 5, "text-after-start", message, "put it on the next line")
    return None


def _quote(site: Site) -> Fault | None:
    """A quote that is not closed, or closed too early."""
    source, last, sign = site.row(site.line), site.last, site.opening
    code = source.rfind("\\", max(0, site.col - 4), site.col) if sign == '"' and site.here else -1
    if code >= 0:
        message = f'"{source[code : code + 2]}" is not a code that YAML knows in double quotes'
        hint = "for a backslash write \\\\, or put the text in single quotes"
        return Fault(site.line, code + 1, "unknown-code", message, hint)
    if sign and sign in "'\"" and sign not in site.row(site.from_line)[site.from_col :]:
        message = f"the quote ({sign}) that opens here is never closed"
        return Fault(site.from_line, site.from_col, "unclosed-quote", message, f"put {sign} at the end of the text")
    if last is not None and last.style in ("'", '"') and last.line < last.end_line == site.line and site.here.strip():
        sign = last.style
        message = f"the quote ({sign}) that opens here closes only at line {last.end_line}, where more follows"
        return Fault(last.line, last.col, "unclosed-quote", message, f"put {sign} at the end of the text that it opens")
    if (
        not site.before.rstrip().endswith(("'", '"'))
        or not site.here.strip()
        or (site.flow and site.here[0] in ":,]}'\"")
    ):
        return None
    quoted = last is not None and last.style in ("'", '"') and last.end_line == site.line
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
        match source[col - 1 : col]:
            case "!":
                return tag(line, col, source, flow=site.flow)
            case "&" | "*" if _ALIAS.match(source, col - 1):
                return anchor(line, col, source, flow=site.flow)
            case "@" | "`" | "%" | "&" | "*" | "|" | ">":
                return reserved_start(line, col, source, flow=site.flow)
            case "-" | "?" if site.flow and source[: col - 1].strip():
                return reserved_start(line, col, source, flow=True)
            case "?" | "," if not site.flow and source[: col - 1].strip():
                return reserved_start(line, col, source)
    return None


def _brackets(site: Site) -> Fault | None:
    """Brackets that are not closed, or not by their partner, and what stands between them."""
    char, closed = site.here[:1], site.built.closed
    if not site.flow:
        if char in ("]", "}"):
            hint = "delete it; if it is text, put the text in quotes"
            return site.fault("stray-bracket", f'this "{char}" closes nothing', hint)
        if closed is None or not closed.flow or not site.before.rstrip().endswith(("]", "}")):
            return None
        if closed.at[0] == site.line:
            return reserved_start(*closed.at, site.row(site.line))
        message = f"the bracket that opens at line {closed.at[0]} closes before this, but the line goes on"
        return site.fault("text-after-bracket", message, "start a new line, or put the whole text in quotes")
    line, col = site.built.stack[-1].at
    opening = site.row(line)[col - 1 : col]
    closing = _CLOSING.get(opening, "]")
    if char in ("]", "}") and char != closing:
        message = f'the "{opening}" at line {line} is closed here by "{char}"'
        return site.fault("wrong-bracket", message, f'close it with "{closing}"')
    inside = indent(site.row(site.line)) > _key_column(site.row(line))
    if not site.row(site.line).strip() or (site.line > line and (not inside or char == ":")):
        return Fault(line, col, "unclosed-bracket", f'the "{opening}" that opens here is not closed',
                     f'put "{closing}" behind its last entry')  # fmt: skip
    if char == ",":
        return site.fault("stray-comma", "there is no entry before this comma", "delete the comma")
    if char == ":" and site.before.rstrip().endswith(("{", ",")):
        return empty_key(site.line, site.col)
    if char == ":":
        message = "there is a colon too many here: a comma is missing before it, or it belongs to a text"
        hint = "put a comma between two entries, and a text with a colon in quotes"
        return site.fault("colon-in-text", message, hint)
    message = "there is no comma between this entry and the one before it"
    return site.fault("missing-comma", message, "put a comma between them")


def _colon(site: Site) -> Fault | None:
    """A colon where no key can stand: in a text, or on a line that was read as more of the text above."""
    last = site.last
    if not site.here.startswith(":"):
        return None
    if not site.before.strip(" -"):
        return empty_key(site.line, site.col)
    if site.before.rstrip().endswith(":"):
        return reserved_start(site.line, site.col, site.row(site.line))
    if last is None or not last.plain or last.end_line != site.line:
        return None
    if last.line < site.line:
        return _read_as_text(site, last)
    if site.col - last.col > MAX_KEY:
        message = f"this key is {site.col - last.col} characters long; the most is {MAX_KEY}"
        return Fault(last.line, last.col, "too-long", message, "shorten it")
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
    return Fault(site.line, indent(site.row(site.line)) + 1, "bad-indent", message, hint)


def _dash(site: Site) -> Fault | None:
    """A list on the line of its key."""
    if not site.here.startswith("-") or not site.before.strip():
        return None
    hint = "start the list on the next line; if it is text, " + quote_hint(site.row(site.line), site.col)
    return site.fault("list-on-key-line", "a list item cannot stand on the line of its key", hint)


def _no_colon(site: Site) -> Fault | None:
    """A line that is nothing."""
    source = site.row(site.from_line)[site.from_col - 1 :]
    began = site.from_line < site.line or site.from_col < site.col
    if not began or source.startswith("-") or re.search(r":(?: |$)", source):
        return None
    message = "this line is neither a key with its colon nor a list item with its dash"
    hint = "after a key, put a colon and a space; if this goes on with the text above, start it further in"
    return Fault(site.from_line, site.from_col, "no-colon", message, hint)


def _indent(site: Site) -> Fault:
    """A line that fits under none of the lines above it."""
    if site.before.strip() or not 1 <= site.line <= len(site.built.lines):
        message = "from here on the file cannot be read: quotes, brackets or indents do not fit together"
        return site.fault("not-yaml", message, "compare this line and the one above it with those of a file that works")
    columns, last, top = sorted(_columns_above(site)), site.last, site.built.stack[-1] if site.built.stack else None
    rest = site.row(last.end_line)[last.end_col - 1 :] if last is not None and last.plain else ""
    if last is not None and rest.lstrip().startswith("#") and not re.search(r":(?: |$)", site.here):
        found = comment_cut(last.end_line, last.end_col + indent(rest), site.row(last.end_line), last.text, last.col)
        message = f"this comment ends the text above it, but line {site.line} goes on with it"
        return found._replace(message=message, hint="put the comment on a line of its own above the text")
    if top is not None and isinstance(top.container, list) and top.at[1] == site.col and site.here[:1] != "-":
        if site.row(site.line - 1).strip() == "-":
            message = f"line {site.line - 1} has a dash with nothing behind it, and this line does not stand further in"
            return site.fault("bad-indent", message, "write it behind the dash")
        message = f"the list that begins at line {top.at[0]} goes on here, but this line has no dash"
        return site.fault("no-dash", message, "put a dash and a space before it")
    if site.col in columns:
        message = "this line does not fit under the lines above it: a list item among keys, or a key too many"
        hint = "compare its indent, and whether it has a dash, with the lines that it belongs to"
    else:
        names = " or ".join((", ".join(map(str, columns)) or "1").rsplit(", ", 1))
        message = f"this line starts at column {site.col}; the lines that it could belong to start at column {names}"
        hint = "line it up with the line that it belongs to"
    return site.fault("bad-indent", message, hint)


def _columns_above(site: Site) -> set[int]:
    """Columns at which the lists and mappings around a line begin, read off the lines above it."""
    columns: set[int] = set()
    lowest = 1 << 30
    for source in reversed(site.built.lines[max(0, site.line - 201) : site.line - 1]):
        depth = indent(source)
        if source.strip() and not source.lstrip().startswith("#") and depth < lowest:
            lowest = depth
            columns |= {depth + 1, _key_column(source) + 1}
    return columns


LOOKS: tuple[Callable[[Site], Fault | None], ...] = (
    _lead, _document, _quote, _stuck, _reserved, _brackets, _colon, _dash, _no_colon, _indent,
)  # fmt: skip
"""What is looked for, in this order; the first that is found answers, the last one always does."""
