"""What a form field looks like: the drawing operators of its appearance stream (ISO 32000-1, 12.7.3.3)."""

from __future__ import annotations

import io
from typing import Any

import pydyf
from fontTools.ttLib import TTFont

from docgen.press.errors import NO_FACE, PressError

INSET = 2.0  # points left free on each side, as viewers do
LEADING = 1.25
MM = 25.4 / 72


class FieldFont:
    """Glyph numbers and widths of the face that a field is set in."""

    def __init__(self, font: Any) -> None:
        with TTFont(io.BytesIO(font.file_content), lazy=True) as face:
            scale = 1 / face["head"].unitsPerEm
            self._glyphs = {chr(code): face.getGlyphID(name) for code, name in face.getBestCmap().items()}
            self._widths = {face.getGlyphID(name): data[0] * scale for name, data in face["hmtx"].metrics.items()}
            self.ascent = face["hhea"].ascent * scale
            self.cap_height = face["OS/2"].sCapHeight * scale

    def glyphs(self, text: str) -> list[int]:
        """Glyph numbers of a text. Raises PressError when one is missing."""
        missing = sorted(set(text) - self._glyphs.keys())
        if missing:
            shown = ", ".join(f'"{char}" (U+{ord(char):04X})' for char in missing)
            raise PressError(f"{NO_FACE} of the boxes has {shown}: change it in the file that says it")
        return [self._glyphs[char] for char in text]

    def width(self, text: str) -> float:
        """Width of a text at a size of one."""
        return float(sum(self._widths[glyph] for glyph in self.glyphs(text)))


def tick(width: float, height: float) -> bytes:
    """A tick that fills the middle of its box, stroked so that it stays clear at any size."""
    side = min(width, height)
    left, bottom = (width - side) / 2, (height - side) / 2
    points = [(left + x * side, bottom + y * side) for x, y in ((0.2, 0.5), (0.42, 0.25), (0.8, 0.78))]
    (x1, y1), (x2, y2), (x3, y3) = points
    return (
        f"q {side * 0.11:.2f} w 1 J 1 j 0 G {x1:.2f} {y1:.2f} m {x2:.2f} {y2:.2f} l {x3:.2f} {y3:.2f} l S Q"
    ).encode()


def choice(field: pydyf.Dictionary) -> str:
    """The words shown for the chosen option of a list."""
    for value, text in field["Opt"]:
        if value.string == field["V"].string:
            return str(text.string)
    return ""


def _wrapped(text: str, font: FieldFont, size: float, room: float) -> list[str]:
    lines = []
    for paragraph in text.splitlines() or [""]:
        line = ""
        for word in paragraph.split(" "):
            longer = f"{line} {word}" if line else word
            if line and font.width(longer) * size > room:
                lines.append(line)
                line = word
            else:
                line = longer
        lines.append(line)
    return lines


def writing(
    text: str,
    key: str,
    font: FieldFont,
    size: float,
    width: float,
    height: float,
    *,
    align: int = 0,
    lines: bool = False,
) -> bytes:
    """The text of a field, on one line in the middle or on several from the top; `align` is 0, 1 or 2 for the quads.

    Raises PressError when the text does not fit: a value is never printed cut.
    """
    room = width - 2 * INSET
    rows = _wrapped(text, font, size, room) if lines else [text]
    if not text:
        return b"/Tx BMC EMC"
    top = height - INSET - font.ascent * size if lines else (height - font.cap_height * size) / 2
    lowest = top - (len(rows) - 1) * LEADING * size
    widest = max(font.width(row) * size for row in rows)
    if widest > room + 0.01 or (lines and lowest < 0):
        raise PressError(f'the value "{text}" does not fit its {width * MM:.1f} x {height * MM:.1f} mm: shorten it')
    out = [f"/Tx BMC q 0 0 {width:.2f} {height:.2f} re W n BT 0 g /{key} {size:g} Tf"]
    at_x = at_y = 0.0
    for number, row in enumerate(rows):
        x = INSET + (room - font.width(row) * size) * align / 2
        y = top - number * LEADING * size
        codes = "".join(f"{glyph:04x}" for glyph in font.glyphs(row))
        out.append(f"{x - at_x:.2f} {y - at_y:.2f} Td <{codes}> Tj")
        at_x, at_y = round(x, 2), round(y, 2)
    out.append("ET Q EMC")
    return " ".join(out).encode()
