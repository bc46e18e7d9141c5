"""Single changes of a job or an engine type in a mechanic's words."""

from __future__ import annotations

from collections.abc import Iterator

from docgen.club.yamldoc import Data
from docgen.share.changes import DRAWN, Change, Detail, leaves
from docgen.share.merge import Conflict
from docgen.share.units import HEADING, LISTS, MAPS, TEXTS, words

MARK = "!"
"""Stands before what changes a number or a matter of safety."""
LONGEST = 160
"""Longest text shown of a step, in characters."""
NOUNS = {
    "stages": "step", "steps": "step", "safety": "safety message", "after_run": "check after the run", "parts": "part",
    "fasteners": "fastener", "limits": "limit", "settings": "setting", "fluids": "fluid",
    "intervals": "interval of", "paragraphs": "paragraph",
}  # fmt: skip
WHO = ("before", "yours", "theirs")
KEYS = {"do": "text", "why": "reason", "after_run": "checks after the run", "for": "time", "row": "row of the leaf",
        "adds": "added to its row", "off_leaf": "not on the leaf", "line": "line of the leaf"}  # fmt: skip


def change_lines(change: Change) -> Iterator[str]:
    """One change: what it is about, then each value that is not what it was."""
    mark = MARK if change.number or change.safety else " "
    details = list(change.details)
    if change.group in LISTS:
        noun = "stage" if any(one.key == HEADING for one in details) else NOUNS[change.group]
        prose = (*TEXTS, *([""] if change.group == "paragraphs" else []))
        only_words = change.kind == "changed" and all(one.key.split(".")[-1] in prose for one in details)
        done = "reworded" if only_words and not change.number else change.kind
        yield f"{mark} {noun} {done}: {quoted(change.name)}{_where(change)}"
        if change.kind != "changed":
            details = [one for one in details if one.key not in ("do", HEADING, "use", "")]
    elif change.group in MAPS:
        yield f"{mark} {NOUNS[change.group]} {change.name}" + ("" if change.kind == "changed" else f" {change.kind}")
    elif len(details) == 1 and not details[0].key:
        yield f"{mark} {_key(change.group)}: {_from_to(details[0])}"
        return
    else:
        yield f"{mark} {_key(change.group)}" + ("" if change.kind == "changed" else f" {change.kind}")
    for one in details:
        stands_out = MARK if (one.number and change.number) or one.safety else " "
        yield f"    {stands_out} {_key(one.key)}: {_from_to(one)}"


def _where(change: Change) -> str:
    if not change.stage:
        return ""
    return f"  (in {change.stage}{f', behind {quoted(change.behind, 50)}' if change.behind else ''})"


def _from_to(one: Detail) -> str:
    if one.key.split(".")[-1] == DRAWN:
        return "other lines" if one.before and one.after else "its lines"
    if one.before is None or one.after is None:
        return clipped(one.after or one.before or "")
    return f"{clipped(one.before)}  ->  {clipped(one.after)}"


def _key(key: str) -> str:
    said = ", ".join(KEYS.get(part, part.replace("_", " ")) for part in key.split("."))
    return said or "text"


def conflict_lines(conflict: Conflict) -> Iterator[str]:
    """A piece that both changed: what it was, and the two side by side."""
    what = " ".join(NOUNS.get(part, part.replace("_", " ")) for part in conflict.place)
    sides = (conflict.base, conflict.ours, conflict.theirs)
    whole = [side[0] for side in sides if len(side) == 1 and isinstance(side[0], dict)]
    if len(whole) == len(sides):
        text = words(whole[0])
        yield f"Both changed: {what}{f' {quoted(text)}' if text else ''}"
        told = [dict(leaves(one)) for one in whole]
        for key in dict.fromkeys(key for one in told for key in one):
            values = [one.get(key) for one in told]
            if len(set(values)) > 1:
                yield f"  {_key(key)}"
                yield from (f"    {who + ':':8} {clipped(v or 'nothing')}" for who, v in zip(WHO, values, strict=True))
        return
    yield f"Both changed: {what}"
    for who, side in zip(WHO, sides, strict=True):
        said = [one_line(piece) for piece in side] or ["nothing"]
        yield f"  {who + ':':8} {said[0]}"
        yield from (f"  {'':8} {line}" for line in said[1:])


def one_line(piece: Data) -> str:
    """A piece in one line: its text, then the rest of its values."""
    if not isinstance(piece, dict):
        return clipped(", ".join(map(str, piece)) if isinstance(piece, list) else piece or "nothing")
    text = words(piece)
    told = ("do", HEADING, "use", "hazard")
    rest = [f"{_key(key)}: {_value(value)}" for key, value in piece.items() if key not in told]
    return "; ".join([*([quoted(text)] if text else []), *rest])


def _value(value: Data) -> str:
    if isinstance(value, dict):
        return clipped(", ".join(f"{_key(key)} {_value(part)}" for key, part in value.items()))
    return clipped(", ".join(map(_value, value)) if isinstance(value, list) else value or "")


def quoted(text: str, most: int = LONGEST) -> str:
    """The text in quotes, cut where it is longer than `most`."""
    return f'"{clipped(text, most)}"'


def clipped(text: str, most: int = LONGEST) -> str:
    """The text on one line, cut where it is longer than `most`."""
    text = text.replace("\n", " ")
    return text if len(text) <= most else text[:most] + "..."
