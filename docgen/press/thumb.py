"""A small picture of a finished PDF's first page, drawn by PDFium: for a list of sheets, not for measuring."""

from __future__ import annotations

import io

import pypdfium2
from PIL import Image

WIDTH, GREYS = 200, 16
"""Width of the picture in pixels, and how many shades of grey it has."""
LONGEST = 6
"""How many times longer than wide a page may be, or wider than long: a mat at full size is a long one."""


def first_page(pdf: bytes) -> bytes:
    """The picture as PNG. Errors: ValueError when the file is no PDF that can be drawn, or has no paper's shape."""
    try:
        document = pypdfium2.PdfDocument(pdf)
        try:
            page = document[0]
            width, height = page.get_width(), page.get_height()
            if not 0 < width <= LONGEST * height <= LONGEST * LONGEST * width:
                raise ValueError("its first page is no shape that paper has")
            scale = WIDTH / width
            drawn = page.render(scale=2 * scale, grayscale=True).to_pil()
        finally:
            document.close()
    except (pypdfium2.PdfiumError, IndexError) as error:
        raise ValueError("this is no PDF that can be drawn") from error
    small = drawn.convert("L").resize((WIDTH, max(1, round(drawn.height / 2))), Image.Resampling.LANCZOS)
    out = io.BytesIO()
    small.quantize(GREYS).save(out, "PNG", optimize=True)
    return out.getvalue()
