"""Friction between screw, hole and seat: the range within which the coefficient lies, and the face under the head."""

from dataclasses import dataclass

from docgen.trade.errors import TradeError, check_range
from docgen.trade.materials import PropertyClass
from docgen.trade.tables import read_table
from docgen.trade.threads import Thread


@dataclass(frozen=True)
class Friction:
    """The range of the friction coefficient, alike in the thread and under the head, for one state of lubrication.

    state     : `dry`, `oiled`, `threadlocker`, `anti-seize`
    low, high : 0.04 to 0.40; the true coefficient lies anywhere between
    """

    state: str
    low: float
    high: float
    says: str
    source: str

    def __post_init__(self) -> None:
        check_range("friction coefficient", self.low, 0.04, 0.40)
        check_range("friction coefficient", self.high, self.low, 0.40)


def friction(state: str, screw: PropertyClass) -> Friction:
    """Return the friction range for a state of lubrication.

    Errors: TradeError `unknown-friction`; also for stainless screws dry or with threadlocker, for which the guideline
    gives no upper value, because they gall. Source: the guide values of VDI 2230-1, each row with its own.

    >>> from docgen.trade.materials import property_class
    >>> friction("oiled", property_class("8.8")).low, friction("oiled", property_class("A2-70")).low
    (0.08, 0.2)
    """
    kind = "stainless" if screw.kind == "stainless" else "steel"
    known = [row for row in read_table("friction") if row["screw"] == kind]
    for row in known:
        if row["state"] == state:
            return Friction(state, float(row["low"]), float(row["high"]), row["says"], row["source"])
    states = ", ".join(row["state"] for row in known)
    raise TradeError("unknown-friction", f'no friction is known for a {kind} screw "{state}"', f"known: {states}")


@dataclass(frozen=True)
class Seat:
    """The ring under a head or nut: outside diameter of the bearing face and diameter of the hole, mm.

    Its mean diameter is Dkm = (dw + dh) / 2.

    >>> Seat(8.88, 6.6).mean_mm
    7.74
    """

    face_mm: float
    hole_mm: float
    says: str = "given"
    source: str = "given"

    def __post_init__(self) -> None:
        check_range("hole under the head", self.hole_mm, 1.5, 40, "mm")
        check_range("bearing face under the head", self.face_mm, self.hole_mm, 80, "mm")

    @property
    def mean_mm(self) -> float:
        """Dkm, at which the friction under the head is taken to act."""
        return (self.face_mm + self.hole_mm) / 2


def seat(thread: Thread, head: str = "hex") -> Seat:
    """Return the seat of a standard head: `hex` or `cap`, on a hole of the medium series.

    Errors: TradeError `unknown-head`, also for a diameter without standard head.
    Source: ISO 4014 and nuts, ISO 4762; ISO 273 for the hole.

    >>> from docgen.trade.threads import thread
    >>> seat(thread("M8"), "hex").face_mm
    11.63
    """
    row = _head_row(thread)
    names = {"hex": "hexagon head or nut", "cap": "socket cap head"}
    if head not in names or not row[f"{head}_face_mm"]:
        raise TradeError("unknown-head", f'"{head}" is not a known head', "known: hex, cap; or give face and hole")
    return Seat(float(row[f"{head}_face_mm"]), float(row["hole_mm"]), f"{names[head]}, {thread}", row["source"])


def _head_row(thread: Thread) -> dict[str, str]:
    for row in read_table("heads"):
        if float(row["d_mm"]) == thread.d_mm:
            return row
    raise TradeError("unknown-head", f"no standard head is known for {thread}", "give bearing face and hole")
