"""Services of the demo club's winter that were on paper only, and typed in when the club began to keep such jobs here.

They stand behind everything else in each log, with the days on which the work was done. All were sheets of the first
revision, which asked for less than today's: what is in `ASKED` and `RENEWED`. Readings lie within the range of new
parts, or among what the gauge in hand lets accept where no such range is given; they are invented like the models' own.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterator
from datetime import date
from decimal import Decimal

from docgen.club.folder import Folder
from docgen.job import marks as m
from docgen.job.resolve import resolve
from docgen.trade.quantity import Band, Quantity

from .demo_events import Event

DAYS = {
    "004": {"bottom-end-check": "2026-11-14", "carburettor-test": "2026-12-12", "crankcase-test": "2026-11-21",
            "fuel-system": "2026-12-12", "ignition-electrics": "2026-11-21", "engine-mounting": "2027-01-16",
            "between-rounds": "2027-02-06"},
    "017": {"bottom-end-check": "2026-12-19", "carburettor-test": "2027-01-23", "crankcase-test": "2027-01-09",
            "fuel-system": "2027-01-23", "ignition-electrics": "2026-12-19", "engine-mounting": "2027-01-30",
            "exhaust-service": "2027-01-30", "between-rounds": "2027-02-14"},
    "021": {"top-end": "2026-11-28", "carburettor-test": "2027-01-16", "crankcase-test": "2026-11-28",
            "fuel-system": "2027-01-16", "ignition-electrics": "2026-12-05", "exhaust-service": "2026-12-05",
            "bottom-end-check": "2026-11-28"},
    "023": {"bottom-end-check": "2026-10-17", "carburettor-test": "2027-02-13", "crankcase-test": "2026-10-24",
            "fuel-system": "2027-01-09", "ignition-electrics": "2026-10-24", "engine-mounting": "2027-01-09",
            "exhaust-service": "2027-01-09", "between-rounds": "2027-02-06"},
    "031": {"bottom-end-check": "2026-12-05", "carburettor-test": "2027-01-16", "crankcase-test": "2026-12-05",
            "fuel-system": "2026-12-12", "ignition-electrics": "2026-12-12", "engine-mounting": "2027-01-16",
            "exhaust-service": "2026-12-05", "cooling-system": "2026-12-12"},
    "038": {"bottom-end-check": "2026-10-31", "carburettor-test": "2027-01-09", "crankcase-test": "2026-10-31",
            "fuel-system": "2026-11-07", "ignition-electrics": "2026-11-07", "engine-mounting": "2027-01-09",
            "exhaust-service": "2026-11-07", "between-rounds": "2027-01-09"},
    "042": {"bottom-end-check": "2027-01-16", "carburettor-test": "2027-01-30", "crankcase-test": "2027-01-23",
            "fuel-system": "2027-01-23", "ignition-electrics": "2027-01-23", "engine-mounting": "2027-01-30",
            "exhaust-service": "2027-01-16", "between-rounds": "2027-02-14"},
    "060": {"bottom-end-check": "2026-12-19", "carburettor-test": "2027-01-30", "crankcase-test": "2026-12-19",
            "fuel-system": "2027-01-30", "ignition-electrics": "2026-12-19", "engine-mounting": "2027-01-30",
            "exhaust-service": "2026-12-19"},
}  # fmt: skip
"""When each job was done on each engine; what is missing was not."""
SHAFT = ("big-end-side-play", "big-end-radial-play", "main-bearing-play", "crank-end-float", "crank-run-out")
TOP = ("cylinder-bore", "piston-diameter", "ring-gap", "piston-pin-diameter", "squish", "plug-reach", "plug-gap")
ASKED = {
    "bottom-end-check": (*SHAFT, *TOP),
    "top-end": TOP,
    "crankcase-test": ("crankcase-pressure", "crankcase-vacuum"),
    "ignition-electrics": ("stop-circuit", "plug-cap-resistance", "coil-resistance", "coil-air-gap", "pickup-gap",
                           "earth-resistance", "battery-rest", "ignition-timing", "battery-cranking", "coil-supply"),
    "carburettor-test": ("pop-off-reseat", "leak-hold"),
    "fuel-system": ("fuel-line-hold",),
    "engine-mounting": ("sprocket-offset", "chain-slack"),
    "between-rounds": ("chain-slack", "battery-rest"),
    "exhaust-service": (),
    "cooling-system": ("thermostat-opening", "cooling-hold"),
}  # fmt: skip
"""What the first revision of each job read, where the model has it."""
GASKETS = ("base-gasket", "head-gasket", "head-o-rings", "balance-gasket", "exhaust-gasket", "drain-washer")
RENEWED = {
    "bottom-end-check": ("pin-circlips", "spark-plug", *GASKETS),
    "top-end": ("pin-circlips", "spark-plug", *GASKETS),
    "crankcase-test": ("exhaust-gasket", "carburettor-gasket"),
    "carburettor-test": ("carburettor-gasket",),
    "fuel-system": ("fuel-filter",),
    "exhaust-service": ("exhaust-gasket",),
    "cooling-system": ("drain-washer",),
}
"""What it put on new each time."""
NOTE = "From the paper sheet of that day"


def paper_sheets(folder: Folder, number: str, by: str, second: str) -> Iterator[Event]:
    """The services of one engine, in the order of their days."""
    for job, day in sorted(DAYS.get(number, {}).items(), key=lambda entry: entry[1]):
        told = resolve(folder, folder.engines[number], folder.procedures[job], date.fromisoformat(day)).instructions
        readings: dict[str, list[str]] = {}
        renewed: dict[str, str] = {}
        seen = [mark for step in told.steps for mark in step.marks]
        for mark in seen:
            if isinstance(mark, m.ReadingMark) and mark.limit in ASKED[job]:
                places = mark.positions or ("",)
                readings[mark.limit] = [_within(folder, number, mark, f"{number} {job} {p}") for p in places]
            elif isinstance(mark, m.RenewMark) and mark.item in RENEWED.get(job, ()):
                renewed[mark.item] = str(mark.number)
        event: Event = {"event": "service", "date": day, "by": by, "procedure": job, "revision": "1"}
        if any(isinstance(mark, m.HoldMark) for mark in seen):
            event["second"] = second
        yield event | ({"readings": readings} if readings else {}) | ({"renewed": renewed} if renewed else {}) | {
            "note": NOTE
        }  # fmt: skip


def _within(folder: Folder, number: str, mark: m.ReadingMark, seed: str) -> str:
    """A reading in the middle third of the range of new parts, else of what to accept; the same for the same seed.

    Of a set of wires, the one nearest to it.
    """
    limit = folder.models[folder.engines[number].engine.model].value.limits[mark.limit]
    stated = limit.new or limit.allow
    band = limit.new or (mark.accept if isinstance(mark.accept, Band) else stated)
    assert isinstance(band, Band)
    assert isinstance(stated, Band)
    share = Decimal(hashlib.sha256(seed.encode()).digest()[0]) / 255
    if band.low is not None and band.high is not None:
        value = band.low + (band.high - band.low) * (1 + share) / 3
    elif band.high is not None:
        value = band.high * (1 + share) / 3
    else:
        assert band.low is not None
        value = band.low * (1 + (1 + share) / 80)
    gauge = folder.club.value.gauges.get(limit.gauge or "") if folder.club else None
    if gauge and gauge.wires and gauge.reads:
        value = round(value / gauge.reads.value) * gauge.reads.value
    ends = [end for end in (stated.low, stated.high) if end is not None]
    places = max(max(-int(end.as_tuple().exponent) for end in ends), 0)
    return str(Quantity(round(value, places), band.unit))
