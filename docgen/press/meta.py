"""What the press is given and gives: an order with what its document says of itself, a finished PDF, or an error."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime
from functools import cached_property
from html import unescape

from docgen.sheets.page import Page

CREATOR = "docgen"
PT_PER_PX = 0.75
PT_PER_MM = 72 / 25.4
PX_PER_MM = 96 / 25.4
PRINT_FIELD = "docgen-print"  # the hidden field that names the print
KIND = "XXKind"  # ISO 32000-1, Annex E: names that begin with XX are free for private use
_VALUE = re.compile(r" data-value>([^<]*)</")
NO_FACE = "no typeface"
"""How the sentence begins that names a character which cannot be drawn; a fault of another kind is one of room."""


class PressError(ValueError):
    """A page cannot be printed as asked.

    `faults` holds one sentence per fault, in reading order; `str()` gives them all, one a line.
    """

    def __init__(self, faults: str | Iterable[str]) -> None:
        self.faults: tuple[str, ...] = (faults,) if isinstance(faults, str) else tuple(faults)
        super().__init__("\n".join(self.faults))

    def __reduce__(self) -> tuple[type[PressError], tuple[tuple[str, ...]]]:
        return (type(self), (self.faults,))


@dataclass(frozen=True)
class Attached:
    """A file carried inside the PDF as its source, of the document's own date."""

    name: str
    data: bytes
    media_type: str
    description: str


@dataclass(frozen=True, kw_only=True)
class Order(Page):
    """One document to print: its page, and what it says of itself; `key` is the caller's name for it.

    It may load ``asset:NAME`` from `drawings` and nothing else; links that leave the document are printed as plain
    text. With `forms`, its inputs become fields. `created` carries its time zone; nothing here reads a clock.
    `language` is a BCP 47 tag. `identifier` becomes the first half of the PDF's file identifier, and stays when a
    viewer saves the filled document.

    Elements may ask for more: `data-keep-clear="2 mm"` for that much clear space around them, `data-keep-together`
    for staying whole on one page.
    """

    key: str
    author: str
    keywords: tuple[str, ...]
    created: datetime
    attachments: tuple[Attached, ...] = ()
    forms: bool = False

    def __post_init__(self) -> None:
        if not self.title.strip():
            raise ValueError("a document needs a title")
        if not re.fullmatch(r"[A-Za-z]{2,3}(-[A-Za-z0-9]{2,8})*", self.language):
            raise ValueError(f'"{self.language}" is not a BCP 47 language tag, such as "en" or "pt-BR"')
        if self.created.tzinfo is None:
            raise ValueError("the date of creation needs a time zone")
        if not self.identifier or not self.identifier.isascii() or not self.identifier.isprintable():
            raise ValueError("the identifier must be printable ASCII and not empty")

    @property
    def alike(self) -> str:
        """The page without its values: the texts that a template marks with `data-value`, as the last attribute.

        Two pages that are alike have the same layout as long as each value finds the same room (see ``form``).
        """
        return _VALUE.sub(" data-value></", self.html)

    @cached_property
    def values(self) -> tuple[str, ...]:
        """The texts of the page that differ from engine to engine, in their order."""
        return tuple(composed(unescape(value)) for value in _VALUE.findall(self.html))

    def texts(self, face: int, faces: int) -> Mapping[str, str]:
        """The text of each slot on a face, from 1, by the slot's name (see ``form.Slot``)."""
        found = {str(at): value for at, value in enumerate(self.values)}
        return found | ({"number": self.numbers.texts(face, faces)["number"]} if self.numbers is not None else {})


def composed(text: str) -> str:
    """Join letters and the accents that follow them where Unicode has one character for both."""
    return re.sub("[^\u0300-\u036f][\u0300-\u036f]+", lambda match: unicodedata.normalize("NFC", match[0]), text)


@dataclass(frozen=True)
class Pressed:
    """A finished PDF. `sizes` gives each page's width and height in mm."""

    pdf: bytes
    pages: int
    sizes: tuple[tuple[float, float], ...]
