"""Operators on the figures of models that tell of the trade: classes, pitches, drives, units, counts, times, sizes."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Iterator
from copy import deepcopy
from decimal import Decimal
from typing import Any

from benchmarks.mutation.models import _scale, _used
from benchmarks.mutation.mutant import Class, Mutant
from docgen.club.folder import Folder

Data = dict[str, Any]
Made = Iterator[Mutant]


def figure_mutants(folder: Folder, name: str) -> Made:
    """All such mutants of one model: only of what some job handles, for the rest is never printed."""
    read = folder.models[name]
    data: Data = read.document.data  # type: ignore[assignment]
    used = set(_used(folder, read.value))

    def mutant(operator: str, where: str, change: Callable[[Data], object], verdict: Class, why: str) -> Made:
        new = deepcopy(data)
        change(new)
        if new != data:
            yield Mutant("models", name, operator, where, new, verdict, why)

    for key, entry in data["fasteners"].items():
        if key in used:
            yield from _fastener(data, key, entry, mutant)
    for group in ("parts", "fasteners"):
        for key, entry in data[group].items():
            if key not in used:
                continue
            if "life" in entry:
                yield from mutant("minutes for hours", f"life of {key}", lambda d, g=group, k=key: d[g][k].update(
                    life=d[g][k]["life"].replace(" h", " min")), "harmful", "a slip of unit")  # fmt: skip
                yield from mutant("a life a little longer", key, lambda d, g=group, k=key: _scale(
                    d[g][k], "life", Decimal("1.2")), "harmless", "within what makers differ")  # fmt: skip
            if "outer" in entry.get("shape", {}):
                yield from mutant("metres for millimetres", f"outer of {key}", lambda d, g=group, k=key: _metres(
                    d[g][k]["shape"], "outer"), "harmful", "a slip of unit")  # fmt: skip
            if int(entry.get("count", 1)) > 1:
                yield from mutant("count of nothing", key, lambda d, g=group, k=key: d[g][k].update(count=0),
                                  "harmful", "there are some")  # fmt: skip
                plural = bool(re.search(r"(?:nuts|screws|springs|clips|studs|bolts|bearings|seals|hoses)$", key))
                yield from mutant("count left out", key, lambda d, g=group, k=key: d[g][k].pop("count"),
                                  "harmful" if plural else "untold", "there are several")  # fmt: skip
    for key, entry in data.get("limits", {}).items():
        for band in (b for b in ("new", "allow") if b in entry and key in used):
            yield from mutant("metres for millimetres", f"{band} of {key}", lambda d, k=key, b=band: _metres(
                d["limits"][k], b), "harmful", "a slip of unit")  # fmt: skip
        if "new" in entry and "allow" in entry and entry["new"] != entry["allow"] and key in used:
            yield from mutant("new and allowed exchanged", key, lambda d, k=key: _turn(d["limits"][k]), "harmful",
                              "worn parts pass as new")  # fmt: skip
        twin = key.replace("inlet", "exhaust")
        if twin != key and twin in data["limits"] and entry.get("kind") == "gap":
            yield from mutant("inlet and exhaust exchanged", key, lambda d, k=key, t=twin: _exchange(d, k, t),
                              "harmful", "the hot valve gets too little")  # fmt: skip
    for key, entry in data.get("intervals", {}).items():
        if "hours" in entry:
            yield from mutant("minutes for hours", f"interval of {key}", lambda d, k=key: d["intervals"][k].update(
                hours=d["intervals"][k]["hours"].replace(" h", " min")), "harmful", "a slip of unit")  # fmt: skip
    for key in data.get("fluids", {}):
        for factor in (Decimal(100), Decimal("0.001")):
            yield from mutant(f"fluid times {factor}", key, lambda d, k=key, f=factor: _scale(
                d["fluids"][k], "amount", f), "harmful", "litres for millilitres")  # fmt: skip


def _fastener(data: Data, key: str, entry: Data, mutant: Callable[..., Made]) -> Made:
    def edit(change: Callable[[Data], object]) -> Callable[[Data], object]:
        return lambda d: change(d["fasteners"][key])

    grade = str(entry.get("class", ""))
    if "." in grade:
        yield from mutant("class without its point", key, edit(lambda f: f.update({"class": grade.replace(".", "")})),
                          "harmful", "no such class")  # fmt: skip
    if "thread" in entry:
        pitch = entry["thread"].partition("x")
        other = "1.1" if pitch[2] != "1.1" else "1.3"
        yield from mutant("no such pitch", key, edit(lambda f: f.update(thread=f"{pitch[0]}x{other}")), "harmful",
                          "no such thread")  # fmt: skip
    drive = re.fullmatch(r"(hex|hex-socket) (\d+) mm", entry.get("drive", ""))
    if drive and "thread" in entry:
        far = round(int(drive[2]) * 1.8)
        yield from mutant("drive of another screw", key, edit(lambda f: f.update(drive=f"{drive[1]} {far} mm")),
                          "harmful", "no such head on this thread")  # fmt: skip
    if "engaged" in entry.get("boss", {}):
        yield from mutant("metres for millimetres", f"engaged length of {key}", edit(lambda f: f["boss"].update(
            engaged=f["boss"]["engaged"].replace(" mm", " m"))), "harmful", "a slip of unit")  # fmt: skip
    if "locker" in entry:
        yield from mutant("locker not named", key, edit(lambda f: f.pop("locker")), "harmful", "nothing says which")
    if "torque" in entry:
        yield from mutant("torque in pound-feet", f"{key} {entry['torque']}", edit(lambda f: f.update(
            torque=f["torque"].replace("N.m", "lbf.ft"))), "harmful", "a figure in N.m written as lbf.ft")  # fmt: skip
        like = Counter(one.get("torque") for name, one in data["fasteners"].items() if name != key and all(
            one.get(k) == entry.get(k) for k in ("thread", "class", "lubrication", "critical", "hand_only"))
            and one.get("boss", {}).get("material") == entry.get("boss", {}).get("material"))  # fmt: skip
        told = sum(like.values()) > 1 and len(like) == 1 and next(iter(like)) == entry["torque"]
        yield from mutant("torque times 1.36", f"{key} {entry['torque']}", edit(lambda f: _scale(
            f, "torque", Decimal("1.3558"))), "harmful" if told else "untold", "N.m for lbf.ft")  # fmt: skip


def _metres(entry: Data, key: str) -> None:
    entry[key] = entry[key].replace(" mm", " m")


def _turn(limit: Data) -> None:
    limit["new"], limit["allow"] = limit["allow"], limit["new"]


def _exchange(data: Data, one: str, other: str) -> None:
    limits = data["limits"]
    for key in ("new", "allow"):
        first, second = limits[one].get(key), limits[other].get(key)
        if first and second:
            limits[one][key], limits[other][key] = second, first
