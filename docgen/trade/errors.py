"""The one kind of error that the trade functions raise."""

from __future__ import annotations


class TradeError(ValueError):
    """A figure that the trade's arithmetic refuses.

    name    : kebab-case, states the fault (`out-of-range`, `unknown-thread`, ...)
    message : one sentence for a mechanic: what was given and what is allowed
    hint    : what to write or do instead; may be empty
    """

    def __init__(self, name: str, message: str, hint: str = "") -> None:
        super().__init__(f"{name}: {message}" + (f" ({hint})" if hint else ""))
        self.name = name
        self.message = message
        self.hint = hint

    def __reduce__(self) -> tuple[type[TradeError], tuple[str, str, str]]:
        return (type(self), (self.name, self.message, self.hint))


def check_range(what: str, value: float, low: float, high: float, unit: str = "") -> float:
    """Return `value` when `low <= value <= high`; otherwise raise TradeError `out-of-range`.

    A value that is not a number is out of range too.

    >>> check_range("friction coefficient", 0.12, 0.04, 0.40)
    0.12
    """
    if low <= value <= high:
        return value
    space = f" {unit}" if unit else ""
    raise TradeError("out-of-range", f"{what} is {value:g}{space}; it must lie between {low:g} and {high:g}{space}")
