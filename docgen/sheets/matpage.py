"""The page that a mat and a box share: head, places, foot, and the marks for joining two sheets into one."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from markupsafe import Markup

from docgen.club.schema.club import Club
from docgen.job.job import Instructions
from docgen.job.number import SheetNumber
from docgen.job.wording import in_text
from docgen.plan.laydown import Laydown, Piece
from docgen.sheets.drawings.canvas import THIN, Canvas
from docgen.sheets.drawings.symbols import symbol
from docgen.sheets.head import Head, head_of
from docgen.sheets.jinja import fill
from docgen.sheets.measure import lines_of
from docgen.sheets.page import Page
from docgen.sheets.pagewords import PageWords
from docgen.sheets.paper import Paper
from docgen.sheets.scale import Scale

EDGE, FOOT, CODE = 8.0, 6.0, 17.0
"""Blank margin at the paper's edge, that under the foot, and the side of the code; mm."""
JOIN = 10.0
"""Width of the strip that both halves of a joined mat can print on: half of it on either side of the seam; mm."""
HOLDS_EVERY_PRINT = 0
"""A mat shows nothing of one print, so its number names none."""
PAD, FOOT_LINES = 1.6, 2.5
"""Inside a place at its edges, mm; lines of the foot, at least."""


@dataclass(frozen=True)
class Place:
    """One place, laid out: its words, its outlines, and where it stands on its page, mm.

    lines : smaller lines under the name
    left, top, width, height : on the area of the mat, of which a joined mat prints each half on a sheet of its own
    words : width of its words, which stay on one side of the seam
    """

    piece: Piece
    left: float
    top: float
    width: float
    height: float
    words: float
    name: str
    back: str
    lines: tuple[str, ...]
    svg: str
    svg_left: float
    svg_top: float


@dataclass(frozen=True)
class Frame:
    """What a mat is printed on, and the area left for its places: from ``top`` down, ``height`` high.

    paper  : what the mat is as large as
    joined : the paper that its halves are printed on, half the mat's width; None where it is printed as a whole
    scale  : of its type
    """

    told: Instructions
    club: Club
    paper: Paper
    joined: Paper | None
    scale: Scale
    title: str
    letter: str
    words: PageWords

    @property
    def head(self) -> Head:
        """The head of each page."""
        told, w = self.told, self.words
        return head_of(
            told.engine,
            told.title,
            f"{self.title} · {told.model_title} · {told.code} {w.revision} {told.revision}",
            room=self.width - CODE - 4,
            plate=round(self.scale.step * 5.0, 2),
            size=self.scale.middle,
            small=self.scale.small,
            least=CODE,
        )

    @property
    def width(self) -> float:
        """The width of head and foot."""
        return (self.joined or self.paper).width - 2 * EDGE - (JOIN if self.joined else 0.0)

    @property
    def top(self) -> float:
        """Where the places begin."""
        room = self.width / self.scale.small - 1.6  # beside the arrow
        lines = lines_of(self.words.mat_order, room, bold=True)
        return EDGE + self.head.height + 1.5 + (1.2 * lines + 0.05) * self.scale.small + 1.5

    @property
    def height(self) -> float:
        """Room for the places."""
        lines = max(FOOT_LINES, 1.5 + lines_of(self.words.precedence, self.width / self.scale.small - 12.5))
        return self.paper.height - self.top - 1.5 - FOOT - lines * self.scale.small * 1.2

    @property
    def edges(self) -> tuple[float, ...]:
        """The right ends of the strips of the area, counted from its left edge."""
        if self.joined is None:
            return (self.paper.width - 2 * EDGE,)
        half = self.joined.width - EDGE - JOIN
        return (half, 2 * half)


def mat_page(
    frame: Frame, laid: Laydown, pages: Sequence[Sequence[Place]], turned: str, notes: Sequence[str] = ()
) -> Page:
    """The finished page.

    turned : "Mat {page} of {pages}", or what a box says
    notes  : lines for the strip at the foot, where there is room for what else comes off
    """
    told, w, scale = frame.told, frame.words, frame.scale
    number = SheetNumber(told.engine, told.code, told.revision, HOLDS_EVERY_PRINT, frame.letter)
    low = max((place.top + place.height for place in pages[-1]), default=0.0)
    numbers = [number.on_page(n + 1).text for n in range(len(pages))]
    values = {
        "w": w,
        "club": frame.club,
        "told": told,
        "scale": scale,
        "paper": frame.joined or frame.paper,
        "edge": EDGE,
        "under": FOOT,
        "width": frame.width,
        "head": frame.head,
        "top": frame.top,
        "height": frame.height,
        "sheets": _sheets(pages, frame),
        "seam": JOIN,
        "cross": frame.joined is not None,
        "half": frame.edges[0],
        "spare_top": low + 1.5,
        "spare_height": frame.height - low - 1.5,
        "code": CODE,
        "pad": PAD,
        "mark": Markup(_cross(w)),
        "numbers": numbers,
        "arrow": Markup(symbol("arrow", w.symbols["arrow"])),
        "scissors": Markup(symbol("scissors", w.symbols["scissors"])),
        "count": w.places_count.format(places=len(laid.pieces), pieces=laid.count),
        "notes": (*notes, *hanging(laid, w)),
        "turned": [turned.format(page=n + 1, pages=len(pages)) for n in range(len(pages))],
    }
    return Page(
        html=fill("mat.html.j2", **values),
        css=fill("mat.css.j2", **values),
        title=f"{frame.title}: {told.title}, {in_text(w.engine, w)} {told.engine}",
        subject=number.body,
        identifier=number.body,
        language=w.language,
        codes={f"code-{n + 1}": text for n, text in enumerate(numbers)},
    )


def hanging(laid: Laydown, w: PageWords) -> tuple[str, ...]:
    """The line that names what is undone but stays where it is; none where nothing does."""
    return (f"{w.stays_hanging}: {', '.join(laid.stays)}",) if laid.stays else ()


def strip(notes: Sequence[str], frame: Frame) -> float:
    """Height that the strip at the foot needs for its notes, and for one line more that a pen adds; mm."""
    size = frame.scale.small
    lines = sum(lines_of(note, (frame.edges[0] - 2 * PAD - 1.0) / size) for note in notes)
    return round(1.5 + 2.4 + 1.0 + 1.2 * size * (2 + lines), 2)


def _cross(w: PageWords) -> str:
    """The mark that two halves are laid on one another by: its middle is on the seam."""
    canvas = Canvas(6.0, 6.0, w.join_mark)
    canvas.circle((3.0, 3.0), 1.8, THIN, "none")
    canvas.line((0.2, 3.0), (5.8, 3.0), THIN)
    canvas.line((3.0, 0.2), (3.0, 5.8), THIN)
    return canvas.svg()


@dataclass(frozen=True)
class _Sheet:
    """What one sheet of paper shows of a mat's page: its half, how far that is moved to the left, its places."""

    page: int
    half: str
    moved: float
    places: tuple[Place, ...]


def _sheets(pages: Sequence[Sequence[Place]], frame: Frame) -> list[_Sheet]:
    if frame.joined is None:
        return [_Sheet(n, "", 0.0, tuple(page)) for n, page in enumerate(pages)]
    half = frame.edges[0]
    sheets: list[_Sheet] = []
    for n, page in enumerate(pages):
        sheets.append(_Sheet(n, "left", 0.0, tuple(p for p in page if p.left < half - 0.01)))
        sheets.append(_Sheet(n, "right", half, tuple(p for p in page if p.left + p.width > half + 0.01)))
    return sheets
