"""A limit is far from that of the same name on two or more other types: a slip of one digit."""

from decimal import Decimal

from docgen.proof.case import Findings, Typed
from docgen.trade.quantity import Band, QuantityError

LEVEL = "note"
FAR = Decimal(3)
"""How many times larger or smaller is far (our choice: engines differ, but seldom so much; a digit makes ten)."""


def on_model(typed: Typed) -> Findings:
    """One finding at the range, when it is far from every other type's."""
    for name, limit in typed.model.value.limits.items():
        for key in ("new", "allow"):
            band = getattr(limit, key)
            twins = {
                other.value.model: twin
                for other in typed.others
                if name in other.value.limits and (twin := getattr(other.value.limits[name], key))
            }
            if band and len(twins) > 1 and all(_far(band, twin) for twin in twins.values()):
                said = ", ".join(f"{twin} on {model}" for model, twin in twins.items())
                yield typed.finding(("limits", name, key), f"{name} is {band} here, but {said}",
                                    "check the figure against the maker's manual")  # fmt: skip


def _far(one: Band, other: Band) -> bool:
    """Whether the upper ends, or else the lower, are far from each other."""
    try:
        other = other.to(one.unit)
    except QuantityError:
        return True
    pairs = [(a, b) for a, b in ((one.high, other.high), (one.low, other.low)) if a and b]
    return bool(pairs) and (pairs[0][0] > FAR * pairs[0][1] or pairs[0][1] > FAR * pairs[0][0])
