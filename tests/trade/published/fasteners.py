"""Threads, strength classes, drives."""

from __future__ import annotations

from docgen.trade.friction import drive
from docgen.trade.materials import property_class
from docgen.trade.threads import thread
from tests.trade.published import Published

TITLE = "Threads, strength classes and drives"

SIZES = """
M3x0.5 2.675 2.459 2.387 5.03 copy
M4x0.7 3.545 3.242 3.141 8.78 copy
M5x0.8 4.480 4.134 4.019 14.2 copy
M6x1 5.350 4.917 4.773 20.1 copy
M8x1.25 7.188 6.647 6.466 36.6 copy
M8x1 7.350 6.917 6.773 39.17 calc
M10x1.5 9.026 8.376 8.160 58.0 copy
M10x1.25 9.188 8.647 8.466 61.20 calc
M12x1.75 10.863 10.106 9.853 84.3 copy
"""
PROOF_LOADS = """
M5 8230 11800 13800
M6 11600 16700 19500
M8 21200 30400 35500
M10 33700 48100 56300
"""
STRESSES = """
8.8 800 640 580
10.9 1040 940 830
12.9 1220 1100 970
"""
KEYS = "M3 2.5 M4 3 M5 4 M6 5 M8 6 M10 8"
FLATS = "M5 8 8 M6 10 10 M8 13 13 M10 16 17 M12 18 19"
ISO_898 = "ISO 898-1"


def rows() -> list[Published]:
    return [*_sizes(), *_stresses(), *_proof_loads(), *_drives()]


def _sizes() -> list[Published]:
    found = []
    for line in SIZES.split("\n")[1:-1]:
        name, d2, d1, d3, area, standing = line.split()
        of = thread(name)
        for what, ours, shown, unit in (
            ("pitch diameter d2", of.pitch_diameter_mm, d2, "mm"),
            ("minor diameter of hole D1", of.internal_minor_mm, d1, "mm"),
            ("core diameter d3", of.core_mm, d3, "mm"),
            ("stress area As", of.stress_area_mm2, area, "mm2"),
        ):
            source = ISO_898 if unit == "mm2" else "ISO 724"
            found.append(Published(f"{name} {what}", ours, shown, unit, source, standing))
    return found


def _stresses() -> list[Published]:
    found = []
    for line in STRESSES.split("\n")[1:-1]:
        name, tensile, yields, proof = line.split()
        of = property_class(name)
        assert of.proof_mpa is not None
        found += [
            Published(f"class {name} tensile strength", of.tensile_mpa, tensile, "MPa", ISO_898, "copy"),
            Published(f"class {name} yield stress", of.yield_mpa, yields, "MPa", ISO_898, "copy"),
            Published(f"class {name} proof stress", of.proof_mpa, proof, "MPa", ISO_898, "copy"),
        ]
    stainless = property_class("A2-70")
    return [
        *found,
        Published("class A2-70 tensile strength", stainless.tensile_mpa, "700", "MPa", "ISO 3506-1", "copy"),
        Published("class A2-70 yield stress", stainless.yield_mpa, "450", "MPa", "ISO 3506-1", "memory"),
    ]


def _proof_loads() -> list[Published]:
    reason = "the source rounds the stress area first and then, up or down, to its own step"
    found = []
    for line in PROOF_LOADS.split("\n")[1:-1]:
        name, *loads = line.split()
        for kind, shown in zip(("8.8", "10.9", "12.9"), loads, strict=True):
            ours = property_class(kind).proof_load_n(thread(name))
            step = "10" if len(shown) == 4 else "100"
            row = Published(f"{name} proof load, class {kind}", ours, shown, "N", ISO_898, "copy", rounding=step)
            found.append(row.or_one_step(reason))
    return found


def _drives() -> list[Published]:
    keys, flats = KEYS.split(), FLATS.split()
    found = [
        Published(f"{name} cap screw, key", drive(thread(name)).key_mm, size, "mm", "ISO 4762", "copy")
        for name, size in zip(keys[0::2], keys[1::2], strict=True)
    ]
    for name, new, old in zip(flats[0::3], flats[1::3], flats[2::3], strict=True):
        of = drive(thread(name))
        found.append(Published(f"{name} hexagon, across flats", of.hex_mm, new, "mm", "ISO 272", "copy"))
        if old != new:
            found.append(Published(f"{name} hexagon, old series", of.hex_old_mm, old, "mm", "ISO 272", "copy"))
    return found
