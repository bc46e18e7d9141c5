"""The page that a mat and a box share: head, places, foot."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

from docgen.club.schema.club import Club
from docgen.club.words import Words, message
from docgen.job.job import Instructions
from docgen.job.number import SheetNumber
from docgen.job.wording import in_text
from docgen.plan.laydown import Laydown
from docgen.sheets.composition import Head, head_of, page_of
from docgen.sheets.jinja import PRECEDENCE
from docgen.sheets.matpiece import PAD
from docgen.sheets.matplaces import Place
from docgen.sheets.measure import lines_of
from docgen.sheets.page import Page, Paper
from docgen.sheets.scale import Scale
from docgen.sheets.signals import symbol

EDGE, FOOT, CODE = 8.0, 6.0, 17.0
"""Blank margin at the paper's edge, that under the foot, and the side of the code; mm."""
HOLDS_EVERY_PRINT = 0
"""A mat shows nothing of one print, so its number names none."""
FOOT_LINES = 2.5
"""Lines of the foot, at least."""


ORDER = message("Lay each piece on its row’s number. Read backwards, it is the order of refitting.")


@dataclass(frozen=True)
class Frame:
    """What a mat is printed on, and the area left for its places: from ``top`` down, ``height`` high.

    scale : of its type
    order : the line above the places, which says how to use them
    """

    told: Instructions
    club: Club
    paper: Paper
    scale: Scale
    title: str
    letter: str
    words: Words
    order: str

    @cached_property
    def head(self) -> Head:
        """The head of each page."""
        told, w = self.told, self.words
        return head_of(
            told.engine,
            told.title,
            f"{self.title} · {told.model_title} · {told.code} {w('revision')} {told.revision}",
            room=self.width - CODE - 4,
            plate=round(self.scale.step * 5.0, 2),
            size=self.scale.middle,
            small=self.scale.small,
            least=CODE,
        )

    @property
    def width(self) -> float:
        """The width of the places, and of head and foot."""
        return self.paper.width - 2 * EDGE

    @cached_property
    def top(self) -> float:
        """Where the places begin."""
        room = self.width / self.scale.small - 1.6  # beside the arrow
        lines = lines_of(self.order, room, bold=True)
        return EDGE + self.head.height + 1.5 + (1.2 * lines + 0.05) * self.scale.small + 1.5

    @cached_property
    def height(self) -> float:
        """Room for the places."""
        lines = max(FOOT_LINES, 1.5 + lines_of(self.words(PRECEDENCE), self.width / self.scale.small - 12.5))
        return self.paper.height - self.top - 1.5 - FOOT - lines * self.scale.small * 1.2


def mat_page(
    frame: Frame, laid: Laydown, pages: Sequence[Sequence[Place]], turned: Sequence[str], notes: Sequence[str] = ()
) -> Page:
    """The finished page.

    turned : which of how many each page is; empty where it is the only one
    notes  : lines for the strip at the foot of the last, where there is room for what else comes off
    """
    told, w = frame.told, frame.words
    number = SheetNumber(told.engine, told.code, told.revision, HOLDS_EVERY_PRINT, frame.letter)
    printed = [number.on_page(n + 1).text for n in range(len(pages))]
    low = 1.5 + max((place.top + place.height for place in pages[-1]), default=0.0)
    return page_of(
        "mat", w, f"{frame.title}: {told.title}, {in_text(w('Engine'), w)} {told.engine}", number.body,
        qr={f"code-{n}": text for n, text in enumerate(printed, 1)}, frame=frame, scale=frame.scale, edge=EDGE,
        under=FOOT, code=CODE, pad=PAD, arrow=symbol("arrow", w("arrow")), pages=pages, low=low, printed=printed,
        notes=(*notes, *hanging(laid, w)), turned=turned,
    )  # fmt: skip


def hanging(laid: Laydown, w: Words) -> tuple[str, ...]:
    """The line that names what is undone but stays where it is; none where nothing does."""
    return (f"{w('Undone, but stays where it hangs')}: {', '.join(laid.stays)}",) if laid.stays else ()


def strip(notes: Sequence[str], frame: Frame) -> float:
    """Height that the strip at the foot needs for its notes, and for one line more that a pen adds; mm."""
    size = frame.scale.small
    lines = sum(lines_of(note, (frame.width - 2 * PAD - 1.0) / size) for note in notes)
    return round(1.5 + 2.4 + 1.0 + 1.2 * size * (2 + lines), 2)
