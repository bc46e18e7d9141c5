"""Operators on models: torques, orientations, limits."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from copy import deepcopy
from decimal import Decimal
from fractions import Fraction
from typing import Any

from benchmarks.mutation.mutant import Class, Mutant
from docgen.club.folder import Folder
from docgen.club.schema.model import Model
from docgen.club.uses import applies
from docgen.job.expand import expand
from docgen.job.tooling import middle
from docgen.trade.quantity import Band

Data = dict[str, Any]
HALF = Decimal("0.5")
FACTORS = (Decimal(10), Decimal(2), HALF, Decimal("0.1"))


def model_mutants(folder: Folder, name: str) -> Iterator[Mutant]:
    """All mutants of one model: only of what some job handles, for the rest is never printed."""
    read = folder.models[name]
    used = set(_used(folder, read.value))
    data: Data = read.document.data  # type: ignore[assignment]

    def mutant(operator: str, where: str, change: Callable[[Data], None], harmful: bool, why: str,
               told: bool = True) -> Iterator[Mutant]:  # fmt: skip
        new = deepcopy(data)
        change(new)
        if new != data:
            verdict: Class = ("harmful" if told else "untold") if harmful else "harmless"
            yield Mutant("models", name, operator, where, new, verdict, why)

    for fastener, entry in data["fasteners"].items():
        if "torque" in entry and fastener in used:
            for factor in FACTORS:
                yield from mutant(
                    f"torque times {factor}", f"{fastener} {entry['torque']}",
                    lambda d, n=fastener, f=factor: _scale(d["fasteners"][n], "torque", f), True,
                    "the screw is overloaded or slack", factor != HALF or half_is_told(folder, name, fastener),
                )  # fmt: skip
            yield from mutant(
                "torque in another unit", f"{fastener} {entry['torque']}",
                lambda d, n=fastener: _reunit(d["fasteners"][n]), True, "a figure in N.m written as lbf.in",
            )  # fmt: skip
            yield from mutant(
                "torque a little other", f"{fastener} {entry['torque']}",
                lambda d, n=fastener: _scale(d["fasteners"][n], "torque", Decimal("1.04")), "stages" in entry,
                "4 % is within what makers differ",
            )  # fmt: skip
    for group in ("parts", "fasteners"):
        for item, entry in data[group].items():
            if item in used and "orientation" in entry:
                yield from mutant("remove an orientation", item, lambda d, g=group, n=item: d[g][n].pop("orientation"),
                                  True, "the sheet no longer says which way round")  # fmt: skip
            if item in used:
                yield from mutant("another part number", item, lambda d, g=group, n=item:
                                  d[g][n].update(number="XX-1"), False, "the same part")  # fmt: skip
    for limit, entry in data["limits"].items():
        for key in (k for k in ("new", "allow") if k in entry and limit in used):
            for factor in (Decimal(10), Decimal("0.1")):
                yield from mutant(f"limit times {factor}", f"{limit} {key} {entry[key]}", lambda d, n=limit, k=key,
                                  f=factor: _scale(d["limits"][n], k, f), True, "a slip of one digit")  # fmt: skip


def _used(folder: Folder, model: Model) -> Iterator[str]:
    for read in folder.procedures.values():
        if applies(read.value, model):
            for placed in expand(read, folder.sequences, model):
                step = placed.step
                names = (*step.undoes, *step.removes, *step.fits, *step.renews, *step.starts, *step.tightens)
                yield from (name.partition("/")[0] for name in names)
                yield from step.measure.of if step.measure else ()


def half_is_told(folder: Folder, name: str, fastener: str) -> bool:
    """Whether a file says otherwise than half the torque: no screw is slack by it, and covers get half as often.

    Told by another figure of the fastener (stages, the chart for spark plugs), by the fastener of the same name and
    thread on another type, or by a register without a wrench for so little.
    """
    mine = folder.models[name].value.fasteners[fastener]
    twins = [read.value.fasteners.get(fastener) for other, read in folder.models.items() if other != name]
    elsewhere = any(one and one.torque and one.thread and one.thread == mine.thread for one in twins)
    charted = (mine.drive or "").startswith("plug ")
    low = min((_least(tool.torque) for tool in folder.club.value.tools.values() if tool.torque), default=Fraction(0))
    half = middle(mine.torque).exactly("N.m") / 2 if mine.torque else Fraction(0)
    return bool(mine.stages) or elsewhere or charted or half < low


def _least(span: Band) -> Fraction:
    """The least torque, N.m, that a wrench is used for: its lowest mark, or a fifth of its full scale (ISO 6789)."""
    span = span.to("N.m")
    return max(Fraction(span.low or 0), Fraction(span.high or 0) / 5)


def _scale(entry: Data, key: str, factor: Decimal) -> None:
    """Every figure of a band times the factor; a tolerance in per cent stays."""
    figure = r"\d+(?:\.\d+)?(?!\s*%|[\d.]*\s*%)"
    entry[key] = re.sub(figure, lambda m: f"{(Decimal(m[0]) * factor).normalize():f}", entry[key])


def _reunit(entry: Data) -> None:
    entry["torque"] = entry["torque"].replace("N.m", "lbf.in")
