"""What a document says of itself, what is attached to it, what it draws, and what it is in the end."""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import datetime

CREATOR = "docgen"


@dataclass(frozen=True)
class Meta:
    """A document's description. `created` carries its time zone; nothing here reads a clock.

    `language` is a BCP 47 tag. `identifier` becomes the first half of the PDF's file identifier, as plain ASCII, and
    stays when a viewer saves the filled document: name the print in it.
    """

    title: str
    author: str
    subject: str
    keywords: tuple[str, ...]
    language: str
    created: datetime
    identifier: str

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
    def stamp(self) -> str:
        """The date of creation as W3C-DTF with seconds and zone, in the zone it was given in."""
        return self.created.isoformat(timespec="seconds").replace("+00:00", "Z")


@dataclass(frozen=True)
class Attached:
    """A file carried inside the PDF. Both dates default to the document's own."""

    name: str
    data: bytes
    media_type: str
    description: str
    relationship: str = "Source"
    created: datetime | None = None
    modified: datetime | None = None


@dataclass(frozen=True)
class Asset:
    """A picture that pages may name as `asset:NAME`."""

    media_type: str
    data: bytes


@dataclass(frozen=True)
class Pressed:
    """A finished PDF. `sizes` gives each page's width and height in mm."""

    pdf: bytes
    pages: int
    sizes: tuple[tuple[float, float], ...]
