"""Metric screw threads M2.5 to M16: sizes, limits and stress area."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from functools import cache, cached_property

from docgen.trade.errors import TradeError
from docgen.trade.tables import read_table


@dataclass(frozen=True)
class Thread:
    r"""One metric thread of ISO 261; get it from `thread`.

    Basic sizes in mm, with the height of the sharp triangle :math:`H = \sqrt{3}/2\; P`:

    .. math:: d_2 = d - \tfrac{3}{4} H, \quad D_1 = d - \tfrac{5}{4} H, \quad d_3 = d - \tfrac{17}{12} H,
              \quad A_s = \frac{\pi}{4}\left(\frac{d_2 + d_3}{2}\right)^2

    `choice` is the column of ISO 261: 1 sizes to prefer, 2 and 3 the ones between. `tapping_drill_mm` is ISO 2306's.
    Sources: ISO 68-1 (profile), ISO 724 (sizes), ISO 898-1 (stress area).

    >>> m8 = thread("M8x1.25")
    >>> round(m8.pitch_diameter_mm, 3), round(m8.internal_minor_mm, 3), round(m8.core_mm, 3)
    (7.188, 6.647, 6.466)
    >>> round(m8.stress_area_mm2, 1)
    36.6
    """

    name: str
    d_mm: float
    pitch_mm: float
    coarse: bool
    choice: int
    tapping_drill_mm: float

    @property
    def height_mm(self) -> float:
        """H, height of the sharp fundamental triangle."""
        return math.sqrt(3) / 2 * self.pitch_mm

    @property
    def pitch_diameter_mm(self) -> float:
        """d2, the same for screw and nut."""
        return self.d_mm - 0.75 * self.height_mm

    @property
    def internal_minor_mm(self) -> float:
        """D1, minor diameter of the nut or tapped hole."""
        return self.d_mm - 1.25 * self.height_mm

    @property
    def core_mm(self) -> float:
        """d3, minor diameter of the screw at the root."""
        return self.d_mm - 17 / 12 * self.height_mm

    @property
    def stress_diameter_mm(self) -> float:
        """dS, diameter of the circle whose area is the stress area."""
        return (self.pitch_diameter_mm + self.core_mm) / 2

    @property
    def stress_area_mm2(self) -> float:
        """As, the area that carries the tension."""
        return math.pi / 4 * self.stress_diameter_mm**2

    @cached_property
    def limits(self) -> ThreadLimits:
        """Limits of a 6g screw in a 6H hole (ISO 965-1), for the stripping areas."""
        return _limits(self)

    def __str__(self) -> str:
        return self.name


@dataclass(frozen=True)
class ThreadLimits:
    """Limits of size that govern stripping, mm: the thinnest 6g screw in the widest 6H hole.

    screw_major_min : Dsmin
    screw_pitch_min : Esmin
    hole_pitch_max  : Enmax
    hole_minor_max  : Knmax

    >>> thread("M6x1").limits
    ThreadLimits(screw_major_min=5.794, screw_pitch_min=5.212, hole_pitch_max=5.5, hole_minor_max=5.153)
    """

    screw_major_min: float
    screw_pitch_min: float
    hole_pitch_max: float
    hole_minor_max: float


@cache
def threads() -> dict[str, Thread]:
    """Return every known thread by its designation, M2.5 to M16.

    Errors: none. Source: ISO 261.

    >>> threads()["M6x1"].pitch_mm
    1.0
    """
    return {
        row["thread"]: Thread(
            row["thread"],
            float(row["d_mm"]),
            float(row["pitch_mm"]),
            row["series"] == "coarse",
            int(row["choice"]),
            float(row["drill_mm"]),
        )
        for row in read_table("threads")
    }


def thread(name: str) -> Thread:
    """Return the thread of a designation; `M6` alone means the coarse pitch.

    Errors: TradeError `unknown-thread`, with the pitches or the sizes that there are.
    Source: ISO 261; ISO 965-1 for the coarse pitch that is not written.

    >>> thread("M6").name
    'M6x1'
    """
    written = re.sub(r"(?<!\s)\s*[xX×*]\s*", "x", name.strip())
    if written in threads():
        return threads()[written]
    same_size = [each for each in threads().values() if each.name.split("x")[0] == written.split("x")[0]]
    if "x" not in written and same_size:
        return same_size[0]
    sizes = dict.fromkeys(each.split("x")[0] for each in threads())
    known = f"known: {', '.join(each.name for each in same_size)}" if same_size else f"known sizes: {' '.join(sizes)}"
    hint = known if re.match(r"M[0-9]", written) else f"write a metric thread as M8x1.25; {known}"
    raise TradeError("unknown-thread", f'"{name}" is not a thread of the table', hint)


def _limits(of: Thread) -> ThreadLimits:
    by_pitch = next(row for row in read_table("thread_tolerances_by_pitch") if float(row["pitch_mm"]) == of.pitch_mm)
    by_size = next(
        row
        for row in read_table("thread_tolerances_by_diameter")
        if float(row["over_d_mm"]) < of.d_mm <= float(row["to_d_mm"]) and float(row["pitch_mm"]) == of.pitch_mm
    )
    d2, d1 = round(of.pitch_diameter_mm, 3), round(of.internal_minor_mm, 3)
    es = int(by_pitch["es_g_um"])
    return ThreadLimits(
        screw_major_min=round(of.d_mm - (es + int(by_pitch["td_6_um"])) / 1000, 3),
        screw_pitch_min=round(d2 - (es + int(by_size["td2_6_um"])) / 1000, 3),
        hole_pitch_max=round(d2 + int(by_size["t_d2_internal_6_um"]) / 1000, 3),
        hole_minor_max=round(d1 + int(by_pitch["td1_6_um"]) / 1000, 3),
    )
