"""A page ready for the press: its HTML, its CSS, and what they name."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field


@dataclass(frozen=True)
class Page:
    """One sheet, as many printed pages as it needs.

    The CSS names pictures as ``asset:NAME``: ``drawings`` holds those drawn here, as SVG; ``codes`` those
    that the press draws, as the text of a QR code. ``identifier`` names the print, in plain ASCII. With
    ``halves``, two pages share a sheet of paper, to be cut apart.
    """

    html: str
    css: str
    title: str
    subject: str
    identifier: str
    language: str
    drawings: Mapping[str, str] = field(default_factory=dict)
    codes: Mapping[str, str] = field(default_factory=dict)
    halves: bool = False
