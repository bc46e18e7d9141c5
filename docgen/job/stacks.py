"""What drawings are told: a part's stated shape, with what the model's graph adds to it; and the parts that one stage
puts on one shaft or one body, one against the other, from which a drawing of the whole is made.

A run of parts is a stack when all are round, or all are layers of a body (covers, gaskets, diaphragms, a strainer),
and each lies behind the next that goes on in the same stage.
"""

from collections.abc import Iterator, Sequence
from itertools import groupby
from typing import Literal

from docgen.club.schema.model import Item, Shape
from docgen.club.schema.prose import first
from docgen.job import wording
from docgen.job.expand import PlacedStep
from docgen.job.figures import Figures
from docgen.job.marks import StackedPart, StackMark, key

ROUND = frozenset(
    {"washer", "dished-washer", "o-ring", "bearing", "needle-bearing", "drum", "gear", "sprocket", "nut", "seal",
     "circlip", "sleeve"}
)  # fmt: skip
"""Kinds of shape that sit round a shaft."""
LAYERS = frozenset({"gasket", "diaphragm", "cover", "strainer"})
"""Kinds of shape that lie on a body one on the other."""
LEAST = 3
"""Fewest parts that make a stack; two say enough in words."""


def stacks(placed: Sequence[PlacedStep], figures: Figures) -> dict[int, tuple[StackMark]]:
    """The stack that begins at a step, by the step's index; looked for stage by stage."""
    found: dict[int, tuple[StackMark]] = {}
    for _, stage in groupby(enumerate(placed), key=lambda one: one[1].stage):
        fitted = [(n, name) for n, one in stage for name in (*one.step.fits, *one.step.renews)
                  if name.partition("/")[0] in figures.model.parts]  # fmt: skip
        for run in (run for kinds in (ROUND, LAYERS) for run in _runs(fitted, figures, kinds)):
            names = [name for _, name in run]
            if len(names) >= LEAST and any(figures.item(name).orientation for name in names):
                found[run[0][0]] = (_stack(figures, names),)
    return found


def _runs(fitted: list[tuple[int, str]], figures: Figures, kinds: frozenset[str]) -> Iterator[list[tuple[int, str]]]:
    run: list[tuple[int, str]] = []
    for at, name in fitted:
        if run and not (_is(figures, name, kinds) and name in figures.item(run[-1][1]).behind):
            yield run
            run = []
        if _is(figures, name, kinds):
            run.append((at, name))
    yield run


def _is(figures: Figures, name: str, kinds: frozenset[str]) -> bool:
    return "/" not in name and plain(figures.item(name).shape).get("kind", "") in kinds


def _stack(figures: Figures, names: list[str]) -> StackMark:
    """The parts in fitting order, then the nut that holds the last; round them, what the graph says of the shaft."""
    model = figures.model
    nuts = [name for name in getattr(figures.item(names[-1]), "held_by", ()) if _is(figures, name, frozenset({"nut"}))]
    shafts = dict.fromkeys(onto for nut in nuts if (onto := figures.fastener(nut).onto))
    inside = [one for one, item in (*model.parts.items(), *model.fasteners.items()) if names[0] in item.behind]
    riding = (one for name in names for one, part in model.parts.items()
              if part.part_of == name and part.shape and part.shape.kind == "sprocket")  # fmt: skip
    shown = [*shafts, *inside, *riding]
    kinds = frozenset({"shaft", "hub", "nut", "sprocket"})
    return StackMark(
        key=key("stack", names[0]),
        parts=tuple(_part(figures, name, names[n:]) for n, name in enumerate([*names, *nuts])),
        around=tuple(_part(figures, name, []) for name in shown if _is(figures, name, kinds)),
    )


def _part(figures: Figures, name: str, outward: list[str]) -> StackedPart:
    item = figures.item(name)
    side = item.orientation
    return StackedPart(
        name=figures.name(name),
        face=side.face if side else "",
        towards=side.towards if side else "",
        looks=_looks(item, figures, outward[1:]) if side else "",
        shape=plain(item.shape),
    )


def _looks(item: Item, figures: Figures, outward: list[str]) -> Literal["", "inwards", "outwards"]:
    """Whether a face looks inwards, at what is fitted before, or outwards; nothing where the words do not say."""
    towards = first(item.orientation.towards).lower() if item.orientation else ""
    names = [*outward, *(f for name in outward for f in getattr(figures.item(name), "held_by", ()))]
    if any(wording.item_name(name, first(figures.item(name).name or "")).lower() in towards for name in names):
        return "outwards"
    inner = ("crankcase", "engine", "crank web", "clutch hub", "lever")
    return "inwards" if any(word in towards for word in inner) else ""


def shape_of(figures: Figures, name: str) -> dict[str, str]:
    """A part's stated kind and sizes, each as text with its unit; empty where the model states none.

    Of the shaft whose radius its named face clears, ``radius``, ``shoulder`` and ``journal`` come with it.
    """
    item = figures.item(name)
    stated = plain(item.shape)
    side = item.orientation
    if side and side.clears:
        shaft = plain(figures.part(side.clears).shape)
        taken = {"radius": "radius", "outer": "shoulder", "inner": "journal"}
        stated |= {new: shaft[key] for key, new in taken.items() if key in shaft}
    return stated


def plain(shape: Shape | None) -> dict[str, str]:
    """A shape's kind and sizes as text."""
    return {key: str(value) for key, value in shape if value is not None} if shape else {}


def held_outline(figures: Figures, fastener: str) -> dict[str, str]:
    """The shape of the part that a fastener holds; empty where none or more than one says so."""
    name = fastener.partition("/")[0]
    held = [part for part in figures.model.parts.values() if name in part.held_by]
    return plain(held[0].shape) if len(held) == 1 else {}
