"""What a finished PDF says of itself, read back, and a small picture of it; nothing in it is trusted or run."""

import io
import re
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

import pikepdf

MOST = 40 * 1024 * 1024
"""The largest file that is looked into, bytes."""
MOST_JOB = 1024 * 1024
"""The largest attached job that is read, bytes."""
WIDTH, GREYS = 200, 16
"""Width of the picture in pixels, and how many shades of grey it has."""
LONGEST = 6
"""How many times longer than wide a page may be, or wider than long: a mat at full size is a long one."""


@dataclass(frozen=True)
class Described:
    """``jobs`` are the texts of the attached jobs; ``on`` is the day that it was made for, if it says one."""

    title: str
    subject: str
    keywords: tuple[str, ...]
    pages: int
    on: date | None
    jobs: tuple[str, ...]


def described(pdf: bytes) -> Described:
    """What the PDF says. Errors: ValueError when it cannot be read."""
    if len(pdf) > MOST:
        raise ValueError("it is larger than any sheet")
    try:
        with pikepdf.open(io.BytesIO(pdf), attempt_recovery=False, suppress_warnings=True) as document:
            info = document.docinfo
            words = str(info.get("/Keywords", ""))
            return Described(
                title=str(info.get("/Title", "")),
                subject=str(info.get("/Subject", "")),
                keywords=tuple(word.strip() for word in words.split(",") if word.strip()),
                pages=len(document.pages),
                on=_day(str(info.get("/CreationDate", ""))),
                jobs=tuple(_jobs(document)),
            )
    except (pikepdf.PdfError, ValueError, TypeError, KeyError, AttributeError, RecursionError, OverflowError) as error:
        raise ValueError("it is no PDF, or damaged") from error


def _jobs(document: pikepdf.Pdf) -> Iterator[str]:
    for name, file in document.attachments.items():
        if name.endswith("job.yaml") and len(data := file.get_file().read_bytes()) <= MOST_JOB:
            yield data.decode("utf-8", "replace")


def _day(text: str) -> date | None:
    match = re.match(r"D:(\d{4})(\d{2})(\d{2})", text)
    return date(int(match[1]), int(match[2]), int(match[3])) if match else None


def first_page(pdf: bytes) -> bytes:
    """A picture of the first page as PNG, drawn by PDFium: for a list of sheets, not for measuring.

    Errors: ValueError when the file is no PDF that can be drawn, or has no paper's shape.
    """
    import pypdfium2
    from PIL import Image

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
