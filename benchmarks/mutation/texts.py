"""Operators on texts: what a step says is made to differ from what it does, or is said in other words.

The oracle is simple: the shipped text is right. A figure, a count, a name or a way round of what the step itself
handles makes it wrong; ordinary words and the step's own figures do not. A word with an opposite that tells of
something else is untold: nobody who has only the files can say what was meant.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from copy import deepcopy
from decimal import Decimal
from typing import Any

from benchmarks.mutation.mutant import Class, Kind, Mutant, affected
from benchmarks.mutation.procedures import _at, _lists, _where
from docgen.club.folder import Folder
from docgen.club.schema.model import Fastener, Model, Part
from docgen.club.uses import applies
from docgen.job.expand import expand
from docgen.proof.naming import listed_words, opposites, parted, spoken_name, stems
from docgen.trade.quantity import Band, parse_quantity

Data = dict[str, Any]
HANDLED = ("undoes", "removes", "renews", "fits", "starts", "tightens")
ORDINARY = (
    "Oil on the floor makes shoes slip.", "Wet gloves grip badly.", "Take your time over it.", "Keep a clean bench.",
    "The cover of the manual shows it.", "Fill in the sheet as you go.", "A drop is enough.", "Mind your fingers.",
    "Some do it sitting down.", "Turn the lamp so that you see well.", "Grease on the sheet hides what was written.",
    "A second pair of hands helps.", "It needs no force.", "Seal the box of spares again afterwards.",
    "Stop when in doubt.", "Old hands do it by ear.",
)  # fmt: skip
"""Sentences of ordinary words, some of which are verbs elsewhere; they promise no work."""
OTHER_WORDS = {
    "Put": "Set", "Undo": "Back out", "Slide": "Ease", "Tighten": "Do up", "Push": "Press",
    "Pull": "Draw", "Look at": "Inspect", "Check": "Go over", "Start": "Begin", "Screw": "Turn", "Clean": "Scrub",
    "Measure": "Take the reading of", "Fit": "Mount", "Lay": "Place", "Wipe": "Dry", "Set": "Adjust",
}  # fmt: skip
NUMBERS = {"both": "all three", "two": "three", "three": "four", "four": "five", "six": "five", "eight": "six"}


def text_mutants(folder: Folder, kind: Kind, name: str) -> Iterator[Mutant]:
    """All mutants of the texts of one procedure or sequence."""
    data: Data = getattr(folder, kind)[name].document.data
    types = _types(folder, kind, name)
    if not types:
        return
    for place, steps in _lists(data):
        for index, step in enumerate(steps):
            text = _english(step.get("do"))
            if not text:
                continue
            for operator, new, verdict, why in _changed(step, text, types, index):
                mutated = deepcopy(data)
                _say(_at(mutated, place)[index], new)
                if mutated != data:
                    yield Mutant(kind, name, operator, _where(place, index, steps), mutated, verdict, why)


Change = tuple[str, str, Class, str]


def _changed(step: Data, text: str, types: list[Model], index: int) -> Iterator[Change]:
    for make in (_figures, _counts, _names, _ways, _opposites):
        yield from make(step, text, types)
    mild = "the same work, in other words"
    yield "add ordinary words", f"{text} {ORDINARY[index % len(ORDINARY)]}", "harmless", mild
    for old, new in OTHER_WORDS.items():
        if re.match(rf"{old}\b", text):
            yield "say it by a synonym", re.sub(rf"^{old}\b", new, text), "harmless", mild
            break


def _figures(step: Data, text: str, types: list[Model]) -> Iterator[Change]:
    """A figure behind the text: the step's own, twice it, and the same in another unit."""
    says: list[tuple[str, str, str]] = []
    for name in step.get("tightens", ()):
        bands = {m.fasteners[b].torque for m in types if (b := name.partition("/")[0]) in m.fasteners}
        band = next(iter(bands)) if len(bands) == 1 else None
        if isinstance(band, Band) and (band.nominal or band.high):
            value = band.nominal or band.high
            assert value is not None
            says.append((f"Tighten it to {value:f} {band.unit}.", f"Tighten it to {value * 2:f} {band.unit}.",
                         f"Tighten it to {value * Decimal('0.74'):.1f} lbf.ft."))  # fmt: skip
            break
    wait = step.get("wait")
    wait = wait.get("for") if isinstance(wait, dict) else wait
    if wait:
        time = parse_quantity(str(wait))
        says.append((f"That takes {time}.", f"That takes {time.value * 3:f} {time.unit}.", ""))
    measure = step.get("measure")
    named = measure.get("of") if isinstance(measure, dict) else measure
    for limit in [named] if isinstance(named, str) else (named or [])[:1]:
        found = {m.limits[limit].allow for m in types if limit in m.limits}
        band = next(iter(found)) if len(found) == 1 else None
        if isinstance(band, Band) and band.high:
            says.append((f"It may be at most {band.high:f} {band.unit}.",
                         f"It may be at most {band.high * 2:f} {band.unit}.", ""))  # fmt: skip
    for right, wrong, other in says:
        yield "a right figure in the text", f"{text} {right}", "harmless", "the step's own figure"
        yield "a wrong figure in the text", f"{text} {wrong}", "harmful", "text and cell differ"
        if other:
            yield "another unit in the text", f"{text} {other}", "harmful", "one quantity in two units"


