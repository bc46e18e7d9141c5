"""Which drawing belongs to which mark of a step: the one place that sheets ask.

A mark has none where its words or sizes do not say what to draw. Drawings are at most 90 by 30 mm, for a column of the
bench leaf or the reading; words have capitals of 2.4 mm.
"""

import re
from collections.abc import Iterable
from dataclasses import dataclass
from html import escape

from markupsafe import Markup

from docgen.club.words import Words
from docgen.job import marks as m
from docgen.sheets.drawings.canvas import Point, number
from docgen.sheets.drawings.comparison import drop_picture, grease_picture
from docgen.sheets.drawings.gauging import gauging_picture, numbered
from docgen.sheets.drawings.layers import Part
from docgen.sheets.drawings.orientation import orientation_picture
from docgen.sheets.drawings.panels import FRAME, WORD, sight_picture
from docgen.sheets.drawings.pattern import pattern_picture
from docgen.sheets.drawings.stack import stack_picture, stacked
from docgen.sheets.figures import figure
from docgen.trade.quantity import Quantity


@dataclass(frozen=True)
class Drawing:
    """A drawing with what belongs to it.

    svg       : finished, sized in mm, its alternative text inside
    legend    : what its numbers 1, 2, ... mean, in order; empty where it has none
    life_size : it must be printed at the size that it has
    """

    svg: str
    legend: tuple[str, ...] = ()
    life_size: bool = False

    @property
    def caption(self) -> str:
        """Its numbers with what they mean, on one line."""
        return "; ".join(f"{n} {text}" for n, text in enumerate(self.legend, 1))

    def legible(self, least: float, room: float) -> str | None:
        """The drawing for a distance, as large as its smallest words need; None if that is wider than ``room`` mm.

        Drawings are made for a bench 600 mm away, with words of ``WORD``; nearer by, they shrink, to three quarters at
        the most. least : size that words must have at least, mm; a drawing of life size stays as it is

        >>> svg = '<svg width="50mm" height="30mm"><text font-size="3"/></svg>'
        >>> Drawing(svg).legible(4.5, 90).partition(">")[0]
        Markup('<svg width="75mm" height="45mm"')
        """
        smallest = min((float(found) for found in re.findall(r' font-size="([0-9.]+)"', self.svg)), default=WORD)
        scale = 1.0 if self.life_size else max(0.75, least / smallest)
        return None if scale > 1 and size(self.svg)[0] * scale > room else Markup(_scaled(self.svg, scale))


def size(svg: str) -> Point:
    """Width and height of a finished drawing, mm."""
    width, height = (float(found) for found in re.findall(r'(?:width|height)="([0-9.]+)mm"', svg.partition(">")[0]))
    return width, height


def fitted(svg: str, title: str, width: float, height: float) -> str:
    """A drawing that a club brought along, as large as it fits into a frame in mm, with its alternative text.

    >>> fitted('<svg width="90.00mm" height="60.00mm"><g/></svg>', "A & B", 40, 18)
    Markup('<svg role="img" width="27mm" height="18mm"><title>A &amp; B</title><g/></svg>')
    """
    wide, high = size(svg)
    head, _, rest = _scaled(svg, min(width / wide, height / high)).partition(">")
    return Markup(head.replace("<svg", '<svg role="img"', 1) + f"><title>{escape(title)}</title>" + rest)


def _scaled(svg: str, scale: float) -> str:
    wide, high = size(svg)
    sized = f'width="{number(wide * scale)}mm" height="{number(high * scale)}mm"'
    return re.sub(r'width="[0-9.]+mm" height="[0-9.]+mm"', sized, str(svg), count=1)


_DRAWING = (
    m.OrientationMark, m.StackMark, m.TorqueMark, m.ReadingMark, m.SettingMark, m.LookMark, m.ApplyMark, m.DrawingMark,
)  # fmt: skip
_KNOWN: dict[tuple[str, str, float], tuple[Drawing, ...]] = {}
"""Drawings made before: the engines of a type have most of them in common."""
MOST_KNOWN = 2_000


def drawings_for(mark: m.Mark, words: Words, stack: float = FRAME[1]) -> tuple[Drawing, ...]:
    """The drawings of one mark, in the order in which they are needed; most marks have none.

    stack : how high a stack of parts may be, mm
    """
    if not isinstance(mark, _DRAWING):
        return ()
    if words is not Words.speaking(words.language):
        return _drawn(mark, words, stack)
    key = (mark.model_dump_json(), words.language, stack)
    if key not in _KNOWN:
        if len(_KNOWN) >= MOST_KNOWN:
            _KNOWN.clear()
        _KNOWN[key] = _drawn(mark, words, stack)
    return _KNOWN[key]


def _drawn(mark: m.Mark, words: Words, stack: float) -> tuple[Drawing, ...]:
    match mark:
        case m.OrientationMark():
            return (Drawing(orientation_picture(mark.name, mark.face, mark.towards, mark.shape, words)),)
        case m.StackMark():
            legend = legend_of(mark, words)
            title = f"{words('In this order, from the inside outwards')}: {Drawing('', legend).caption}"
            if mark.around:
                beside = ", ".join(one.name for one in mark.around)
                title += f"; {words('shown with them: {names}', names=beside)}"
            parts, around = _stacked(mark.parts), _stacked(mark.around)
            return (Drawing(stack_picture(parts, title, around=around, high=stack), legend),)
        case m.TorqueMark():
            return _some(pattern_picture(mark.pattern, mark.count, mark.outline, mark.size, words))
        case m.ReadingMark() if mark.picture:
            legend = mark.positions if numbered(mark.picture) else ()
            leak = figure(mark.allow, words)
            svg = gauging_picture(mark.picture, mark.name, mark.where, mark.positions, words, leak=leak)
            return _some(svg, legend)
        case m.SettingMark() if mark.picture:
            ceiling = figure(mark.ceiling, words) if mark.ceiling else ""
            return _some(gauging_picture(mark.picture, mark.name, mark.datum, (), words, ceiling=ceiling))
        case m.LookMark() if mark.picture:
            return (Drawing(sight_picture(mark.picture, mark.accept, words)),)
        case m.ApplyMark() if not mark.cleaning:
            amount = figure(mark.amount, words) if mark.amount else ""
            title = ", ".join(filter(None, (mark.material, amount, *mark.to)))
            if mark.kind == "threadlocker" and isinstance(mark.amount, Quantity):
                return _some(drop_picture(mark.amount, title, words), life_size=True)
            return _some(grease_picture(mark.shape, title, words)) if mark.kind == "grease" else ()
        case m.DrawingMark():
            return (Drawing(fitted(mark.svg, mark.title, *FRAME)),)
    return ()


def legend_of(mark: m.StackMark, words: Words) -> tuple[str, ...]:
    """What the numbers of a stack mean: each part, with its way round where it has one."""
    return tuple(
        f"{one.name}: {words('{face} towards {towards}', face=one.face, towards=one.towards)}" if one.face else one.name
        for one in mark.parts
    )


def _stacked(parts: Iterable[m.StackedPart]) -> list[Part]:
    return [stacked(one.face, {"inwards": True, "outwards": False}.get(one.looks), one.shape) for one in parts]


def _some(svg: str | None, legend: tuple[str, ...] = (), life_size: bool = False) -> tuple[Drawing, ...]:
    return (Drawing(svg, legend, life_size),) if svg else ()
