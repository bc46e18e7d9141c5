"""What may be wrong with one piece of text in a YAML file, although YAML itself accepts it."""

import re
from collections.abc import Iterator
from typing import NamedTuple

import yaml

from docgen.club.text import ODD_SPACE, describe, look_alike_digit, odd_space, unwanted
from docgen.club.yamlbytes import Fault

MAX_TEXT = 20_000
"""Longest single text, in characters."""

STUCK_KEY = re.compile(r"(?<![a-z0-9_-])([a-z][a-z0-9_-]*):(?=[^\s/\d])")
"""A key whose colon has no space behind it: `do:Fit washer`. Times and addresses (`12:30`, `https://`) are not."""
_COMMENT = re.compile(r"[ \t]*#")
_PROPER_COMMENT = re.compile(r" {2,}#( |$)")
_BLOCK_BY_CHANCE = re.compile(r"[|>][+-]?[\d#]")
_QUOTES = {
    '"': '"',
    "'": "'",
    "\u201c": "\u201d",
    "\u201e": "\u201c\u201d",
    "\u2018": "\u2019",
    "\u201a": "\u2018\u2019",
}
"""Straight quotes, and the curly ones that a word processor puts in: the opening one, and those that may close it."""
_MEANING = {"&": "name a value to repeat it", "*": "repeat an earlier value", "!": "change the kind of a value"}


class Piece(NamedTuple):
    """One text (scalar) of a file, with its place: from `line`, `col` up to, not including, `end_col` on `end_line`."""

    text: str
    style: str
    line: int
    col: int
    end_line: int
    end_col: int

    @property
    def plain(self) -> bool:
        """Whether it stands without quotes."""
        return self.style == ""


def row(lines: list[str], number: int) -> str:
    """Line `number` (from 1); empty where there is none, as behind the end of the file."""
    return lines[number - 1] if 1 <= number <= len(lines) else ""


def start(event: yaml.Event) -> tuple[int, int]:
    """Line and column where the event begins."""
    mark = event.start_mark
    return (mark.line + 1, mark.column + 1) if mark is not None else (1, 1)


def piece(event: yaml.NodeEvent) -> Piece:
    """The scalar of an event; one without text, in the style "*", of an alias."""
    mark = event.end_mark
    end = (mark.line + 1, mark.column + 1) if mark is not None else (1, 1)
    if isinstance(event, yaml.ScalarEvent):
        return Piece(event.value, event.style or "", *start(event), *end)
    return Piece("", "*", *start(event), *end)


def check_value(piece: Piece, lines: list[str], *, in_list: bool, flow: bool) -> Iterator[Fault]:
    """Faults of a text that stands as a value or list item."""
    if len(piece.text) > MAX_TEXT:
        message = f"this text is {len(piece.text)} characters long; the most that is read is {MAX_TEXT}"
        yield Fault(piece.line, piece.col, "too-long", message, "shorten it")
        return
    if piece.plain:
        yield from _cut_by_comment(piece, lines, flow=flow)
        yield from _read_as_more_text(piece, lines)
        if in_list and (found := STUCK_KEY.match(piece.text)):
            yield stuck_key(piece.line, piece.col, found[1], piece.text)
        if piece.text and piece.text[-1] in _QUOTES.get(piece.text[0], ""):
            message = "these curly quotes are not YAML's quotes: they would be part of the text"
            hint = 'type straight quotes ("..."); to print the curly ones, put straight quotes around them'
            yield Fault(piece.line, piece.col, "curly-quote", message, hint)
    elif piece.style in ("|", ">") and _BLOCK_BY_CHANCE.match(row(lines, piece.line), piece.col - 1):
        yield reserved_start(piece.line, piece.col, row(lines, piece.line))
    yield from _characters(piece)


def check_key(piece: Piece, lines: list[str]) -> Iterator[Fault]:
    """Faults of a text that stands as a key."""
    odd = ODD_SPACE.search(piece.text) if piece.plain else None
    if odd:
        message = f"there is a {describe(odd[0])} in this key, which looks like a space but is not one"
        yield Fault(piece.line, piece.col, "odd-space", message, "type it again with the space bar")
    if piece.style in ("|", ">") or row(lines, piece.line)[max(0, piece.col - 3) : piece.col - 1] == "? ":
        yield as_key(piece.line, piece.col)
    elif piece.plain:
        yield from _cut_by_comment(piece, lines, flow=True)
    yield from _characters(piece)


def as_key(line: int, col: int) -> Fault:
    """A key that is not one plain word."""
    message = "a key must be a short text on one line, not a list, a mapping, a block of text or nothing"
    return Fault(line, col, "complex-key", message, "write it as key: value")


