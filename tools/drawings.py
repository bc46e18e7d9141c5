"""A page that shows every drawing and symbol there is, for whoever draws the next one and for a look after a change."""

from __future__ import annotations

from html import escape

from docgen.club.words import Words
from docgen.sheets.drawings.art import pictures
from docgen.sheets.drawings.comparison import drop_picture, grease_picture
from docgen.sheets.drawings.gauging import gauging_picture
from docgen.sheets.drawings.layers import Part, layers_picture
from docgen.sheets.drawings.orientation import orientation_picture
from docgen.sheets.drawings.panels import sight_picture
from docgen.sheets.drawings.pattern import pattern_picture
from docgen.sheets.drawings.stack import stack_picture, stacked
from docgen.sheets.page import Page
from docgen.sheets.signals import SIGNALS, alert, hazards, symbol
from docgen.trade.quantity import parse_quantity

FACES = {
    "washer": ("chamfered face", "flat face"),
    "dished-washer": ("hollow side", "domed side"),
    "bearing": ("marked face", "unmarked face"),
    "needle-bearing": ("marked face", "unmarked face"),
    "drum": ("open side", "closed side"),
    "gear": ("shoulder", "flat side"),
    "sprocket": ("shoulder", "flat side"),
    "nut": ("flange", "flat side"),
    "seal": ("lip", "closed side"),
    "circlip": ("sharp edge", "rounded edge"),
    "sleeve": ("chamfered end", "plain end"),
    "o-ring": ("any side",),
    "piston": ("arrow on the crown",),
    "ring": ("marked side",),
    "gasket": ("bead", "flat side"),
    "diaphragm": ("long end of the rivet", "short end"),
    "reed": ("free side",),
    "strainer": ("raised rim", "flat mesh"),
    "cover": ("open side", "closed side"),
    "chain-clip": ("closed end", "open end"),
    "lever": ("marked edge",),
    "block": ("marked edge",),
    "pin": ("rubber tip", "flat end"),
}
"""Every kind of shape with the faces that its drawing tells apart."""
TOWARDS = (
    ("ring, marked side", "marked side", "the crown", "ring"),
    ("ring, unmarked side", "unmarked side", "the crown", "ring"),
    ("tab", "tab", "the top", "gasket"),
    ("arrow", "arrow", "the carburettor", "block"),
    ("arrow upwards", "arrow", "the top", "block"),
    ("edge upwards", "marked edge", "the top", "block"),
    ("punch marks", "punch mark", "the punch mark of the crank gear", "gear"),
)
"""What is drawn from where a face looks: name, face, towards, kind."""
CIRCLIP = {"kind": "circlip", "outer": "15 mm"}
PATTERNS: tuple[tuple[str, int, dict[str, str], str], ...] = (
    ("circle", 4, {"outer": "50 mm"}, "hexalobular 20"),
    ("circle", 5, {"length": "150 mm", "width": "110 mm"}, "hex-socket 4 mm"),
    ("circle", 6, {"length": "120 mm", "width": "120 mm"}, "hex 12 mm"),
    ("circle", 8, {"outer": "200 mm", "inner": "72 mm"}, "hex 10 mm"),
    ("rectangle", 4, {"length": "140 mm", "width": "120 mm"}, "hex 12 mm"),
    ("rectangle", 6, {}, ""),
    ("row", 3, {}, ""),
)
"""Pattern, count, the part's outline, drive."""
PLACES = {
    "bore": tuple(f"{height} {way}" for height in ("top", "middle", "bottom") for way in ("along", "across")),
    "drum": ("along", "across"),
    "squish": ("left", "right"),
    "run-out": ("left", "right"),
}
_SIZES = {"outer": "30 mm", "inner": "14 mm", "thick": "1.5 mm", "chamfer": "1 mm"}
CLEARED = _SIZES | {"kind": "washer", "radius": "0.8 mm", "shoulder": "16 mm", "journal": "14 mm"}
"""A washer whose chamfer clears the radius of its shaft."""
NEEDLES = {"kind": "needle-bearing", "outer": "18 mm", "inner": "14 mm", "length": "17 mm"}
STACK = (
    stacked("chamfered face", True, _SIZES | {"kind": "washer"}),
    stacked("", None, {"kind": "o-ring", "outer": "17 mm", "inner": "13 mm", "thick": "2 mm"}),
    stacked("", None, NEEDLES),
    stacked("", None, {"kind": "drum", "outer": "80 mm", "inner": "74 mm", "length": "30 mm"}),
    stacked("", None, {"kind": "washer", "outer": "28 mm", "inner": "10 mm", "thick": "2 mm"}),
    stacked("", None, {"kind": "nut", "outer": "17 mm", "inner": "10 mm", "thick": "8 mm"}),
)
AROUND = (
    stacked("", None, {"kind": "shaft", "outer": "16 mm", "inner": "14 mm", "radius": "0.8 mm"}),
    stacked("", None, {"kind": "hub", "outer": "73 mm", "inner": "18 mm", "length": "28 mm"}),
    stacked("", None, {"kind": "nut", "outer": "24 mm", "inner": "16 mm", "thick": "8 mm"}),
    stacked("", None, {"kind": "sprocket", "outer": "29 mm", "inner": "18 mm", "thick": "5 mm"}),
)
"""What is there already, or rides along."""
_PLATE, _ROUND = {"length": "50 mm", "width": "44 mm"}, {"outer": "50 mm"}
PUMP_SIDE = (
    Part(_PLATE | {"kind": "diaphragm"}),
    Part(_PLATE | {"kind": "gasket"}),
    Part(_PLATE | {"kind": "cover"}),
    Part({"kind": "strainer", "outer": "18 mm"}, "outwards"),
    Part({"kind": "gasket", "outer": "24 mm", "inner": "18 mm"}),
    Part({"kind": "cover", "outer": "26 mm"}),
)
METERING_SIDE = (
    Part(_ROUND | {"kind": "gasket", "inner": "40 mm"}),
    Part(_ROUND | {"kind": "diaphragm"}, "inwards"),
    Part(_ROUND | {"kind": "cover"}),
)
"""Each from the body outwards: the diaphragm first on one side, the gasket first on the other."""
MARKED = {"pressure-rig": {"ceiling": "1.2 bar"}}

