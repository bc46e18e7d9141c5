"""A page that shows every drawing and symbol there is, for whoever draws the next one and for a look after a change."""

from __future__ import annotations

from docgen.sheets.drawings.gauging import PICTURES, gauging_picture
from docgen.sheets.drawings.orientation import orientation_picture
from docgen.sheets.drawings.pattern import pattern_picture
from docgen.sheets.drawings.stack import Stacked, stack_picture
from docgen.sheets.drawings.symbols import SYMBOLS, alert, symbol
from docgen.sheets.jinja import fill
from docgen.sheets.page import Page
from docgen.sheets.signals import SIGNALS

FACES = {
    "washer": ("chamfered face", "flat face"),
    "dished-washer": ("hollow side", "domed side"),
    "bearing": ("marked face", "unmarked face"),
    "drum": ("open side", "closed side"),
    "gear": ("shoulder", "flat side"),
    "sprocket": ("shoulder", "flat side"),
    "nut": ("flange", "flat side"),
    "seal": ("lip", "closed side"),
    "circlip": ("sharp edge", "rounded edge"),
    "sleeve": ("chamfered end", "plain end"),
    "o-ring": ("any side",),
    "piston": ("arrow on the crown",),
    "ring": ("marked side", "unmarked side"),
    "gasket": ("bead", "flat side"),
    "diaphragm": ("long end of the rivet", "short end"),
    "reed": ("free side",),
    "cover": ("open side", "closed side"),
    "chain-clip": ("closed end", "open end"),
    "lever": ("marked edge",),
    "block": ("marked edge",),
    "pin": ("rubber tip", "flat end"),
    "gap": ("open end",),
}
"""Every kind of shape with the faces that its drawing tells apart."""
PATTERNS = (("circle", 4), ("circle", 5), ("circle", 8), ("rectangle", 4), ("rectangle", 6), ("row", 3))
PLACES = {
    "bore": tuple(f"{height} {way}" for height in ("top", "middle", "bottom") for way in ("along", "across")),
    "drum": ("along", "across"),
    "squish": ("left", "right"),
    "run-out": ("left", "right"),
}
_SIZES = {"outer": "30 mm", "inner": "15 mm", "thick": "1.5 mm", "chamfer": "1 mm"}

STACK = (
    Stacked("chamfered face", True, _SIZES | {"kind": "washer"}),
    Stacked("", None, _SIZES | {"kind": "o-ring", "outer": "18 mm"}),
    Stacked("marked face", False, _SIZES | {"kind": "bearing"}),
    Stacked("shoulder", False, _SIZES | {"kind": "sprocket", "outer": "50 mm"}),
    Stacked("", None, _SIZES | {"kind": "nut", "outer": "24 mm"}),
)


def gallery() -> Page:
    """All drawings, each under its name."""
    shown = [
        (f"{kind}: {face}", orientation_picture(kind, face, "the wall", _SIZES | {"kind": kind}))
        for kind, faces in FACES.items()
        for face in faces
    ]
    shown += [(f"{pattern} of {n}", pattern_picture(pattern, n) or "") for pattern, n in PATTERNS]
    shown += [(f"gauge: {name}", gauging_picture(name, name, "", PLACES.get(name, ())) or "") for name in PICTURES]
    wide = [("stack on a shaft", stack_picture(STACK, "washer, O-ring, bearing, sprocket, nut"))]
    small = [(name, symbol(name)) for name in SYMBOLS]
    small += [(name, alert(*colours)) for name, colours in SIGNALS.items() if name != "notice"]
    return Page(
        html=fill("gallery.html.j2", shown=shown, wide=wide, small=small),
        css=fill("gallery.css.j2"),
        title="Gallery of drawings",
        subject="Drawings",
        identifier="GALLERY",
        language="en",
    )
