"""Why a parcel is not taken, in one sentence, with what to do."""

from __future__ import annotations

from docgen.club.problem import visible


class Refused(Exception):
    """A parcel, or something in it, that is not taken: the fault's kebab-case name, what is wrong, what to do."""

    def __init__(self, name: str, message: str, hint: str = "") -> None:
        super().__init__(message)
        self.name, self.message, self.hint = name, visible(message), hint

    def __str__(self) -> str:
        return f"{self.name}: {self.message}" + (f"\n  hint: {self.hint}" if self.hint else "")


def shown(text: str, most: int = 80) -> str:
    """A stranger's text in quotes, short and with nothing in it that a terminal would obey."""
    return f'"{visible(text if len(text) <= most else text[:most] + "...")}"'
