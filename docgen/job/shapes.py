"""What drawings are told of a part: its stated shape, and what the model's graph adds to it."""

from __future__ import annotations

from docgen.club.schema.model import Shape
from docgen.job.figures import Figures


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
