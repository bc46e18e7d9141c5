"""The one error of the press."""

from __future__ import annotations

from collections.abc import Iterable

NO_FACE = "no typeface"
"""How the sentence begins that names a character which cannot be drawn; a fault of another kind is one of room."""


class PressError(ValueError):
    """A page cannot be printed as asked.

    `faults` holds one sentence per fault, in reading order; `str()` gives them all, one a line.
    """

    def __init__(self, faults: str | Iterable[str]) -> None:
        self.faults: tuple[str, ...] = (faults,) if isinstance(faults, str) else tuple(faults)
        super().__init__("\n".join(self.faults))

    def __reduce__(self) -> tuple[type[PressError], tuple[tuple[str, ...]]]:
        return (type(self), (self.faults,))
