"""What a sheet would say today and did not say when it was printed, piece by piece of what its reader sees."""

from collections.abc import Mapping, Sequence
from typing import Any

from pydantic import BaseModel

from docgen.club.catalogue import ENGLISH
from docgen.club.schema.prose import is_language
from docgen.club.words import Words
from docgen.job.figure import Figure, Wires
from docgen.job.job import Instructions
from docgen.share.differences import MARKS, Difference, Piece, called, compared, leaves
from docgen.sheets.figures import HARD, figure, standing
from docgen.trade.quantity import Band, Quantity

NOT_SAID = {"revision", "dated", "engine", "procedure", "code", "unproofed", "language", "model", "key", "mark",
            "item", "id", "work_minutes", "wait_minutes", "wait_governs", "longest_cure", "takes", "origin",
            "picture", "shape", "setting", "limit", "minutes", "given", "parts", "saved"}  # fmt: skip
"""What names a thing, or follows from the rest, and is nothing that its reader does otherwise."""
NO_FIGURE = {"serial", "components", "tools", "author", "licence", "adapted"}
"""What holds digits that nobody sets or measures."""
SAFE_WORDS = {"before": "what must be true before the start", "closing": "check before signing",
              "after_run": "check after the run", "deviations": "where this engine is not as its type"}  # fmt: skip
NOUNS = {"tools": "tool", "materials": "material", "spares": "spare part", "seals": "seal", "components": "component",
         **SAFE_WORDS}  # fmt: skip

Plain = Mapping[str, Any]
Kinds = dict[str, dict[str, Piece]]


def differences(before: Instructions, after: Instructions) -> list[Difference]:
    """Everything that a reader would be told otherwise, in the order of the sheet; empty where nothing is."""
    was, now = (_printed(dict(one), Words.speaking(one.language or ENGLISH)) for one in (before, after))
    # A sheet printed before it left the components out that its job does not work on still says what it says.
    was["components"] = {part: number for part, number in was["components"].items() if part in now["components"]
                         or part in _worked_on(before)}  # fmt: skip
    old, new = _kinds(was), _kinds(now)
    nouns = dict.fromkeys((*new, *old))
    found = (one for noun in nouns for one in compared(noun, old.get(noun, {}), new.get(noun, {})))
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


def _kinds(told: Plain) -> Kinds:
    """All pieces of a sheet, by what they are."""
    found: Kinds = {}
    for key, value in told.items():
        if key in NOT_SAID:
            continue
        noun, safe, counted = NOUNS.get(key, called(key)), key in SAFE_WORDS, key not in NO_FIGURE
        if key == "stages":
            steps = _flat(value)
            headings = ", ".join(stage["title"] for stage in value)
            found["headings"] = {key: Piece("headings of the stages", {"": headings})}
            found["safety message"], found["step"] = _messages(steps), _steps(steps)
        elif key in NOUNS:
            found[noun] = {name: Piece(f"{noun} {name}", _values(one), place=noun, safe=safe, counted=counted)
                           for name, one in _named(value).items()}  # fmt: skip
        elif values := _values(value):
            found[noun] = {key: Piece(noun, values, counted=counted)}
    return found


def _values(value: Any, below: str = "") -> dict[str, str]:
    """What a piece says, by its dotted keys, without what says nothing."""
    return {leaf: said for leaf, said in leaves(_told(value), below) if said}


def _told(value: Any) -> Any:
    if isinstance(value, dict):
        return {key: _told(one) for key, one in value.items() if key not in NOT_SAID}
    if isinstance(value, list):
        return [_told(one) for one in value]
    return "yes" if value is True else str(value) if value else None


def _flat(stages: Sequence[Plain]) -> list[Plain]:
    """All steps; in a job that was frozen before there were rows, each is a row of its own, as it was printed."""
    steps = [step for stage in stages for step in stage["steps"]]
    if any(step["row"] for step in steps):
        return steps
    return [{**step, "row": step["number"], "label": str(step["number"]), "line": step["text"]} for step in steps]


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


def _steps(steps: Sequence[Plain]) -> dict[str, Piece]:
    """Each step with its marks, each of these by its kind and what it is about."""
    found = {}
    for step in steps:
        values = {"text": step["text"], "why": step["why"], "off_leaf": "" if step["row"] else "yes",
                  "row": step["line"] if step["line"] != step["text"] else ""}  # fmt: skip
        for mark in step["marks"]:
            about = str(mark.get("key") or mark.get("material") or mark.get("name")).replace(".", " ")
            values |= _values(mark, f"{MARKS[mark['mark']]}.@{about}")
        where = f"step {step['label']}, {_short(step['text'])}"
        said = {leaf: value for leaf, value in values.items() if value}
        found[step["key"]] = Piece(where, said, step["text"], f"step {step['label']}", listed=True)
    return found


def _messages(steps: Sequence[Plain]) -> dict[str, Piece]:
    """By word and hazard: what a message says, and the text of the step that it stands before."""
    found: dict[str, Piece] = {}
    for step in steps:
        for one in step["messages"]:
            name = f"{one['word'].upper()} ({', '.join(one['hazards']) or _short(one['hazard'])})"
            name = name if name not in found else f"{name} {_short(one['hazard'])}"
            values = {"": f"{one['hazard']} {one['consequence']} {one['avoid']}", "before": step["text"]}
            values |= {"line": one["line"]} if one["line"] else {}
            found[name] = Piece(f"safety message {name}", values, safe=True)
    return found


def _short(text: str, most: int = 60) -> str:
    text = text.rstrip(".")
    return text if len(text) <= most else text[: most - 3].rstrip() + "..."
