"""The clearance of an inlet valve is larger than that of the exhaust valve: the two were exchanged."""

from fractions import Fraction

from docgen.proof.case import Findings, Typed
from docgen.trade.quantity import Band, QuantityError


def on_model(typed: Typed) -> Findings:
    """One finding at the inlet's figure. The exhaust valve is hotter and grows longer (common practice, no source)."""
    limits = typed.model.value.limits
    for name, limit in limits.items():
        twin = limits.get(name.replace("inlet", "exhaust").replace("intake", "exhaust"))
        if twin is None or twin is limit or limit.kind != "gap" or twin.kind != "gap":
            continue
        for key in ("new", "allow"):
            one, other = getattr(limit, key), getattr(twin, key)
            if one and other and _larger(one, other):
                yield typed.finding(
                    ("limits", name, key), f"{name} is {one}, and the exhaust's is only {other}",
                    "the exhaust valve grows hotter and needs more: check both against the maker's manual",
                )  # fmt: skip
                break


def _larger(one: Band, other: Band) -> bool:
    try:
        other = other.to(one.unit)
    except QuantityError:
        return False
    return _middle(one) > _middle(other)


def _middle(band: Band) -> Fraction:
    ends = [Fraction(end) for end in (band.low, band.high) if end is not None]
    return sum(ends, Fraction(0)) / len(ends)
