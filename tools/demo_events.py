"""Shorthand for the events of the demo club's logs: one call an event, as plain data.

A part number may be written with `{maker}`: the letters of the engine's model stand for it.
"""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal
from typing import Any

Event = dict[str, Any]

REVISIONS = {
    "carburettor-service": "6",
    "clutch-service": "4",
    "reed-inspection": "3",
    "spark-plug-renewal": "5",
    "sprocket-chain-inspection": "4",
    "starter-drive-service": "3",
}
ROUNDS = {
    "2026-04-12": "Round 1 - Kestrel Mere",
    "2026-05-03": "Round 2 - Slate Hollow",
    "2026-05-31": "Round 3 - Longmarsh",
    "2026-06-21": "Round 4 - Kestrel Mere",
    "2026-07-12": "Round 5 - Oxbow Park",
    "2026-08-09": "Round 6 - Slate Hollow",
    "2026-09-06": "Autumn Cup - Longmarsh",
}
CLIP = {"chain-clip": "{maker}-4072"}
"""The spring clip that every opened chain gets new."""


def run(day: str, hours: str, sessions: str = "", **more: str) -> Event:
    """Running time on one day."""
    meeting = ROUNDS.get(day, more.pop("meeting", "Practice day"))
    told = {"sessions": sessions} if sessions else {}
    return {"event": "run", "date": day, "hours": f"{hours} h", **told, "meeting": meeting, **more}


def signed(job: str, day: str, by: str, **more: Any) -> Event:
    """A signed sheet; empty entries are left out."""
    filled = {key: value for key, value in more.items() if value}
    return {"event": "service", "date": day, "by": by, "procedure": job, "revision": REVISIONS[job], **filled}


def mm(*values: str) -> list[str]:
    """Readings in millimetres."""
    return [f"{value} mm" for value in values]


def clutch(day: str, by: str, bore: Sequence[str], shoes: str, washer: str, floats: str, slack: str, earth: str = "",
           renewed: dict[str, str] | None = None, **more: Any) -> Event:  # fmt: skip
    """A clutch service: bore in two directions, diameter over the shoes, washer, end float, chain slack, earth."""
    clearance = sum(map(Decimal, bore), Decimal(0)) / len(bore) - Decimal(shoes)
    readings = {
        "outer-washer-thickness": mm(washer),
        "drum-bore": mm(*bore),
        "shoe-diameter": mm(shoes),
        "clutch-clearance": mm(f"{clearance:.2f}"),
        "drum-end-float": mm(floats),
        **({"earth-resistance": [f"{earth} ohm"]} if earth else {}),
        "chain-slack": mm(slack),
    }
    return signed("clutch-service", day, by, readings=readings, renewed={**CLIP, **(renewed or {})}, **more)


def chain(day: str, by: str, lengths: Sequence[str], slack: str, offset: str = "0.2",
          renewed: dict[str, str] | None = None, **more: Any) -> Event:  # fmt: skip
    """Chain and sprockets: length over 20 pitches at two places, slack, offset."""
    readings = {"chain-length-20": mm(*lengths), "sprocket-offset": mm(offset), "chain-slack": mm(slack)}
    return signed("sprocket-chain-inspection", day, by, readings=readings, renewed={**CLIP, **(renewed or {})}, **more)


def carburettor(day: str, by: str, low: tuple[str, str], high: tuple[str, str], pop: tuple[str, str], lever: str,
                reseat: str, held: str, spring: str, **more: Any) -> Event:  # fmt: skip
    """A carburettor service: needle turns and pop-off as found and as left, lever height, reseat, leak test."""
    kit = ("pump-diaphragm", "pump-gasket", "inlet-cover-gasket", "metering-gasket", "metering-diaphragm")
    renewed = {**dict.fromkeys(kit, "from kit {maker}-2050"), "carburettor-gasket": "{maker}-2031"}
    settings = {
        "pop-off": {"found": f"{pop[0]} bar, wet, spring {spring}", "left": f"{pop[1]} bar, wet, spring {spring}"},
        "low-speed-turns": {"found": f"{low[0]} turn", "left": f"{low[1]} turn"},
        "high-speed-turns": {"found": f"{high[0]} turn", "left": f"{high[1]} turn"},
        "lever-height": {"left": f"{lever} mm"},
    }
    readings = {"pop-off-reseat": [f"{reseat} bar"], "leak-hold": [f"{held} bar"]}
    return signed("carburettor-service", day, by, readings=readings, renewed=renewed, settings=settings, **more)


def reeds(day: str, by: str, gaps: Sequence[str], renewed: dict[str, str] | None = None, **more: Any) -> Event:
    """A reed inspection: the gap under each petal."""
    gaskets = {
        "reed-block-gasket": "{maker}-2112",
        "manifold-gasket": "{maker}-2111",
        "carburettor-gasket": "{maker}-2031",
    }
    readings = {"reed-tip-gap": mm(*gaps)}
    return signed("reed-inspection", day, by, readings=readings, renewed={**gaskets, **(renewed or {})}, **more)


def plug(day: str, by: str, number: str, gap: str, reach: str = "18.9", **more: Any) -> Event:
    """A new spark plug."""
    readings = {"plug-reach": mm(reach), "plug-gap": mm(gap)}
    return signed("spark-plug-renewal", day, by, readings=readings, renewed={"spark-plug": number}, **more)


def starter(day: str, by: str, earth: str, **more: Any) -> Event:
    """A starter drive service."""
    return signed("starter-drive-service", day, by, readings={"earth-resistance": [f"{earth} ohm"]}, **more)


def found(day: str, by: str, text: str, item: str, calls: str = "") -> Event:
    """Something seen between two jobs."""
    event = {"event": "finding", "date": day, "by": by, "finding": text, "item": item}
    return {**event, "calls": calls} if calls else event


def swapped(day: str, by: str, component: str, removed: str, fitted: str) -> Event:
    """A numbered component that came from another engine."""
    return {"event": "component", "date": day, "by": by, "component": component, "removed": removed, "fitted": fitted}


def seal(part: str, removed: str, fitted: str) -> dict[str, dict[str, str]]:
    """The seal that a job broke, and the one fitted after it."""
    return {part: {"removed": removed, "fitted": fitted}}
