"""One figure of a model stands in a unit that none of its like has: was another unit meant?"""

from docgen.club.yamldoc import Loc
from docgen.proof.case import Findings, Typed
from docgen.trade.quantity import Band
from docgen.trade.units import find_unit

LEAST = 3
"""How many others must share another unit before one is told (our choice)."""


def on_model(typed: Typed) -> Findings:
    """One finding at the figure; torques are held against torques, limits in one dimension against each other."""
    model = typed.model.value
    places: dict[str, list[tuple[str, Loc, Band]]] = {}
    for name, fastener in model.fasteners.items():
        if fastener.torque:
            places.setdefault("torque", []).append((name, ("fasteners", name, "torque"), fastener.torque))
    for name, limit in model.limits.items():
        for key in ("new", "allow"):
            band = getattr(limit, key)
            if band and "length" in find_unit(band.unit).dimensions:
                places.setdefault("length", []).append((name, ("limits", name, key), band))
    for together in places.values():
        for name, loc, band in together:
            others = {other.unit for one, _, other in together if one != name}
            count = sum(one != name for one, _, _ in together)
            if count >= LEAST and len(others) == 1 and band.unit not in others:
                yield typed.finding(loc, f"{name} is {band}, and all of its like are in {others.pop()}",
                                    "check the unit against the maker's manual")  # fmt: skip
