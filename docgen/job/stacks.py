"""Parts that one stage puts on one shaft, one against the other: what a section of the whole stack is drawn from.

A run of parts is a stack when each is round, and each lies behind the next that goes on in the same stage.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Literal

from docgen.club.schema.model import Item
from docgen.club.schema.procedure import Step
from docgen.club.schema.prose import first
from docgen.job import wording
from docgen.job.figures import Figures
from docgen.job.marks import StackedPart, StackMark, key

ROUND = frozenset(
    {"washer", "dished-washer", "o-ring", "bearing", "drum", "gear", "sprocket", "nut", "seal", "circlip", "sleeve"}
)
"""Kinds of shape that sit round a shaft."""
LEAST = 3
"""Fewest parts that make a stack; two say enough in words."""


def stacks(steps: Sequence[Step], figures: Figures) -> dict[int, StackMark]:
    """The stack that begins at a step, by the step's place among the steps of one stage."""
    fitted = [
        (n, name)
        for n, step in enumerate(steps)
        for name in (*step.fits, *step.renews)
        if name.partition("/")[0] in figures.model.parts
    ]
    found: dict[int, StackMark] = {}
    for run in _runs(fitted, figures):
        names = [name for _, name in run]
        if len(names) >= LEAST and any(figures.item(name).orientation for name in names):
            found[run[0][0]] = StackMark(
                key=key("stack", names[0]), parts=tuple(_part(figures, name, names[n:]) for n, name in enumerate(names))
            )
    return found


def _runs(fitted: list[tuple[int, str]], figures: Figures) -> Iterator[list[tuple[int, str]]]:
    run: list[tuple[int, str]] = []
    for at, name in fitted:
        if run and not (_round(figures, name) and name in figures.item(run[-1][1]).behind):
            yield run
            run = []
        if _round(figures, name):
            run.append((at, name))
    yield run


def _round(figures: Figures, name: str) -> bool:
    shape = figures.item(name).shape
    return "/" not in name and shape is not None and shape.kind in ROUND


def _part(figures: Figures, name: str, outward: list[str]) -> StackedPart:
    item = figures.item(name)
    shape = {field: str(value) for field, value in item.shape if value is not None} if item.shape else {}
    side = item.orientation
    return StackedPart(
        name=figures.name(name),
        face=side.face if side else "",
        towards=side.towards if side else "",
        looks=_looks(item, figures, outward[1:]) if side else "",
        shape=shape,
    )


def _looks(item: Item, figures: Figures, outward: list[str]) -> Literal["", "inwards", "outwards"]:
    """Whether a face looks inwards, at what is fitted before, or outwards; nothing where the words do not say."""
    towards = first(item.orientation.towards).lower() if item.orientation else ""
    names = [*outward, *(f for name in outward for f in getattr(figures.item(name), "held_by", ()))]
    if any(wording.item_name(name, first(figures.item(name).name or "")).lower() in towards for name in names):
        return "outwards"
    inner = ("crankcase", "engine", "crank web", "clutch hub")
    return "inwards" if any(word in towards for word in inner) else ""
