"""The number that every printed page bears: engine, sheet code, revision, print, page, and a check character.

``017-CLU-04-003-L2-S`` is page 2 of the leaf of print 3 of revision 4 of CLU for engine 017. The
check character is ISO/IEC 7064 MOD 37-36 over the letters and digits before it. Capital letters,
digits and hyphens only, so that the whole fits the alphanumeric mode of a small QR code.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, replace

from docgen.club.problem import visible
from docgen.trade.checkchar import check_character

LEAF, READING, SIGNOFF = "L", "R", "S"
MOST_PAGES = 300
"""The most pages of one sheet; a page has one to three figures in its number."""
UNNAMED = "BLANK"
"""Stands in a sheet's number for that of an engine which is not in the records yet."""
FORM = re.compile(
    r"(?P<engine>[A-Z0-9]{1,6})-(?P<code>[A-Z]{3})-(?P<revision>\d{2,4})-(?P<print>\d{3,5})"
    r"-(?P<sheet>[A-Z])(?P<page>\d{1,3})-(?P<check>[A-Z0-9])"
)


class NumberError(ValueError):
    """Not a sheet number, or one that was misread."""


@dataclass(frozen=True)
class SheetNumber:
    """One page's number, without its check character."""

    engine: str
    code: str
    revision: int
    print: int
    sheet: str = LEAF
    page: int = 1

    @property
    def body(self) -> str:
        """All but the check character."""
        return f"{self.engine}-{self.code}-{self.revision:02d}-{self.print:03d}-{self.sheet}{self.page}"

    @property
    def text(self) -> str:
        """The number as printed."""
        return f"{self.body}-{check_character(self.body.replace('-', ''))}"

    def on_page(self, page: int) -> SheetNumber:
        """The same sheet's number for another page."""
        return replace(self, page=page)


def parse_number(text: str) -> SheetNumber:
    """Read a number as typed or scanned. Spaces around it and small letters are forgiven.

    Errors: NumberError when the form is wrong or the check character does not fit.
    """
    text = text.strip()
    # Only ASCII: other scripts have digits, and letters whose capitals are S and I, that no sheet bears.
    match = FORM.fullmatch(text.upper()) if text.isascii() else None
    if match is None:
        raise NumberError(f'"{visible(text[:40])}" is not a sheet number: it looks like 017-CLU-04-003-S1-2')
    number = SheetNumber(
        match["engine"], match["code"], int(match["revision"]), int(match["print"]), match["sheet"], int(match["page"])
    )
    if number.text != match.group():  # a nought too many is no other number
        raise NumberError(f"{match.group()} has a letter or digit wrong: its check character does not fit")
    return number
