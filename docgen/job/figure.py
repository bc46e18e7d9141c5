"""A figure of a job: a band of figures or words, and where it came from. It is worded where it is printed, not here.

In the frozen job a figure stands as the files spell it (``34 N.m +/- 10 %``), in no language.
"""

from typing import Literal

from docgen.club.frozen import BandText, Frozen, QuantityText
from docgen.club.schema.prose import Line
from docgen.trade.quantity import Quantity

Origin = Literal["deviation", "model", "club", "computed", "blank"]


class Wires(Frozen):
    """A go/no-go gauge's answer: the largest wire that must pass, and the least that must not."""

    go: QuantityText
    stop: QuantityText

    def contains(self, value: Quantity) -> bool:
        """Whether the largest wire that passed is good: at least the one that must, less than the one that must not."""
        return self.go <= value < self.stop


class Figure(Frozen):
    """A figure that a sheet prints, and where it came from.

    band        : what it may be; None where it is in words, or where nobody knows it
    words       : what stands in its place, such as how a screw is tightened by feel
    source      : who gave it, in the file's words
    assumptions : of a computed one, as :mod:`docgen.trade` says them; ``governs`` is the side that sets its ceiling
    """

    band: BandText | None = None
    words: Line = ""
    origin: Origin
    source: Line = ""
    assumptions: tuple[str, ...] = ()
    governs: str = ""

    @property
    def blank(self) -> bool:
        """Whether the line stays empty on purpose: the maker's manual has the figure, or nobody has it."""
        return self.origin == "blank"
