"""Which drawing belongs to which mark of a step: the one place that sheets ask.

======================  ===============================================================================================
mark                    drawing
======================  ===============================================================================================
OrientationMark         which way round: ``chamfer`` where the face clears a shaft's radius, ``circlips`` for an open
                        end, a part on its shaft in ``section``, any other in ``views``
StackMark               what goes on one shaft in true section (``stack``), or layers on a body drawn apart (``layers``)
TorqueMark              the order of tightening on the outline of the part (``pattern``), where the model names one
ReadingMark,            where it is taken (``gauging``), where the model's limit or setting names a ``picture``
SettingMark
LookMark                what is good and what is damaged (``panels``), where the look names one
ApplyMark               one drop of threadlocker at its own size; a needle bearing with enough grease (``amounts``)
DrawingMark             the drawing that the procedure brought along
======================  ===============================================================================================

All other marks have none, and so has any of these where the words or sizes do not say what to draw. They
are at most 90 by 30 mm, for a column of the bench leaf or the reading; words have capitals of 2.4 mm.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from docgen.club.words import Words
from docgen.job import marks as m
from docgen.sheets.drawings.amounts import drop_picture, grease_picture
from docgen.sheets.drawings.gauging import gauging_picture, numbered
from docgen.sheets.drawings.orientation import orientation_picture
from docgen.sheets.drawings.panels import FRAME, sight_picture
from docgen.sheets.drawings.pattern import pattern_picture
from docgen.sheets.drawings.sized import fitted, legible, size
from docgen.sheets.drawings.stack import Stacked, stack_picture
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
    def size(self) -> tuple[float, float]:
        """Width and height, mm."""
        return size(self.svg)

    def legible(self, least: float, room: float) -> str | None:
        """The drawing for a distance, as large as its smallest words need; None if that is wider than ``room`` mm.

        least : size that words must have at least, mm; a drawing of life size stays as it is
        """
        return self.svg if self.life_size else legible(self.svg, least, room)


_DRAWING = (
    m.OrientationMark, m.StackMark, m.TorqueMark, m.ReadingMark, m.SettingMark, m.LookMark, m.ApplyMark, m.DrawingMark,
)  # fmt: skip
_KNOWN: dict[tuple[str, str], tuple[Drawing, ...]] = {}
"""Drawings made before: the engines of a type have most of them in common."""
MOST_KNOWN = 2_000


def drawings_for(mark: m.Mark, words: Words) -> tuple[Drawing, ...]:
    """The drawings of one mark, in the order in which they are needed; most marks have none."""
    if not isinstance(mark, _DRAWING):
        return ()
    if words is not Words.speaking(words.language):
        return _drawn(mark, words)
    key = (mark.model_dump_json(), words.language)
    if key not in _KNOWN:
        if len(_KNOWN) >= MOST_KNOWN:
            _KNOWN.clear()
        _KNOWN[key] = _drawn(mark, words)
    return _KNOWN[key]


def _drawn(mark: m.Mark, words: Words) -> tuple[Drawing, ...]:
    match mark:
        case m.OrientationMark():
            return (Drawing(orientation_picture(mark.name, mark.face, mark.towards, mark.shape, words)),)
        case m.StackMark():
            legend = legend_of(mark, words)
            beside = words("shown with them: {names}", names=", ".join(one.name for one in mark.around))
            order = _numbered(words("In this order, from the inside outwards"), legend)
            title = "; ".join([order, *([beside] if mark.around else [])])
            parts, around = _stacked(mark.parts), _stacked(mark.around)
            return (Drawing(stack_picture(parts, title, around=around), legend),)
        case m.TorqueMark():
            return _some(pattern_picture(mark.pattern, mark.count, mark.outline, mark.size, words))
        case m.ReadingMark() if mark.picture:
            held = figure(mark.allow, words)
            legend = mark.positions if numbered(mark.picture) else ()
            return _gauged(mark, mark.where, mark.positions, words, legend, {"leak": held})
        case m.SettingMark() if mark.picture:
            ceiling = figure(mark.ceiling, words) if mark.ceiling else ""
            return _gauged(mark, mark.datum, (), words, (), {"ceiling": ceiling})
        case m.LookMark() if mark.picture:
            return (Drawing(sight_picture(mark.picture, mark.accept, words)),)
        case m.ApplyMark() if not mark.cleaning:
            return _applied(mark, words)
        case m.DrawingMark():
            return (Drawing(fitted(mark.svg, mark.title, *FRAME)),)
    return ()


def legend_of(mark: m.StackMark, words: Words) -> tuple[str, ...]:
    """What the numbers of a stack mean: each part, with its way round where it has one."""
    return tuple(
        f"{one.name}: {words('{face} towards {towards}', face=one.face, towards=one.towards)}" if one.face else one.name
        for one in mark.parts
    )


def _stacked(parts: Iterable[m.StackedPart]) -> list[Stacked]:
    return [Stacked(one.face, {"inwards": True, "outwards": False}.get(one.looks), one.shape) for one in parts]


def _numbered(head: str, legend: Iterable[str]) -> str:
    numbered = "; ".join(f"{n} {text}" for n, text in enumerate(legend, 1))
    return f"{head}: {numbered}" if head else numbered


def _gauged(
    mark: m.ReadingMark | m.SettingMark,
    where: str,
    positions: tuple[str, ...],
    words: Words,
    legend: tuple[str, ...],
    figures: dict[str, str],
) -> tuple[Drawing, ...]:
    marked = figures if mark.picture == "pressure-rig" else {}
    svg = gauging_picture(mark.picture, mark.name, where, positions, words, **marked)
    return _some(svg, legend)


def _applied(mark: m.ApplyMark, words: Words) -> tuple[Drawing, ...]:
    amount = figure(mark.amount, words) if mark.amount else ""
    title = ", ".join(filter(None, (mark.material, amount, *mark.to)))
    if mark.kind == "threadlocker" and isinstance(mark.amount, Quantity):
        svg = drop_picture(mark.amount, title, words)
        return (Drawing(svg, life_size=True),) if svg else ()
    return _some(grease_picture(mark.shape, title, words)) if mark.kind == "grease" else ()


def _some(svg: str | None, legend: tuple[str, ...] = ()) -> tuple[Drawing, ...]:
    return (Drawing(svg, legend),) if svg else ()
