"""The colour space that a PDF/A file declares its colours in: sRGB, by the profile that comes with WeasyPrint."""

from __future__ import annotations

from functools import cache
from importlib.resources import files

KEY = "sheet"


class ColourProfile:
    """What WeasyPrint needs to know of a colour profile, with the profile's own bytes."""

    name = "sRGB2014"
    components = ("r", "g", "b")

    def __init__(self) -> None:
        self.content = _profile()
        self.pdf_reference: bytes | None = None


@cache
def _profile() -> bytes:
    return files("weasyprint.pdf").joinpath("sRGB2014.icc").read_bytes()
