"""The page that teaches, beside a procedure: ``procedures/NAME.md``, in Markdown.

It is plain text, cut into paragraphs where lines are blank; how many blank lines there are means nothing. Its limits
keep what a page can cost far above what one that teaches needs: it may come from a stranger.
"""

from collections.abc import Iterator

from docgen.club.problem import Problem
from docgen.club.schema.base import Strict, Text
from docgen.club.text import describe, look_alike_digit
from docgen.club.yamlbytes import Fault, read_source
from docgen.club.yamldoc import Data, Document, Loc, Position
from docgen.club.yamltext import read_yaml

ENDING = ".md"
MAX_BYTES = 40_000
"""Largest page, in bytes of UTF-8: about ten printed pages."""
MAX_PARAGRAPHS = 400
MAX_PARAGRAPH = 4_000
"""Longest paragraph, in characters; a column of the reading holds fewer."""
MAX_CELLS = 2_000
"""Most cells of all tables together, those counted that a short row leaves out."""


class TeachingPage(Strict):
    """A page that teaches, as its paragraphs."""

    paragraphs: tuple[Text, ...]

    @property
    def text(self) -> str:
        """The page as Markdown."""
        return page_text(self.paragraphs)

    @property
    def title(self) -> str:
        """Its first line, which mostly is its heading."""
        return self.paragraphs[0].partition("\n")[0].strip("# ")


def page_text(paragraphs: tuple[str, ...] | list[Data]) -> str:
    """The one text for some paragraphs: a blank line between them, a line end behind the last."""
    return "\n\n".join(map(str, paragraphs)) + "\n"


def page_beside(procedure: str) -> str:
    """Where the page of a procedure lies."""
    return f"procedures/{procedure}{ENDING}"


def read_shared(path: str, data: bytes) -> tuple[Document | None, list[Problem]]:
    """A file that clubs share: a page by its ending, else YAML."""
    return read_page(path, data) if path.endswith(ENDING) else read_yaml(path, data)


def read_page(path: str, data: bytes) -> tuple[Document | None, list[Problem]]:
    """The page as a document whose only key is ``paragraphs``, or all that is wrong with it.

    Problems: ``page-too-long``, ``not-utf-8``, ``control-character``, ``hidden-character``, ``damaged-text``,
    ``look-alike-digit``, ``empty-page``, ``too-many-paragraphs``, ``paragraph-too-long``, ``too-many-cells``.
    """
    if len(data) > MAX_BYTES:
        message = f"this page is longer than the {MAX_BYTES} bytes that are printed"
        return None, [Problem(path, 0, 0, "page-too-long", message, "part it, or leave to the steps what they say")]
    source = read_source(data)
    found = list(_paragraphs(source.lines))
    faults = source.faults or [*_faults(found)]
    if faults:
        return None, [Problem(path, *one, _row(source.lines, one.line)) for one in faults]
    values: dict[Loc, Position] = {("paragraphs", n): (line, 1) for n, (line, _) in enumerate(found)}
    return Document(path, source.text, {"paragraphs": [text for _, text in found]}, values, {}), []


def _row(lines: list[str], number: int) -> str:
    return lines[number - 1] if 1 <= number <= len(lines) else ""


def _paragraphs(lines: list[str]) -> Iterator[tuple[int, str]]:
    """Each paragraph with the number of its first line; spaces that end a paragraph go."""
    kept: list[str] = []
    for number, line in enumerate([*lines, ""], 1):
        if line.strip(" \t"):
            kept.append(line)
        elif kept:
            yield number - len(kept), "\n".join(kept).rstrip(" \t")
            kept = []


def _faults(found: list[tuple[int, str]]) -> Iterator[Fault]:
    if not found:
        yield Fault(0, 0, "empty-page", "there is nothing on this page", "write it, or delete the file")
    if len(found) > MAX_PARAGRAPHS:
        message = f"this page has {len(found)} paragraphs; the most that are printed are {MAX_PARAGRAPHS}"
        yield Fault(0, 0, "too-many-paragraphs", message, "part it, or take blank lines out of its lists")
    cells = sum(_cells(text) for _, text in found)
    if cells > MAX_CELLS:
        message = f"the tables of this page have {cells} cells; the most that are printed are {MAX_CELLS}"
        yield Fault(0, 0, "too-many-cells", message, "make them smaller")
    for line, text in found:
        if len(text) > MAX_PARAGRAPH:
            message = f"this paragraph has {len(text)} characters; the most that are printed are {MAX_PARAGRAPH}"
            yield Fault(line, 1, "paragraph-too-long", message, "put a blank line where a new thought begins")
        for number, row in enumerate(text.split("\n"), line):
            if (at := look_alike_digit(row)) is not None:
                message = f"the digit {describe(row[at])} looks like a number's digit but is not one of 0 to 9"
                yield Fault(number, at + 1, "look-alike-digit", message, "type the number again with the digits 0 to 9")


def _cells(paragraph: str) -> int:
    """The cells that a paragraph can become as a table: as many columns as its widest row, in each of its rows."""
    rows = paragraph.split("\n")
    columns = max(row.count("|") for row in rows)
    return columns * len(rows) if len(rows) > 1 else 0
