"""A new part would be rejected: the range of new parts, given or derived, lies outside what is allowed."""

from fractions import Fraction

from docgen.club.schema.model import Limit, Model
from docgen.proof.case import Findings, Typed
from docgen.trade.quantity import Band, QuantityError

FAR = 9
"""How many times the most of new parts what is allowed may be (our choice; a slip of one digit makes ten and more)."""
Ends = tuple[Fraction | None, Fraction | None]


def on_model(typed: Typed) -> Findings:
    """One finding at the limit."""
    for name, limit in typed.model.value.limits.items():
        try:
            if limit.new and limit.allow and _outside(_ends(limit.new, limit.allow.unit), _ends(limit.allow)):
                message = f"{name}: new parts are {limit.new}, but only {limit.allow} is allowed"
                yield typed.finding(("limits", name, "new"), message, "one of the two is wrong: check both")
            elif limit.new and limit.allow and _far(_ends(limit.new, limit.allow.unit), _ends(limit.allow)):
                message = f"{name}: new parts are {limit.new}, and {limit.allow} is allowed, {FAR} times that or more"
                yield typed.finding(("limits", name, "allow"), message, "is a point or a unit wrong in one of the two?")
            elif limit.derived and limit.allow:
                yield from _derived(typed, name, limit, limit.allow)
        except QuantityError as error:
            yield typed.finding(("limits", name), f"{name} and what it follows from do not measure the same:"
                                f" {error.message}", key=True)  # fmt: skip


def _derived(typed: Typed, name: str, limit: Limit, allow: Band) -> Findings:
    ends = _from_new(typed.model.value, limit, allow.unit)
    if ends and _outside(ends, _ends(allow)):
        low, high = (f"{float(end):g}" if end is not None else "" for end in ends)
        yield typed.finding(
            ("limits", name, "from"), f"{name}: two new parts can give {low}..{high} {allow.unit}, but only {allow} is"
            " allowed", "one of the three limits is wrong: check them together",
        )  # fmt: skip


def _from_new(model: Model, limit: Limit, unit: str) -> Ends | None:
    derived = limit.derived
    if derived is None or derived.difference is None:
        return None
    first, second = (model.limits[n].new if n in model.limits else None for n in derived.difference)
    if first is None or second is None:
        return None
    (low, high), (other_low, other_high) = _ends(first, unit), _ends(second, unit)
    return (
        low - other_high if low is not None and other_high is not None else None,
        high - other_low if high is not None and other_low is not None else None,
    )


def _ends(band: Band, unit: str | None = None) -> Ends:
    band = band.to(unit or band.unit)
    return tuple(Fraction(end) if end is not None else None for end in (band.low, band.high))  # type: ignore[return-value]


def _far(new: Ends, allow: Ends) -> bool:
    """Whether a slip of one digit is likely: no part wears to so many times what it was."""
    return bool(new[1] and allow[1] and new[1] > 0 and allow[1] >= FAR * new[1])


def _outside(inner: Ends, outer: Ends) -> bool:
    low = inner[0] is not None and outer[0] is not None and inner[0] < outer[0]
    return low or (inner[1] is not None and outer[1] is not None and inner[1] > outer[1])