def stuck_key(line: int, col: int, key: str, text: str) -> Fault:
    """A key whose colon has no space behind it."""
    message = f'there is no space after the colon of "{short(key)}", so it is not read as a key'
    rest = text[len(key) + 1 : len(key) + 100].split("\n")[0].strip()
    return Fault(line, col + len(key), "missing-space", message, f"write: {short(key)}: {short(rest)}")


def reserved_start(line: int, col: int, source: str, *, flow: bool = False) -> Fault:
    """A value that starts with a character to which YAML gives a meaning: to name and repeat it, to change its kind."""
    char, word = source[col - 1 : col], re.split(r"[\s,\]}]", source[col - 1 : col + 99])[0]
    message, hint = f'text that starts with "{char}" must stand in quotes', quote_hint(source, col, flow=flow)
    if char in tuple("&*!") and len(word) > 1 and not word.endswith("*"):
        message = f'"{short(word)}" would {_MEANING[char]}, which is not allowed here'
        hint = f"write the value out; if it is text, {hint}"
    return Fault(line, col, "reserved-start", message, hint)


def quote_hint(source: str, col: int, *, flow: bool = False) -> str:
    """How the line would look with everything from `col` on in quotes; in brackets (`flow`), general words."""
    if flow or len(source) > 200:
        return "put the whole text in quotes"
    before, text = source[: col - 1].strip(), source[col - 1 :].strip()
    if not text or len(before) + len(text) > 90:
        return "put the whole text in quotes"
    if len(text) > 2 and text[-1] in _QUOTES.get(text[0], ""):
        text = text[1:-1]
    quoted = f"'{text}'" if '"' in text and "'" not in text else '"' + re.sub(r'(["\\])', r"\\\1", text) + '"'
    return f"put the text in quotes: {before} {quoted}".replace(":  ", ": ")


def short(text: str, most: int = 60) -> str:
    """`text` itself, or its beginning."""
    return text if len(text) <= most else text[: most - 3].rstrip() + "..."


def comment_cut(line: int, col: int, source: str, kept: str, start: int, *, flow: bool = False) -> Fault:
    """A comment that ends a text before its writer meant it to."""
    ends = f'the text would end after "{short(kept[-40:])}"' if kept else "there would be no text at all"
    message = f"what follows # is read as a comment, so {ends}"
    hint = f"for a comment, put two spaces before # and one after it; else {quote_hint(source, start, flow=flow)}"
    return Fault(line, col, "text-cut", message, hint)


def _cut_by_comment(piece: Piece, lines: list[str], *, flow: bool) -> Iterator[Fault]:
    """`do: Fit washer #3` and `number: #12`: only `  # ` (two spaces before, one after) is taken as a comment."""
    source = row(lines, piece.end_line)
    found = _COMMENT.match(source, piece.end_col - 1)
    if not found or _PROPER_COMMENT.match(source, piece.end_col - 1):
        return
    col = found.end()
    several_lines = piece.line != piece.end_line
    start = piece.col if piece.text else col
    yield comment_cut(piece.end_line, col, source, piece.text, start, flow=flow or several_lines)


def _read_as_more_text(piece: Piece, lines: list[str]) -> Iterator[Fault]:
    """Lines that were meant as list items or keys and were read as more of the text above them."""
    for number in range(piece.line + 1, piece.end_line + 1):
        source = row(lines, number)
        text = source.lstrip()
        col = len(source) - len(text) + 1
        if text.startswith("- "):
            message = f"this list item stands further in than line {piece.line}, so it is read as more of its text"
            yield Fault(number, col, "bad-indent", message, "line it up with the items or keys that it belongs to")
        elif found := STUCK_KEY.match(text):
            yield stuck_key(number, col, found[1], text)


def _characters(piece: Piece) -> Iterator[Fault]:
    if piece.style == '"':
        for found in unwanted(piece.text):
            yield Fault(piece.line, piece.col, found.name, found.message, "delete its \\ code from the text")
            break
    digit = look_alike_digit(piece.text)
    if digit is not None:
        col = piece.col + digit if piece.plain and piece.line == piece.end_line else piece.col
        message = f"the digit {describe(piece.text[digit])} looks like a number's digit but is not one of 0 to 9"
        yield Fault(piece.line, col, "look-alike-digit", message, "type the number again with the digits 0 to 9")
    space = odd_space(piece.text)
    if space is not None:
        col = piece.col + space if piece.plain and piece.line == piece.end_line else piece.col
        message = f"there is a {describe(piece.text[space])} in this quantity, which looks like a space but is not one"
        yield Fault(piece.line, col, "odd-space", message, "type it again with the space bar")
