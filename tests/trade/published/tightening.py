"""Preload and torque, wrench extensions."""

from __future__ import annotations

from docgen.trade.friction import seat
from docgen.trade.materials import property_class
from docgen.trade.threads import thread
from docgen.trade.tightening import screw_preload_n, torque_nm
from docgen.trade.wrench import Extension
from tests.trade.published import Published

TITLE = "Tightening"

# thread, friction, preload kN and torque N.m of classes 8.8/10.9/12.9
FINE = """
M8x1 0.10 20.7/30.4/35.6 22.8/33.5/39.2
M8x1 0.12 20.2/29.7/34.7 26.1/38.3/44.9
M8x1 0.14 19.7/28.9/33.9 29.2/42.8/50.1
M10x1.25 0.10 32.4/47.5/55.6 44/65/76
M10x1.25 0.12 31.6/46.4/54.3 51/75/87
M10x1.25 0.14 30.8/45.2/52.9 57/83/98
M12x1.25 0.12 48.0/70.5/82.5 90/133/155
M16x1.5 0.12 87.6/128.7/150.6 218/320/374
"""
COARSE = """
M6 0.12 10.2 10.1
M6 0.14 9.9 11.3
M8 0.12 18.6 24.6
M8 0.14 18.1 27.3
M10 0.12 29.6 48.5
"""
# thread, class, friction, preload kN, torque N.m
STAINLESS = """
M6 A2-50 0.1 3.4 2.9
M6 A2-70 0.1 7.3 6.3
M6 A2-70 0.2 6.4 10
M6 A2-80 0.1 9.7 8.4
M8 A2-70 0.1 13.4 15.2
M8 A2-70 0.2 11.6 24.1
M10 A2-70 0.1 21.3 30
M10 A2-70 0.2 18.5 47.7
"""
CUT_OFF = "the source seems to cut this figure off: ours is never below it"


def rows() -> list[Published]:
    return [*_fine(), *_coarse(), *_stainless(), *_extensions()]


def _pair(name: str, kind: str, mu: str, force: str, torque: str, source: str, standing: str) -> list[Published]:
    of = thread(name)
    ours = screw_preload_n(of, property_class(kind), float(mu))
    found = []
    for what, value, shown, unit in (
        ("preload", ours / 1000, force, "kN"),
        ("torque", torque_nm(of, seat(of, "hex"), float(mu), ours), torque, "N.m"),
    ):
        row = Published(f"{name} {kind} friction {mu} {what}", value, shown, unit, source, standing)
        found.append(row.or_one_step(CUT_OFF))
    return found


def _fine() -> list[Published]:
    found = []
    for line in FINE.split("\n")[1:-1]:
        name, mu, forces, torques = line.split()
        for kind, force, torque in zip(("8.8", "10.9", "12.9"), forces.split("/"), torques.split("/"), strict=True):
            found += _pair(name, kind, mu, force, torque, "VDI 2230:2001 table", "copy")
    return found


def _coarse() -> list[Published]:
    found = []
    for line in COARSE.split("\n")[1:-1]:
        name, mu, force, torque = line.split()
        found += _pair(name, "8.8", mu, force, torque, "VDI 2230 coarse table", "calc")
    return found


def _stainless() -> list[Published]:
    found = []
    for line in STAINLESS.split("\n")[1:-1]:
        name, kind, mu, force, torque = line.split()
        found += _pair(name, kind, mu, force, torque, "fastener supplier's table, 90 % of yield", "copy")
    return found


def _extensions() -> list[Published]:
    source = "US Army TM 9-254"
    inch = 25.4
    straight, crow = Extension(12 * inch, 6 * inch), Extension(400, 50)
    turned = Extension(12 * inch, 6 * inch, 90)
    return [
        Published("30 lbf.ft, wrench 12 in, extension 6 in", 30 * straight.factor, "20", "lbf.ft", source, "copy"),
        Published("80 N.m, wrench 40 cm, extension 5 cm", 80 * crow.factor, "71.1", "N.m", source, "copy"),
        Published("30 lbf.ft, extension at 90 degrees", 30 * turned.factor, "30", "lbf.ft", source, "copy"),
    ]
