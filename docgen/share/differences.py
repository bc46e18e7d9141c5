"""What a sheet would say today and did not say when it was printed, line by line of what its reader sees."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Any

from pydantic import BaseModel

from docgen.club.catalogue import ENGLISH
from docgen.club.schema.prose import is_language
from docgen.club.words import Words
from docgen.job.figure import Figure, Wires
from docgen.job.job import Instructions
from docgen.job.marks import KINDS
from docgen.sheets.figures import HARD, figure, standing
from docgen.trade.quantity import Band, Quantity

DRAWN = "svg"
"""The key of a drawing's lines, whose figures nobody reads."""
LIKE = 50.0
"""Least likeness of two texts, in per cent, at which one is taken for the other reworded. Of 237 steps of the demo
club, nearly all were known again with up to five words changed, and one pair of strangers in a hundred was."""
LONGEST = 160
"""Longest text shown of what a stranger sent, in characters."""
_SHORT = 400
_NUMBER = re.compile(r"\d+(?:[.,/]\d+)*")
_NUMBER_WORDS = re.compile(
    r"\b(two|three|four|five|six|seven|eight|nine|ten|eleven|twelve|twenty|thirty|half|quarter|twice|double)\b",
    re.IGNORECASE,
)
"""Numbers that English text spells out. "One" is left out: it mostly stands for a thing."""
NOT_SAID = {"revision", "dated", "engine", "procedure", "code", "unproofed", "language", "model", "key", "mark",
            "item", "id", "work_minutes", "wait_minutes", "wait_governs", "longest_cure", "takes", "origin",
            "picture", "shape", "setting", "limit", "minutes", "given", "parts", "saved"}  # fmt: skip
"""What names a thing, or follows from the rest, and is nothing that its reader does otherwise."""
NO_FIGURE = {"serial", "components", "tools", "author", "licence", "adapted"}
"""What holds digits that nobody sets or measures."""
_UNNAMED = re.compile(r"step-\d+(-\d+)?")
"""The key of a step that its author gave no name and that works on nothing."""
SAFE_WORDS = {"before": "what must be true before the start", "closing": "check before signing",
              "after_run": "check after the run", "deviations": "where this engine is not as its type"}  # fmt: skip
SAFE_MARKS = {kind.model_fields["mark"].default for kind in KINDS if kind.guards}
SAFE_KEYS = {"critical", "hand_only", "start_all_first", "classed", "voids", "lubrication", "locker"}
"""What is a matter of safety, whatever changes in it."""
NOUNS = {"tools": "tool", "materials": "material", "spares": "spare part", "seals": "seal", "components": "component",
         **SAFE_WORDS}  # fmt: skip
MARKS = {kind.model_fields["mark"].default: kind.noun for kind in KINDS}

Plain = Mapping[str, Any]


@dataclass(frozen=True)
class Difference:
    """One line that changed: where it stands, what it said, what it says now; empty where it came or went.

    number : a figure is not what it was
    safety : it is a safety message, a hold point, a step or check that is gone, or another thing that guards somebody
    """

    where: str
    before: str
    after: str
    number: bool = False
    safety: bool = False


def difference_lines(one: Difference, most: int | None = None) -> Iterator[str]:
    """A difference in words, after what it is; of each text the first `most` characters."""
    mark = " and ".join(word for word, said in (("SAFETY", one.safety), ("NUMBER", one.number)) if said) or "words"
    before, after = (clipped(text, most) if most else text for text in (one.before, one.after))
    if before and after:
        yield f"{mark}  {one.where}"
        yield f"    was: {before}"
        yield f"    now: {after}"
    else:
        came = "" if one.where.endswith((" is new", " is gone")) else " (gone)" if before else " (new)"
        yield f"{mark}  {one.where}{came}: {before or after}"


def clipped(text: str, most: int = LONGEST) -> str:
    """The text on one line, cut where it is longer than `most`."""
    text = text.replace("\n", " ")
    return text if len(text) <= most else text[:most] + "..."