Family = tuple[str, list[tuple[str, str]]]


CSS = """
@page { size: A4; margin: 12mm }
html { font: 9pt/1.25 Body }
body { margin: 0 }
h1 { font-size: 17pt; margin: 0 0 3mm } h2 { font-size: 12pt; margin: 0 0 2mm; break-after: avoid }
section + section { break-before: page }
.one { display: inline-block; margin: 0 3mm 3mm 0; vertical-align: top; break-inside: avoid }
.one > svg { display: block }
.one.sign { width: 30mm; height: 22mm; margin: 0 }
.sign svg { width: 15mm; height: 15mm; display: block; background: #ccc }
"""


def gallery() -> Page:
    """All drawings, each under its name, a page or more for each family."""
    w = Words()
    families = [*_facing(w), *_order(), *_gauged(w), *_seen(w)]
    body = "".join(_section(heading, shown, "one") for heading, shown in families)
    html = (
        '<!DOCTYPE html>\n<html lang="en">\n<head><meta charset="utf-8"><title>Gallery of drawings</title></head>\n'
        f"<body>\n<h1>Drawings</h1>\n{body}{_section('Symbols', _symbols(), 'one sign')}</body>\n</html>"
    )
    return Page(html, CSS, "Gallery of drawings", "Drawings", "GALLERY", "en")


def _section(heading: str, shown: list[tuple[str, str]], kind: str) -> str:
    rows = "".join(f'<div class="{kind}"><div>{escape(name)}</div>{svg}</div>' for name, svg in shown)
    return f"<section>\n<h2>{heading}</h2>\n{rows}\n</section>\n"


def _facing(w: Words) -> list[Family]:
    shown = [
        (f"{kind}: {face}", orientation_picture(kind, face, "the wall", _SIZES | {"kind": kind}))
        for kind, faces in FACES.items()
        for face in faces
    ]
    shown += [
        (name, orientation_picture(name, face, towards, {"kind": kind}, words=w))
        for name, face, towards, kind in TOWARDS
    ]
    wrong = [
        ("chamfer", orientation_picture("washer", "chamfered face", "the hub", CLEARED, words=w)),
        ("circlip", orientation_picture("circlip", "open end", "crown or skirt", CIRCLIP, words=w)),
    ]
    return [("Which way round", shown), ("Right and wrong", wrong)]


def _order() -> list[Family]:
    heads = [
        (f"{pattern} of {n}", pattern_picture(pattern, n, outline, drive) or "")
        for pattern, n, outline, drive in PATTERNS
    ]
    shown = [("one shaft", stack_picture(STACK, "stack", around=AROUND))]
    shown += [("pump side", layers_picture(PUMP_SIDE, "pump side"))]
    shown += [("metering side", layers_picture(METERING_SIDE, "metering side"))]
    return [("On one shaft, on one body", shown), ("Order of tightening", heads)]


def _gauged(w: Words) -> list[Family]:
    def drawn(name: str, **marks: str) -> str:
        return gauging_picture(name, name, "", PLACES.get(name, ()), words=w, **marks) or ""

    gauged = pictures("gauged").items()
    plain = [(name, drawn(name)) for name, art in gauged if not art.size]
    worded = [(name, drawn(name, **MARKED.get(name, {}))) for name, art in gauged if art.size]
    worded.append(("pressure-rig", drawn("pressure-rig", leak="0.30 bar")))
    return [("Where a reading is taken", plain), ("Where a reading is taken, with words", worded)]


def _seen(w: Words) -> list[Family]:
    amounts = [("drop, life size", drop_picture(parse_quantity("0.05 ml"), "drop", w) or "")]
    amounts += [("grease", grease_picture(NEEDLES, "grease", w) or "")]
    seen = [(name, sight_picture(name, name, w)) for name in pictures("sights")]
    return [("What damage looks like", seen), ("How much", amounts)]


def _symbols() -> list[tuple[str, str]]:
    small = [(name, symbol(name, name)) for name in (*hazards(), "arrow")]
    return small + [(name, alert(*colours)) for name, colours in SIGNALS.items() if name != "notice"]