def _counts(step: Data, text: str, types: list[Model]) -> Iterator[Change]:
    nouns = {parted(name, "en").noun for name in _item_names(step, types)}
    for match in re.finditer(rf"\b({'|'.join(NUMBERS)})\b((?: [a-z-]+){{1,3}})", text, re.IGNORECASE):
        new = text[: match.start(1)] + NUMBERS[match[1].lower()] + text[match.end(1) :]
        own = bool(nouns & set(listed_words(match[2], "en")))
        yield ("another count in the text", new[:1].upper() + new[1:], "harmful" if own else "untold",
               "text and model count otherwise" if own else "nothing says how many there are")  # fmt: skip


def _names(step: Data, text: str, types: list[Model]) -> Iterator[Change]:
    """The name of what is handled gives way to that of another of the same kind."""
    for model in types[:1]:
        items = _items(model)
        for own in dict.fromkeys(_handled(step)):
            if own not in items:
                continue
            name = spoken_name(items[own].name, own, "en")
            others = [spoken_name(one.name, key, "en") for key, one in items.items() if key not in _handled(step)]
            like = [one for one in others if one and parted(one, "en").noun == parted(name, "en").noun and one != name]
            at = text.lower().find(name.lower())
            if name and at >= 0 and like:
                yield ("another name in the text", text[:at] + like[0] + text[at + len(name) :], "harmful",
                       f"{like[0]} for {name}")  # fmt: skip
                return


def _ways(step: Data, text: str, types: list[Model]) -> Iterator[Change]:
    for model in types[:1]:
        for name in (*step.get("fits", ()), *step.get("renews", ())):
            part = model.parts.get(name.partition("/")[0])
            ways = {one.parts[name].orientation for one in types if name in one.parts}
            if part is None or part.orientation is None or len(ways) != 1:
                continue
            face, towards = (spoken_name(one, "", "en") for one in (part.orientation.face, part.orientation.towards))
            meant = stems(f"{face} {towards}", "en")
            other = next((n for key, one in model.parts.items() if (n := spoken_name(one.name, key, "en"))
                          and not stems(n, "en") & meant), "")  # fmt: skip
            if not face or not other or re.search(r"\b(towards?|facing)\b", text):
                continue
            right = f"{text} {face.capitalize()} towards {towards}."
            yield "the right way round in the text", right, "harmless", "so it is"
            yield ("the wrong way round in the text", f"{text} {face.capitalize()} towards the {other}.", "harmful",
                   "text and model turn it differently")  # fmt: skip
            return


def _opposites(step: Data, text: str, types: list[Model]) -> Iterator[Change]:
    known = opposites("en")
    words: set[str] = set()
    for model in types:
        for own in (*_handled(step), *_measured(step)):
            item = _items(model).get(own) or model.limits.get(own) or model.settings.get(own)
            way = getattr(item, "orientation", None)
            meant = [spoken_name(item.name, own, "en")] if item else []
            meant += [spoken_name(text, "", "en") for text in (way.face, way.towards)] if way else []
            words |= set(listed_words(" ".join(meant), "en"))
    for match in re.finditer(r"[A-Za-z]+", text):
        word = match[0].lower()
        for other in sorted(known.get(word, ()))[:1]:
            own = word in words and other not in listed_words(text, "en")
            yield ("an opposite in the text", text[: match.start()] + other + text[match.end() :],
                   "harmful" if own else "untold", f"{other} for {word}")  # fmt: skip


def _handled(step: Data) -> list[str]:
    return [name.partition("/")[0] for verb in HANDLED for name in step.get(verb, ())]


def _measured(step: Data) -> list[str]:
    measure = step.get("measure")
    named = measure.get("of") if isinstance(measure, dict) else measure
    return [*([named] if isinstance(named, str) else named or ()), *step.get("finds", ()), *step.get("sets", ())]


def _items(model: Model) -> dict[str, Part | Fastener]:
    return {**model.parts, **model.fasteners}


def _item_names(step: Data, types: list[Model]) -> Iterator[str]:
    for model in types:
        items = _items(model)
        yield from (spoken_name(items[own].name, own, "en") for own in _handled(step) if own in items)


def _english(text: str | dict[str, str] | None) -> str:
    return (text.get("en", "") if isinstance(text, dict) else text) or ""


def _say(step: Data, new: str) -> None:
    step["do"] = {**step["do"], "en": new} if isinstance(step["do"], dict) else new


def _types(folder: Folder, kind: Kind, name: str) -> list[Model]:
    """The engine types that get the file's steps."""
    jobs = [folder.procedures[job] for job in affected(folder, kind, name)]
    found = [read.value for _, read in sorted(folder.models.items())]
    return [model for model in found if any(applies(job.value, model) and expand(job, folder.sequences, model)
                                            for job in jobs)]  # fmt: skip


