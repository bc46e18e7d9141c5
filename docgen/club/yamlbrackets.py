"""Faults of quotes and brackets: not closed, closed too early, closed by another, and what stands between them."""

from __future__ import annotations

from docgen.club.yamlbytes import STAND_IN, Fault
from docgen.club.yamlmark import Piece
from docgen.club.yamlscalar import empty_key, quote_hint, reserved_start
from docgen.club.yamlsite import Diagnosis, Repair, Site, indent, key_column, masked, unknown

_CLOSING = {"[": "]", "{": "}"}


def unclosed_quote(site: Site) -> Diagnosis:
    """A quote without its partner."""
    sign = site.row(site.from_line)[site.from_col - 1 : site.from_col]
    message = f"the quote ({sign}) that opens here is never closed"
    hint = f"put {sign} at the end of the text"
    return Diagnosis(Fault(site.from_line, site.from_col, "unclosed-quote", message, hint))


def after_quote(site: Site, last: Piece) -> Diagnosis:
    """More text behind a closing quote."""
    row = site.row(site.line)
    if last.line < last.end_line:
        message = f"the quote ({last.style}) that opens here closes only at line {last.end_line}, where more follows"
        hint = f"put {last.style} at the end of the text that it opens"
        return Diagnosis(Fault(last.line, last.col, "unclosed-quote", message, hint))
    message = "the text in quotes ends before this, but the line goes on"
    if site.flow:
        hint = "put a comma between two entries, or put the whole text in quotes"
        return Diagnosis(Fault(site.line, site.col, "text-after-quote", message, hint))
    fault = Fault(site.line, site.col, "text-after-quote", message, quote_hint(row, last.col))
    return Diagnosis(fault, Repair(last.line, last.col, STAND_IN * (len(row) - last.col + 1)))


def after_end(site: Site) -> Diagnosis:
    """More text where a line should end: behind a closing quote, or behind a closing bracket."""
    last = site.scalar
    if last is not None and not last.plain and last.end_line == site.line:
        return after_quote(site, last)
    if site.char in ("]", "}"):
        return stray_bracket(site)
    closed, row = site.built.closed, site.row(site.line)
    if row[: site.col - 1].rstrip().endswith(('"', "'")):
        message = "the text in quotes ends before this, but the line goes on"
        hint = "put the whole text in one pair of quotes"
        return Diagnosis(Fault(site.line, site.col, "text-after-quote", message, hint))
    if closed is None or not closed.flow:
        return unknown(site)
    if closed.at[0] != site.line:
        message = f"the bracket that opens at line {closed.at[0]} closes before this, but the line goes on"
        hint = "start a new line, or put the whole text in quotes"
        return Diagnosis(Fault(site.line, site.col, "text-after-bracket", message, hint))
    return masked(reserved_start(*closed.at, row), len(row) - closed.at[1] + 1)


def stray_bracket(site: Site) -> Diagnosis:
    """A closing bracket that closes nothing."""
    message = f'this "{site.char}" closes nothing'
    hint = "delete it; if it is text, put the text in quotes"
    return masked(Fault(site.line, site.col, "stray-bracket", message, hint))


def unclosed_bracket(line: int, col: int, opening: str) -> Diagnosis:
    """A bracket without its partner."""
    message = f'the "{opening}" that opens here is not closed'
    hint = f'put "{_CLOSING.get(opening, "]")}" behind its last entry'
    return Diagnosis(Fault(line, col, "unclosed-bracket", message, hint))


def in_brackets(site: Site) -> Diagnosis:
    """Something other than a comma or the closing bracket behind an entry."""
    opening = site.row(site.from_line)[site.from_col - 1 : site.from_col]
    closing = _CLOSING.get(opening, "]")
    if site.char in ("]", "}"):
        message = f'the "{opening}" at line {site.from_line} is closed here by "{site.char}"'
        return Diagnosis(Fault(site.line, site.col, "wrong-bracket", message, f'close it with "{closing}"'))
    row = site.row(site.line)
    inside = indent(row) > key_column(site.row(site.from_line))
    if site.line > len(site.lines) or not row.strip() or (site.line > site.from_line and not inside):
        return unclosed_bracket(site.from_line, site.from_col, opening)
    last = site.scalar
    if last is not None and not last.plain and last.end_line == site.line and site.char not in (":", '"', "'", ""):
        return after_quote(site, last)
    if site.char == ":" and site.line > site.from_line and not set(row[: site.col - 1]) & set(":,{["):
        message = f'the "{opening}" that opens here is not closed, or there is no comma, before line {site.line}'
        hint = f'put "{closing}" behind its last entry, or a comma between two entries'
        return Diagnosis(Fault(site.from_line, site.from_col, "unclosed-bracket", message, hint))
    if site.char == ":":
        message = "there is a colon too many here: a comma is missing before it, or it belongs to a text"
        hint = "put a comma between two entries, and a text with a colon in quotes"
        return masked(Fault(site.line, site.col, "colon-in-text", message, hint))
    message = "there is no comma between this entry and the one before it"
    return Diagnosis(Fault(site.line, site.col, "missing-comma", message, "put a comma between them"))


def no_value(site: Site) -> Diagnosis:
    """A sign where an entry or a value was due."""
    char = site.char
    if char in ("]", "}"):
        return stray_bracket(site)
    if char == ",":
        if not site.flow:
            return masked(reserved_start(site.line, site.col, site.row(site.line)))
        fault = Fault(site.line, site.col, "stray-comma", "there is no entry before this comma", "delete the comma")
        return Diagnosis(fault, Repair(site.line, site.col, " "))
    if char == ":":
        return masked(empty_key(site.line, site.col))
    if char and char in "-?" and not site.first:
        return masked(reserved_start(site.line, site.col, site.row(site.line), flow=True))
    if site.flow and (site.first or not site.row(site.line)[site.col - 1 :].strip()):
        line, col = site.built.stack[-1].at
        return unclosed_bracket(line, col, site.row(line)[col - 1 : col])
    if site.row(site.line).startswith("..."):
        return Diagnosis(document_end(site.line))
    return unknown(site)


def document_end(line: int) -> Fault:
    """A line of three dots."""
    message = "the line ... ends the file here"
    return Fault(line, 1, "several-documents", message, "delete the line ...")


def stuck_colon(site: Site) -> Diagnosis:
    """A colon in brackets with a bracket or comma right behind it."""
    message = "there is no space after this colon"
    return Diagnosis(Fault(site.line, site.col, "missing-space", message, "put a space and the value after the colon"))


def bad_code(site: Site) -> Diagnosis:
    """A backslash in double quotes with something behind it that is no code."""
    row = site.row(site.line)
    at = row.rfind("\\", 0, site.col)
    at = at if at >= 0 else site.col - 1
    message = f'"{row[at : at + 2]}" is not a code that YAML knows in double quotes'
    hint = "for a backslash write \\\\, or put the text in single quotes"
    return masked(Fault(site.line, at + 1, "unknown-code", message, hint))
