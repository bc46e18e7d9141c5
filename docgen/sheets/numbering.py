"""The CSS that gives each printed page its own number, check character and QR code.

How many pages a sheet takes is known only after layout, so rules for more than its steps can fill are written ahead,
one ``@page :nth(n)`` a page; the press refuses a sheet with more pages than rules (``data-most-pages``). (A counter
style would be shorter; the printing library loses those of style sheets that are given to it ready parsed.)
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from docgen.job.number import MOST_PAGES, SheetNumber
from docgen.sheets.jinja import css_string
from docgen.sheets.words import Words

OTHERS = 30
"""Pages ahead for what is not a step: tools, parts, deviations, messages."""


def most_pages(steps: int) -> int:
    """How many pages of a sheet with so many steps are numbered ahead; a step never takes more than one."""
    return min(MOST_PAGES, steps + OTHERS)


@dataclass(frozen=True)
class Numbering:
    """``css`` to go with the sheet's own; ``codes`` maps each picture's name to the text of its QR code."""

    css: str
    codes: Mapping[str, str]


@dataclass(frozen=True)
class Place:
    """Where a page's code stands on the paper, and how large it is without its quiet zone; mm."""

    left: float
    top: float
    size: float


def numbering(
    number: SheetNumber,
    words: Words,
    places: tuple[Place, ...],
    most: int,
    *,
    box: str,
    side: float,
    top: float,
    first_top: float,
    under: str = "",
    short: bool = False,
    first_place: tuple[Place, ...] = (),
) -> Numbering:
    """Rules for each page of a sheet: its number and "page x of y" in the page-margin box ``box``, its codes behind it.

    most                 : how many pages are numbered
    side, top, first_top : the page margins at the left, at the top, and at the top of the first page, mm;
                           a page's background is placed from the corner of its text area
    under                : name of a picture that covers the paper under the codes on every page
    short                : the number and "x of y" on one line
    first_place          : where the codes stand on the first page, if elsewhere
    """
    rules: list[str] = []
    joint, page = (" · ", "") if short else ("\\A ", words.page)
    codes: dict[str, str] = {}
    for n in range(1, most + 1):
        codes[f"code-{n}"] = text = number.on_page(n).text
        down = first_top if n == 1 else top
        layers = [
            f"url(asset:code-{n}) {at.left - side:.2f}mm {at.top - down:.2f}mm / {at.size}mm {at.size}mm no-repeat"
            for at in (first_place if n == 1 and first_place else places)
        ]
        if under:
            layers.append(f"url(asset:{under}) {-side:.2f}mm {-down:.2f}mm no-repeat")
        content = f"{css_string(text)} '{joint}' {css_string(f'{page} {n} {words.of} '.lstrip())} counter(pages)"
        rules.append(f"@page :nth({n}) {{ background: {', '.join(layers)}; @{box} {{ content: {content} }} }}")
    return Numbering("\n".join(rules), codes)
