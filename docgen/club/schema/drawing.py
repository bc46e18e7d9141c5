"""What somebody brings along to be seen: a step's own drawing, the club's logo, and a colour behind engine numbers.

No page's layout: sheets stay as legible as they are without.
"""

import re
from typing import Annotated, Any

from pydantic import BeforeValidator

from docgen.club.schema.base import Strict, Text, fault
from docgen.club.schema.editors import Reads
from docgen.club.svg import SvgFault, clean_svg
from docgen.trade.contrast import contrast, grey


def _svg(value: Any) -> Any:
    if not isinstance(value, str):
        raise fault("not-text", "text is needed here: that of an .svg file", "write svg: | and the text below it")
    try:
        return clean_svg(value)
    except SvgFault as error:
        raise fault(error.name, error.message, error.hint) from None


Svg = Annotated[str, BeforeValidator(_svg)]


class OwnDrawing(Strict):
    """``title`` says in words what the drawing shows; it stands beside it, and is read aloud in its place."""

    title: Text
    svg: Svg


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
