"""What a club may make its own of the look: a colour behind engine numbers, a logo on the card; no page's layout."""

import re
from typing import Annotated, Any

from docgen.club.schema.base import Strict, fault
from docgen.club.schema.drawing import Svg
from docgen.club.schema.written import Reads
from docgen.trade.contrast import contrast, grey

LEAST_CONTRAST = 4.5
"""Of white figures on the plate, in colour and in grey (WCAG 2.2, 1.4.3)."""
_COLOUR = re.compile(r"#[0-9a-fA-F]{6}")
_SIX = 'write six hexadecimal digits in quotes, as in "#1a4d2e"'


def _plate(value: Any) -> Any:
    if not isinstance(value, str) or not _COLOUR.fullmatch(value):
        raise fault("not-a-colour", f'"{value}" is not a colour', _SIX)
    least = min(contrast(value, "#ffffff"), contrast(grey(value), "#ffffff"))
    if least < LEAST_CONTRAST:
        message = f"white figures stand out {least:.1f} to 1 on {value}; {LEAST_CONTRAST} to 1 is needed to read them"
        raise fault("pale-colour", message, "take a darker one")
    return value


Plate = Annotated[
    str, Reads(_plate, {"type": "string", "pattern": f"^{_COLOUR.pattern}$",
                        "patternErrorMessage": _SIX})
]  # fmt: skip


class Style(Strict):
    """The club's own colour and logo; its sheets stay as legible as they are without."""

    plate: Plate = "#000000"
    logo: Svg | None = None
