"""The order in which several screws are tightened, where each stands, and the stages of torque."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from docgen.trade.errors import TradeError
from docgen.trade.quantity import Band


@dataclass(frozen=True)
class Screw:
    """One screw of a pattern.

    member : its number as the part is drawn, from 1
    turn   : when it is tightened, from 1
    x, y   : where it stands, -1 to 1, x to the right and y upwards, for the drawing
    """

    member: int
    turn: int
    x: float
    y: float


def circle(n: int) -> tuple[Screw, ...]:
    """Return n screws on a circle, numbered clockwise from the top, tightened across.

    Each screw, then the ones that share the circle evenly with it: the one opposite for an even number, the two at a
    third for a multiple of three, a star for 5, 7, 11 ...
    n : 1 to 48
    Errors: TradeError `out-of-range`. Sources: 4, 8, 12 and 16 are the cross pattern of ASME PCC-1
    (from memory); other numbers are common practice.

    >>> [place.member for place in in_turn(circle(8))]
    [1, 5, 3, 7, 2, 6, 4, 8]
    >>> [place.member for place in in_turn(circle(5))]
    [1, 3, 5, 2, 4]
    """
    order = _across(_checked(n, 48, "screws on a circle"))
    spots = [(math.sin(2 * math.pi * k / n), math.cos(2 * math.pi * k / n)) for k in range(n)]
    return _places(spots, [member - 1 for member in order])


def row(n: int) -> tuple[Screw, ...]:
    """Return n screws in a row, numbered from the left, tightened from the middle outwards by turns.

    n : 1 to 48
    Errors: TradeError `out-of-range`. Source: none, common practice.

    >>> [place.member for place in in_turn(row(5))]
    [3, 2, 4, 1, 5]
    """
    _checked(n, 48, "screws in a row")
    spots = [(_spread(k, n), 0.0) for k in range(n)]
    return _places(spots, _outwards(spots))


def rectangle(columns: int, rows: int, *, frame: bool = False) -> tuple[Screw, ...]:
    """Return screws on a rectangle, numbered line by line from the upper left, tightened from the middle outwards.

    Of several that stand equally far out, the one farthest from the last comes next, so that it goes across.
    columns, rows : 2 to 12 each
    frame         : only the outline has screws (a cover)
    Errors: TradeError `out-of-range`. Source: none, common practice.

    >>> [place.member for place in in_turn(rectangle(2, 2))]
    [1, 4, 2, 3]
    >>> [place.member for place in in_turn(rectangle(3, 2))]
    [2, 5, 1, 6, 3, 4]
    """
    for count, what in ((columns, "columns"), (rows, "rows")):
        if not 2 <= count <= 12:
            raise TradeError("out-of-range", f"{what} of screws are {count}; there must be 2 to 12")
    spots = [
        (_spread(i, columns), -_spread(j, rows))
        for j in range(rows)
        for i in range(columns)
        if not frame or i in (0, columns - 1) or j in (0, rows - 1)
    ]
    return _places(spots, _outwards(spots))


def in_turn(places: Sequence[Screw]) -> tuple[Screw, ...]:
    """Return the places in the order of tightening.

    Errors: none. Source: that of the pattern.

    >>> [place.turn for place in in_turn(row(3))]
    [1, 2, 3]
    """
    return tuple(sorted(places, key=lambda place: place.turn))


@dataclass(frozen=True)
class Stage:
    """One round over all screws: what to tighten to (None: by hand until seated), and how to go round."""

    torque: Decimal | None
    unit: str
    says: str


def stages(torque: Band, step: Decimal, shares: Sequence[Decimal] = (Decimal("0.5"),)) -> tuple[Stage, ...]:
    """Return the rounds: by hand, each share of the torque in the order, the full torque, and once more round.

    step   : above 0, in the torque's unit
    shares : each over 0 and under 1, rising; the torque is rounded down to `step`
    Errors: TradeError `out-of-range`, `open-torque` when the band has no nominal figure.
    Source: common practice; ASME PCC-1 goes in like stages (from memory).

    >>> from docgen.trade.quantity import parse_band
    >>> [stage.torque for stage in stages(parse_band("10 N.m +/- 1 N.m"), Decimal("0.5"))]
    [None, Decimal('5.0'), Decimal('10'), Decimal('10')]
    """
    if torque.nominal is None:
        raise TradeError("open-torque", f'"{torque}" has no one figure to rise to', "write a figure with a tolerance")
    if step <= 0 or any(not 0 < share < 1 for share in shares) or list(shares) != sorted(set(shares)):
        raise TradeError("out-of-range", "the shares of the torque must rise between 0 and 1, and the step be positive")
    rises = [math.floor(Fraction(torque.nominal * share) / Fraction(step)) * step for share in shares]
    return (
        Stage(None, torque.unit, "in order, by hand until each head is seated"),
        *(Stage(value, torque.unit, "in order") for value in rises if value > 0),
        Stage(torque.nominal, torque.unit, "in order"),
        Stage(torque.nominal, torque.unit, "once more, one after the other, until none moves"),
    )


def _across(n: int) -> list[int]:
    parts = next((p for p in range(2, n + 1) if n % p == 0), 1)
    group = [k * (parts // 2) % parts for k in range(parts)] if parts > 3 else list(range(parts))
    step = n // parts
    return [first + part * step for first in (_across(step) if step > 1 else [1]) for part in group]


def _outwards(spots: Sequence[tuple[float, float]]) -> list[int]:
    left = list(range(len(spots)))
    order: list[int] = []
    while left:
        inner = min(round(math.hypot(*spots[k]), 6) for k in left)
        ring = [k for k in left if round(math.hypot(*spots[k]), 6) == inner]
        while ring:
            last = spots[order[-1]] if order else (-1.0, 1.0)
            far = max(ring, key=lambda k: round(math.dist(spots[k], last), 6) if order else -k)
            order.append(far)
            ring.remove(far)
            left.remove(far)
    return order


def _places(spots: Sequence[tuple[float, float]], order: Sequence[int]) -> tuple[Screw, ...]:
    turns = {index: turn for turn, index in enumerate(order, start=1)}
    return tuple(Screw(k + 1, turns[k], x, y) for k, (x, y) in enumerate(spots))


def _spread(k: int, n: int) -> float:
    return 0.0 if n == 1 else 2 * k / (n - 1) - 1


def _checked(n: int, top: int, what: str) -> int:
    if not 1 <= n <= top:
        raise TradeError("out-of-range", f"{what} are {n}; there must be 1 to {top}")
    return n