def differences(before: Instructions, after: Instructions) -> list[Difference]:
    """Everything that a reader would be told otherwise, in the order of the sheet; empty where nothing is."""
    was, now = (_printed(dict(one), Words.speaking(one.language or ENGLISH)) for one in (before, after))
    found: list[Difference] = []
    # A sheet printed before it left the components out that its job does not work on still says what it says.
    was["components"] = {part: number for part, number in was["components"].items() if part in now["components"]
                         or part in _worked_on(before)}  # fmt: skip
    for key in was:
        if key in NOT_SAID or was[key] == now[key]:
            continue
        if key == "stages":
            old, new = _flat(was[key]), _flat(now[key])
            titles = [[stage["title"] for stage in one[key]] for one in (was, now)]
            found += _leaf("headings of the stages", *titles) if titles[0] != titles[1] else []
            found += [*_messages(old, new), *_steps(old, new)]
        elif key in NOUNS:
            found += _entries(NOUNS[key], _named(was[key]), _named(now[key]), safety=key in SAFE_WORDS)
        else:
            found += _leaf(key.replace("_", " "), was[key], now[key])
        if key in NO_FIGURE:
            found = [replace(one, number=False) if _about(one, key) else one for one in found]
    return sorted(found, key=lambda one: not one.where.startswith("seal"))


def _worked_on(told: Instructions) -> set[str]:
    """The items of the job's marks, as far as a frozen job says them."""
    return {getattr(mark, "item", "") for step in told.steps for mark in step.marks}


def _printed(value: Any, words: Words) -> Any:
    """Plain data in which figures stand as they are printed, and a text is a text, whatever language it is in."""
    match value:
        case Figure():
            return {"text": _figure(value, words), "note": standing(value, words)}
        case Band() | Quantity() | Wires():
            return _figure(value, words)
        case BaseModel():
            return _printed(dict(value), words)
        case dict():
            if len(value) == 1 and is_language(next(iter(value))):
                return next(iter(value.values()))
            return {key: _printed(one, words) for key, one in value.items()}
        case list() | tuple():
            return [_printed(one, words) for one in value]
        case bool() | int() | None:
            return value
    return str(value)


def _figure(value: Figure | Band | Quantity | Wires, words: Words) -> str:
    return figure(value, words).replace(HARD, " ")


def _about(one: Difference, key: str) -> bool:
    return one.where.startswith(NOUNS.get(key, key))


def _flat(stages: Sequence[Plain]) -> list[Plain]:
    """All steps; in a job that was frozen before there were rows, each is a row of its own, as it was printed."""
    steps = [step for stage in stages for step in stage["steps"]]
    if any(step["row"] for step in steps):
        return steps
    return [{**step, "row": step["number"], "label": str(step["number"]), "line": step["text"]} for step in steps]


def paired(was: Mapping[str, str], now: Mapping[str, str]) -> Iterator[tuple[str, str]]:
    """The name of each piece of today with that of the one that it was, then those that are gone; "" for none.

    was, now : names and texts. A piece is the same by its name; one that nobody named, by its words or ones much like.
    """
    free = {name: text for name, text in was.items() if _UNNAMED.fullmatch(name)}
    left = Counter(text for name, text in now.items() if _UNNAMED.fullmatch(name)) & Counter(free.values())
    met = set()
    for name, text in now.items():
        old = name if name in was else ""
        if _UNNAMED.fullmatch(name):
            alike = {one: 100.0 if words == text else 0.0 if left[words] else likeness(words, text)
                     for one, words in free.items()}  # fmt: skip
            old = max(alike, key=alike.__getitem__, default="")
            old = old if alike.get(old) else ""
            left -= Counter([free.pop(old, "")])
        met.add(old)
        yield old, name
    yield from ((name, "") for name in was if name not in met)


