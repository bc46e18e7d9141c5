"""What filing has to say of a sheet: why it is refused, what must be confirmed, what is only mentioned."""

from dataclasses import dataclass
from typing import Literal

Weight = Literal["refused", "doubt", "note"]


@dataclass(frozen=True)
class Said:
    """One thing said of a sheet. ``field`` names the field that it is about, empty where it is about the whole.

    refused : nothing is filed until it is put right
    doubt   : filed only when somebody says that it is as it stands
    note    : filed, and said
    """

    weight: Weight
    name: str
    message: str
    hint: str = ""
    field: str = ""

    def __str__(self) -> str:
        return f"{self.name}: {self.message}" + (f"\n  to mend: {self.hint}" if self.hint else "")


class Refused(Exception):
    """Nothing can be read from a file or a box; ``said`` tells why and what to do."""

    def __init__(self, name: str, message: str, hint: str = "", field: str = "") -> None:
        super().__init__(message)
        self.said = Said("refused", name, message, hint, field)

    def __str__(self) -> str:
        return str(self.said)
