"""A size is none that such a thing has: metres for millimetres, a digit too many, a hole wider than its part."""

from collections.abc import Iterator
from fractions import Fraction

from docgen.club.yamldoc import Loc
from docgen.proof.case import Findings, Typed
from docgen.trade.errors import TradeError
from docgen.trade.quantity import Quantity, QuantityError
from docgen.trade.threads import thread

LONGEST, SHORTEST = Fraction(1500), Fraction(1, 20)
"""Largest and smallest size of a part, mm (common practice, no source)."""
DEEPEST = 4
"""Most diameters that a screw is engaged (common practice, no source)."""
MOST = {"gap": (Fraction(5), "mm"), "axial": (Fraction(5), "mm"), "radial": (Fraction(5), "mm"),
        "pressure": (Fraction(60), "bar")}  # fmt: skip
"""The most of each kind of limit (common practice, no source)."""
FILLED = (Fraction(5), Fraction(20_000))
"""Least and most of a fluid, ml (common practice, no source)."""


def on_model(typed: Typed) -> Findings:
    """One finding at the size."""
    for loc, what in (*_shapes(typed), *_engaged(typed), *_limits(typed), *_fluids(typed)):
        yield typed.finding(loc, what, "check the figure and its unit; if it is true, "
                            "write  silences: {size-unlike-trade: why}")  # fmt: skip


def _shapes(typed: Typed) -> Iterator[tuple[Loc, str]]:
    model = typed.model.value
    for group, items in (("parts", model.parts), ("fasteners", model.fasteners)):
        for name, item in items.items():
            sizes = {k: v for k, v in (item.shape or item).__dict__.items() if isinstance(v, Quantity) and k != "life"}
            for key, size in sizes.items() if item.shape else ():
                if size.value and not SHORTEST <= size.exactly("mm") <= LONGEST:
                    yield (group, name, "shape", key), f"{name}: {key} {size} is none that a part of an engine has"
            if item.shape and item.shape.outer and item.shape.inner and item.shape.inner >= item.shape.outer:
                yield (group, name, "shape", "inner"), f"{name}: its hole of {item.shape.inner} is wider than itself"


def _engaged(typed: Typed) -> Iterator[tuple[Loc, str]]:
    for name, one in typed.model.value.fasteners.items():
        if one.boss and one.boss.engaged and one.thread:
            try:
                diameter = Fraction(str(thread(one.thread.removesuffix(" left")).d_mm))
            except TradeError:
                continue
            if one.boss.engaged.exactly("mm") > DEEPEST * diameter:
                yield (("fasteners", name, "boss", "engaged"),
                       f"{name}: {one.boss.engaged} of {one.thread} is more than {DEEPEST} diameters")  # fmt: skip


def _limits(typed: Typed) -> Iterator[tuple[Loc, str]]:
    for name, limit in typed.model.value.limits.items():
        most, unit = MOST.get(limit.kind or "", (None, ""))
        for key in ("new", "allow"):
            band = getattr(limit, key)
            ends = [Quantity(end, band.unit) for end in (band.low, band.high) if end is not None] if band else []
            try:
                if most is not None and any(end.exactly(unit) > most for end in ends):
                    yield ("limits", name, key), f"{name}: {band} is no {limit.kind} that an engine has"
                    break
            except QuantityError:
                yield ("limits", name, key), f"{name}: {band} is no {limit.kind}, which is in {unit}"
                break


def _fluids(typed: Typed) -> Iterator[tuple[Loc, str]]:
    for name, fluid in typed.model.value.fluids.items():
        band = fluid.amount
        ends = [Quantity(end, band.unit) for end in (band.low, band.high) if end is not None] if band else []
        try:
            if any(not FILLED[0] <= end.exactly("ml") <= FILLED[1] for end in ends):
                yield ("fluids", name, "amount"), f"{name}: {band} is none that such an engine holds"
        except QuantityError:
            yield ("fluids", name, "amount"), f"{name}: {band} is no volume"