def likeness(one: str, other: str) -> float:
    """How many of their words two texts share, in per cent of all; 0 where it is less than `LIKE`.

    Each word counts as often as it stands in both; the order of the words is not looked at, which keeps the time linear
    in the length of whatever a stranger sends. Of each text the beginning counts.
    """
    ours, theirs = _bag(one[:_SHORT]), _bag(other[:_SHORT])
    every = ours.total() + theirs.total()
    shared = 200 * (ours & theirs).total() / every if every else 100.0
    return shared if shared >= LIKE else 0.0


@lru_cache(1000)
def _bag(text: str) -> Counter[str]:
    return Counter(text.lower().split())


def _named(entries: Any) -> dict[str, Any]:
    """A list's entries by what they are about; a plain text is about itself."""
    if isinstance(entries, dict):
        return entries
    found: dict[str, Any] = {}
    for one in entries:
        name = one if isinstance(one, str) else one.get("key") or one.get("name") or str(one)
        name = f"{name}, {one['what']}" if isinstance(one, dict) and "what" in one else name
        found[name] = one
    return found


def _entries(noun: str, was: Plain, now: Plain, *, safety: bool) -> Iterator[Difference]:
    for name in dict.fromkeys((*was, *now)):
        old, new = was.get(name), now.get(name)
        if old is None or new is None:
            text = _said(new if old is None else old, name)
            yield gave(noun, "" if old is None else text, "" if new is None else text, safety=safety)
        elif old != new:
            yield from _leaf(f"{noun} {name}", old, new, safety=safety)


def _steps(was: Sequence[Plain], now: Sequence[Plain]) -> Iterator[Difference]:
    order: list[int] = []
    before, after = ({step["key"]: step for step in steps} for steps in (was, now))
    texts = ({key: step["text"] for key, step in steps.items()} for steps in (before, after))
    for old, new in ((before.get(old), after.get(new)) for old, new in paired(*texts)):
        if old is None or new is None:
            step = new if old is None else old
            assert step is not None
            text = f"{step['text']}{_carried(step)}"
            where = f"step {step['label']} {'is new' if old is None else 'is gone'}"
            guards = bool(step["messages"]) or any(mark["mark"] in SAFE_MARKS for mark in step["marks"])
            yield Difference(where, "" if old is None else text, "" if new is None else text,
                             safety=new is None or guards)  # fmt: skip
        else:
            order.append(old["number"])
            yield from _step(old, new)
    if order != sorted(order):
        names = {step["number"]: step["label"] for step in was}
        said = [", ".join(names[number] for number in one) for one in (sorted(order), order)]
        yield Difference("order of the steps", said[0], f"{said[1]} (by their old numbers)", safety=True)


def _step(old: Plain, new: Plain) -> Iterator[Difference]:
    step = f"step {new['label']}"
    where = f"{step}, {_short(new['text'])}"
    for key, noun in (("text", "text"), ("why", "reason")):
        if old[key] != new[key]:
            yield from _leaf(f"{step}: {noun}", old[key], new[key])
    rows = old["line"], new["line"]
    if rows[0] != rows[1] and rows != (old["text"], new["text"]):
        yield from _leaf(f"{step}: row of the leaf", *rows)
    elif bool(old["row"]) != bool(new["row"]):
        yield Difference(f"{where}: on the bench leaf", *(("yes", "no") if old["row"] else ("no", "yes")))
    was, now = _marks(old), _marks(new)
    for kind, about in dict.fromkeys((*was, *now)):
        before, after = was.get((kind, about)), now.get((kind, about))
        safety = kind in SAFE_MARKS
        if before == after:
            continue
        if before is None or after is None:
            mark = after if before is None else before
            assert mark is not None
            text = _mark_said(mark)
            gone = after is None and kind in ("look", "reading", "torque", "renew")
            yield gave(f"{where}: {MARKS[kind]}", "" if before is None else text, "" if after is None else text,
                        safety=safety or gone)  # fmt: skip
        else:
            yield from _leaf(f"{where}: {MARKS[kind]}", before, after, safety=safety)


