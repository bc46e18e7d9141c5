"""Faults of lines: indents, tabs, missing colons, keys and list items in the wrong place."""

from __future__ import annotations

import re

import yaml

from docgen.club.text import ODD_SPACE, describe
from docgen.club.yamlbrackets import after_end, after_quote
from docgen.club.yamlbytes import Fault
from docgen.club.yamlmark import Piece, start
from docgen.club.yamlscalar import (
    anchor,
    comment_cut,
    empty_key,
    quote_hint,
    reserved_start,
    short,
    stuck_key,
)
from docgen.club.yamlsite import Diagnosis, Repair, Site, indent, key_column, masked

MAX_KEY = 1024
"""Longest key, in characters: YAML 1.2, section 7.4 ("implicit keys")."""
_KEY_LINE = re.compile(r"""\s*(?:- |[^\s'"#\[{][^#:]*:(?: |$))""")
_KEY_AND_COLON = re.compile(r"([A-Za-z][\w-]*):(?=[^ \t/])")


def colon(site: Site) -> Diagnosis:
    """A colon where no key can stand: in a text, or on a line that was read as more of the text above."""
    odd = bad_lead(site, site.line)
    if odd:
        return odd
    row, last = site.row(site.line), site.scalar
    if row.startswith("--- "):
        message = "nothing may stand on the line of the --- that starts the file"
        return Diagnosis(Fault(site.line, 5, "text-after-start", message, "put it on the next line"))
    if last is None or last.end_line != site.line or row[last.end_col - 1 : site.col - 1].strip():
        fault = reserved_start(site.line, site.col, row)
        return masked(fault) if row[site.col :].strip() else Diagnosis(fault)
    if not last.plain:
        return after_quote(site, last)
    if last.line < site.line:
        return _read_as_text(site, last)
    if site.col - last.col > MAX_KEY:
        message = f"this key is {site.col - last.col} characters long; the most is {MAX_KEY}"
        return Diagnosis(Fault(last.line, last.col, "too-long", message, "shorten it"))
    message = f'the colon with a space behind it makes "{short(last.text)}" a key of its own'
    if not row[site.col :].strip():
        hint = "put every key on a line of its own, or put the text in quotes"
        return Diagnosis(Fault(site.line, site.col, "colon-in-text", message, hint))
    return masked(Fault(site.line, site.col, "colon-in-text", message, quote_hint(row, last.col)))


def no_key(site: Site) -> Diagnosis:
    """A line among keys that has no key."""
    odd = bad_lead(site, site.from_line)
    if odd:
        return odd
    line, col = site.from_line, site.from_col
    text = site.row(line)[col - 1 :]
    stuck = _stuck(line, col, text)
    if stuck:
        return stuck
    if text.startswith("-") and not site.flow:
        message = "there is no space after the dash, so this is not read as a list item"
        return Diagnosis(Fault(line, col, "missing-space", message, f"write: - {short(text[1:])}"))
    return no_colon(line, col)


def no_colon(line: int, col: int) -> Diagnosis:
    """A line that is nothing."""
    message = "this line is neither a key with its colon nor a list item with its dash"
    hint = "after a key, put a colon and a space; if this goes on with the text above, start it further in"
    return Diagnosis(Fault(line, col, "no-colon", message, hint))


def misplaced(site: Site) -> Diagnosis:
    """A line, or the rest of a line, that fits none of the lists and mappings open at this place."""
    odd = bad_lead(site, site.line)
    if odd:
        return odd
    row, last, before = site.row(site.line), site.scalar, site.built.last
    if isinstance(before, yaml.AliasEvent) and start(before)[0] == site.line:
        return masked(anchor(*start(before), row))
    if not site.first and site.char != ":":
        return after_end(site)
    if site.char == ":":
        return Diagnosis(empty_key(site.line, site.col), Repair(site.line, site.col, "#"))
    if last is not None and last.plain and site.col > site.from_col and not _KEY_LINE.match(row):
        rest = site.row(last.end_line)[last.end_col - 1 :]
        if rest.lstrip().startswith("#"):
            return masked(_cut_before(site, last, last.end_col + indent(rest)))
    if site.col == site.from_col and "'-'" in site.problem:
        message = f"the list that begins at line {site.from_line} goes on here, but this line has no dash"
        return Diagnosis(Fault(site.line, site.col, "no-dash", message, "put a dash and a space before it"))
    return bad_indent(site)


def dash(site: Site) -> Diagnosis:
    """A dash where no list item can stand."""
    odd = bad_lead(site, site.line)
    if odd:
        return odd
    if site.first:
        return bad_indent(site)
    message = "a list item cannot stand on the line of its key"
    hint = "start the list on the next line; if it is text, " + quote_hint(site.row(site.line), site.col)
    return masked(Fault(site.line, site.col, "list-on-key-line", message, hint))


