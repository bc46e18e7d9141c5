"""Type sizes of the bench leaf, from the distance at which it is read.

Characters are at least 0.004 of the reading distance high (15 minutes of arc), preferably 0.006 (20 minutes):
NUREG-0700 rev. 3. What is read row by row stands half-way, at 0.005; nothing is smaller than the least.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import sqrt

from docgen.trade.quantity import Quantity

CAP_HEIGHT = 0.668
"""Height of a capital of the typeface, in ems (Atkinson Hyperlegible, table OS/2)."""
LEAST, TEXT = 0.004, 0.005


@dataclass(frozen=True)
class Scale:
    """The type sizes, in mm. ``step`` is the size of the rows' text; every other size is a fixed part of it."""

    step: float

    @property
    def small(self) -> float:
        """Labels, notes, feet: nothing is smaller."""
        return round(self.step * LEAST / TEXT, 3)

    @property
    def middle(self) -> float:
        """Safety messages, lists."""
        return round(sqrt(self.small * self.step), 3)

    @property
    def value(self) -> float:
        """Torques and other figures that are set on a tool."""
        return round(self.step * 1.25, 3)

    @property
    def number(self) -> float:
        """Step numbers."""
        return round(self.step * 1.5, 3)

    @property
    def title(self) -> float:
        """The job's title on the first page."""
        return round(self.step * 1.4, 3)


def scale_for(distance: Quantity) -> Scale:
    """The type scale for a bench distance.

    step size = 0.005 D / 0.668, so that a capital is 0.005 D high; the smallest size is four fifths of it.

    >>> from docgen.trade.quantity import parse_quantity
    >>> scale_for(parse_quantity("600 mm"))
    Scale(step=4.492)
    """
    length = float(distance.to("mm").value)
    return Scale(round(TEXT * length / CAP_HEIGHT + 0.0005, 3))