def _messages(was: Sequence[Plain], now: Sequence[Plain]) -> Iterator[Difference]:
    """The safety messages of the whole sheet: what each says, and before which step it stands."""
    old, new = _placed(was), _placed(now)
    for name in dict.fromkeys((*new, *old)):
        before, after = old.get(name), new.get(name)
        if before is None or after is None or before[0] != after[0]:
            yield gave(f"safety message {name}", before[0] if before else "", after[0] if after else "", safety=True)
        elif before[1] != after[1]:
            yield Difference(f"safety message {name}", f"before: {before[1]}", f"before: {after[1]}", safety=True)


def _placed(steps: Sequence[Plain]) -> dict[str, tuple[str, str]]:
    """By word and hazard: what a message says, and the text of the step that it stands before."""
    found: dict[str, tuple[str, str]] = {}
    for step in steps:
        for one in step["messages"]:
            name = f"{one['word'].upper()} ({', '.join(one['hazards']) or _short(one['hazard'])})"
            name = name if name not in found else f"{name} {_short(one['hazard'])}"
            line = f" On the leaf: {one['line']}" if one["line"] else ""
            found[name] = (f"{one['hazard']} {one['consequence']} {one['avoid']}{line}", step["text"])
    return found


def _marks(step: Plain) -> dict[tuple[str, str], Plain]:
    """A step's marks by kind and what they are about."""
    return {(m["mark"], str(m.get("key") or m.get("material") or m.get("name"))): m for m in step["marks"]}


def _leaf(where: str, old: Any, new: Any, *, safety: bool = False) -> Iterator[Difference]:
    """Each single value that differs in two things of the same shape."""
    if isinstance(old, dict) and isinstance(new, dict):
        for key in dict.fromkeys((*old, *new)):
            if key == DRAWN and old.get(key) != new.get(key):
                yield Difference(f"{where}, its lines", "as drawn before", "as drawn now", safety=safety)
            elif key not in NOT_SAID and old.get(key) != new.get(key):
                inner = where if key in ("text", "value", "name") else f"{where}, {key.replace('_', ' ')}"
                yield from _leaf(inner, old.get(key), new.get(key), safety=safety or key in SAFE_KEYS)
    else:
        yield gave(where, _said(old), _said(new), safety=safety)


def gave(where: str, before: str, after: str, *, safety: bool, number: bool | None = None) -> Difference:
    """The difference between two texts; where nobody says whether it is one of figures, their figures tell."""
    return Difference(where, before, after, _numbers(before) != _numbers(after) if number is None else number, safety)


def _numbers(text: str) -> list[str]:
    return [*_NUMBER.findall(text), *(word.lower() for word in _NUMBER_WORDS.findall(text))]


def _said(value: Any, otherwise: str = "") -> str:
    """A value as somebody reads it; a thing by its name, its text, or both."""
    if value in (None, "", False, (), [], {}):
        return otherwise
    if value is True:
        return "yes"
    if isinstance(value, dict):
        told = ("name", "text", "value", "what", "figures", "allow", "accept")
        known = [_said(value[key]) for key in told if value.get(key)]
        return ", ".join(known) or ", ".join(_said(one) for one in value.values() if one) or otherwise
    if isinstance(value, list):
        return "; ".join(_said(one) for one in value)
    return str(value)


def _mark_said(mark: Plain) -> str:
    return _said({key: value for key, value in mark.items() if key not in NOT_SAID and key != DRAWN})


def _carried(step: Plain) -> str:
    told = "; ".join(f"{MARKS[mark['mark']]} {_mark_said(mark)}" for mark in step["marks"])
    return f" ({told})" if told else ""


def _short(text: str, most: int = 60) -> str:
    text = text.rstrip(".")
    return text if len(text) <= most else text[: most - 3].rstrip() + "..."