def bad_indent(site: Site) -> Diagnosis:
    """A line that begins at none of the columns where the lines above it begin."""
    columns = sorted(_columns_above(site))
    names = ", ".join(map(str, columns)) or "1"
    names = " or ".join(names.rsplit(", ", 1))
    if site.col in columns:
        message = "this line does not fit under the lines above it: a list item among keys, or a key too many"
        hint = "compare its indent, and whether it has a dash, with the lines that it belongs to"
    else:
        message = f"this line starts at column {site.col}; the lines that it could belong to start at column {names}"
        hint = "line it up with the line that it belongs to"
    return Diagnosis(Fault(min(site.line, len(site.lines)), site.col, "bad-indent", message, hint))


def lone_dash(site: Site) -> Diagnosis:
    """A line that does not stand under the empty list item above it."""
    above = next((n for n in range(site.line - 1, 0, -1) if site.row(n).split("#")[0].strip()), 1)
    message = f"line {above} has a dash with nothing behind it, and this line does not stand further in than the dash"
    under = indent(site.row(above)) + 3
    hint = f"start this line at column {under}, or write it behind the dash"
    return Diagnosis(Fault(site.line, site.col, "bad-indent", message, hint))


def tab(site: Site) -> Diagnosis:
    """A tab where only spaces may stand."""
    return bad_lead(site, site.line) or Diagnosis(
        Fault(site.line, site.col, "tab-indent", "a tab stands where YAML wants a space", "put a space in its place")
    )


def bad_lead(site: Site, line: int) -> Diagnosis | None:
    """The fault of a line that is indented with anything but spaces."""
    row = site.row(line)
    lead = row[: indent(row)]
    if "\t" in lead:
        more = sum("\t" in other[: indent(other)] for other in site.lines[line:] if other.strip())
        others = f", and so are {more} lines below it" if more > 1 else ", and so is a line below it" if more else ""
        message = f"this line is indented with a tab{others}"
        return Diagnosis(Fault(line, lead.index("\t") + 1, "tab-indent", message, "use spaces, two for each step"))
    if odd := ODD_SPACE.search(lead):
        message = f"this line is indented with a {describe(odd[0])}, which looks like a space but is not one"
        hint = "type the indent again with the space bar"
        return Diagnosis(Fault(line, odd.start() + 1, "odd-space", message, hint))
    return None


def _read_as_text(site: Site, last: Piece) -> Diagnosis:
    """A line with a key that was read as more of the text that begins on a line above."""
    row, above = site.row(site.line), site.row(last.line)
    col = indent(row) + 1
    stuck = _stuck(last.line, last.col, above[last.col - 1 :])
    if stuck:
        return stuck
    before = above[: last.col - 1]
    if not before.strip(" -"):
        message = f"this line has no key with a colon, but line {site.line} below it goes on with one"
        hint = "put its key before it, or, if it is the key, a colon behind it"
        return Diagnosis(Fault(last.line, last.col, "no-colon", message, hint))
    under = key_column(above) + 1
    key = f'"{short(before.strip(" -").rstrip(":"))}"'.replace('""', "the key")
    message = f"this line stands further in than {key} at line {last.line}, so it is read as more of its text"
    hint = f"if it is a key of its own, start it at column {under}"
    return Diagnosis(Fault(site.line, col, "bad-indent", message, hint))


def _stuck(line: int, col: int, text: str) -> Diagnosis | None:
    """The fault of a key that has no proper space behind its colon, on a line that has to begin with a key."""
    found = _KEY_AND_COLON.match(text)
    if not found:
        return None
    if not ODD_SPACE.match(text, found.end()):
        return Diagnosis(stuck_key(line, col, found[1], text), Repair(line, col + found.end(), " "))
    message = f'behind the colon of "{short(found[1])}" stands a {describe(text[found.end()])}, not an ordinary space'
    fault = Fault(line, col + found.end(), "odd-space", message, "type it again with the space bar")
    return Diagnosis(fault, Repair(fault.line, fault.col, " "))


def _cut_before(site: Site, last: Piece, col: int) -> Fault:
    fault = comment_cut(last.end_line, col, site.row(last.end_line), last.text, last.col)
    message = f"this comment ends the text above it, but line {site.line} goes on with it"
    return fault._replace(message=message, hint="put the comment on a line of its own above the text")


def _columns_above(site: Site) -> set[int]:
    """Columns at which the lists and mappings around a line begin, read off the lines above it."""
    columns: set[int] = set()
    lowest = 1 << 30
    for row in reversed(site.lines[max(0, site.line - 201) : site.line - 1]):
        depth = indent(row)
        if not row.strip() or row.lstrip().startswith("#") or depth >= lowest:
            continue
        lowest = depth
        columns |= {depth + 1, key_column(row) + 1}
        if depth == 0:
            break
    return columns


