"""Wear: the range of hours left, and how often it holds the true hours, simulated."""

from __future__ import annotations

import math
import random
from dataclasses import dataclass
from functools import cache

from docgen.trade.wear import Point, forecast
from tests.trade.published import Published

TITLE = "Hours left of a wearing part"
HOURS_SEEN, HOURS_TO_LIMIT, TRIALS = 10.0, 25.0, 800
FOUR, THREE = ("9.107", "4.74", "15.64"), ("19.134", "15.24", "24.68")


@dataclass(frozen=True)
class Coverage:
    """Readings of a part that wears evenly; how often the range that is printed holds the true hours.

    readings : how many, evenly over `HOURS_SEEN`
    worn     : wear seen in that time, as a multiple of the gauge's expanded uncertainty U
    scatter  : standard deviation of the readings, as a multiple of U / 2
    promised : what :func:`docgen.trade.wear.forecast` says of such readings
    """

    readings: int
    worn: float
    scatter: float
    promised: float

    def __str__(self) -> str:
        return f"{self.readings}-readings-{self.worn:g}-worn-{self.scatter:g}-scatter"

    @cache  # noqa: B019  asked for by a test and by the page
    def simulated(self) -> float:
        """The share of the ranges printed that hold the true hours; seeded, so the same every time."""
        chance, u = random.Random(f"{self}"), 0.02
        rate = self.worn * u / HOURS_SEEN
        said = held = 0
        for _ in range(TRIALS):
            hours = [HOURS_SEEN * k / (self.readings - 1) for k in range(self.readings)]
            points = [Point(x, rate * x + chance.gauss(0, self.scatter * u / 2)) for x in hours]
            found = forecast(points, rate * HOURS_TO_LIMIT, uncertainty=u)
            if found.left_low is not None and found.left_high is not None:
                said += 1
                held += found.left_low <= HOURS_TO_LIMIT - HOURS_SEEN <= found.left_high
        if said < TRIALS // 20:
            raise ValueError(f"{self}: a range is printed too seldom to judge")
        return held / said


COVERAGE = tuple(
    [Coverage(n, worn, scatter, 0.95) for n in (3, 4, 6) for worn in (2, 4, 8) for scatter in (0.5, 1)]
    + [Coverage(n, worn, 2, 0.88) for n in (3, 4, 6) for worn in (4, 8)]
)


def _table() -> str:
    lines = ["| readings | wear seen | scatter | promised | simulated |", "|---|---|---|---|---|"]
    lines += [
        f"| {c.readings} | {c.worn:g} U | {c.scatter:g} x U/2 | {c.promised:.0%} | {c.simulated():.0%} |"
        for c in COVERAGE
    ]
    return "\n".join(lines)


def says() -> str:
    """What the page says before the rows, with the simulated coverage."""
    return f"""How often the range that is printed holds the true hours, of {TRIALS} parts that wear evenly and are
read over {HOURS_SEEN:g} h, with the limit at {HOURS_TO_LIMIT:g} h (seeded; only the ranges that are printed count).
"Nine times in ten" is kept where the readings scatter as the gauge does, and nearly where they scatter twice as far.
Where the wear seen is less than the gauge's uncertainty, mostly no range is printed, and the few that are hold less
often.

{_table()}
"""


def rows() -> list[Published]:
    points = [Point(0, 0.050), Point(4, 0.057), Point(9, 0.066), Point(15, 0.082)]
    four, three = (forecast(points[:n], 0.10, uncertainty=0.002) for n in (4, 3))
    way = "root of SciPy's own prediction interval, the gauge's U added in square"
    return [
        Published(f"hours left from {name}: {end}", float(value or math.nan), shown, "h", way, "calc")
        for name, found, figures in (("four readings", four, FOUR), ("three readings", three, THREE))
        for end, value, shown in zip(
            ("at the rate", "at least", "at most"), (found.left, found.left_low, found.left_high), figures, strict=True
        )
    ]
