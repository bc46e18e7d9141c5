"""Type sizes of the bench checklist, from the distance at which it is read.

Characters are at least 0.004 of the reading distance high (15 minutes of arc), preferably 0.006 (20 minutes):
NUREG-0700 rev. 3. The x-height of a checklist's text is at least 2.54 mm: NASA CR-177605.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import sqrt

from docgen.trade.quantity import Quantity

CAP_HEIGHT = 0.668
"""Height of a capital of the typeface, in ems (Atkinson Hyperlegible, table OS/2)."""
X_HEIGHT = 0.496
"""Height of a small x of the typeface, in ems (Atkinson Hyperlegible, table OS/2)."""
LEAST, PREFERRED = 0.004, 0.006
LEAST_X = 2.54


@dataclass(frozen=True)
class Scale:
    """The type sizes, in mm. ``step`` is the size of the steps' text; every other size is a fixed part of it."""

    step: float

    @property
    def small(self) -> float:
        """Labels, reasons, feet: nothing is smaller. The two rules stand as 4 to 6, so do the two sizes."""
        return round(self.step * LEAST / PREFERRED, 3)

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
        return round(self.step * 1.6, 3)


def scale_for(distance: Quantity) -> Scale:
    """The type scale for a bench distance.

    step size = max(0.006 D / 0.668, 2.54 mm / 0.496), so that a capital is 0.006 D high and an x never less
    than 2.54 mm; the smallest size is two thirds of it, so that a capital is 0.004 D high or more.

    >>> from docgen.trade.quantity import parse_quantity
    >>> scale_for(parse_quantity("700 mm"))
    Scale(step=6.288)
    """
    length = float(distance.to("mm").value)
    return Scale(round(max(PREFERRED * length / CAP_HEIGHT, LEAST_X / X_HEIGHT) + 0.0005, 3))
