"""What differs between two texts of a shared file, piece by piece.

It is told of the files, not of the jobs that become of them: a limit that no job here uses, or a step for equipment
that nobody here has, does not change unseen.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from docgen.club.schema.procedure import VERBS
from docgen.club.yamldoc import Data
from docgen.share.differences import DRAWN, Difference, gave, paired
from docgen.share.merge import BOOKKEEPING, LISTS, MAPS
from docgen.share.spelling import File, respelled

SAFETY = {"safety", "meets", "makes", "hazards", "critical", "start_all_first", "single_use", "hand_only", "off_leaf",
          "before", *(key for key, verb in VERBS.items() if verb.safety)}  # fmt: skip
"""Keys whose change is a matter of safety, whatever it is."""
NOUNS = {"stages": "step", "steps": "step", "safety": "safety message", "after_run": "check after the run",
         "parts": "part", "fasteners": "fastener", "limits": "limit", "settings": "setting", "fluids": "fluid",
         "intervals": "interval of", "paragraphs": "paragraph"}  # fmt: skip
KEYS = {"do": "text", "why": "reason", "after_run": "checks after the run", "for": "time", "row": "row of the leaf",
        "adds": "added to its row", "off_leaf": "not on the leaf", "line": "line of the leaf"}  # fmt: skip
_WORK = (*(key for key, verb in VERBS.items() if verb.handles), "look", "id", "use")
_TEXT = ("do", "stage", "use", "hazard")
"""Keys of which one is what a piece of a list says."""


@dataclass(frozen=True)
class _Piece:
    text: str
    values: Mapping[str, str]


def changes(before: File, after: File) -> list[Difference]:
    """What is different in `after`, in the order of the file.

    The revision and the day are left out, and what is only spelled otherwise: one word, or a list of it
    alone; a figure with or without noughts at its end.
    """
    after = respelled(after, before)
    found: list[Difference] = []
    for key in dict.fromkeys((*after, *before)):
        if key not in BOOKKEEPING and before.get(key) != after.get(key):
            found += _of(key, _pieces(key, before.get(key)), _pieces(key, after.get(key)))
    return found


def _of(key: str, was: Mapping[str, _Piece], now: Mapping[str, _Piece]) -> Iterator[Difference]:
    noun = NOUNS.get(key, _said(key))
    order = []
    texts = ({name: one.text for name, one in pieces.items()} for pieces in (was, now))
    for old, new in paired(*texts):
        if old and new:
            order.append(list(was).index(old))
            yield from _changed(key, f"{noun} {was[old].text}".rstrip(), was[old].values, now[new].values)
        elif new:
            where, text, safety = _whole(key, noun, now, new)
            yield gave(where, "", text, safety=safety, number=None if key in MAPS else False)
        else:
            where, text, safety = _whole(key, noun, was, old)
            yield gave(where, text, "", safety=safety or key in LISTS, number=None if key in MAPS else False)
    if order != sorted(order):
        names = [one.text for one in was.values()]
        before, after = ("; ".join(names[at] for at in one) for one in _moved(order))
        yield Difference(f"order of the {noun}s", before, after, safety=key in ("stages", "steps"))


def _changed(key: str, where: str, was: Mapping[str, str], now: Mapping[str, str]) -> Iterator[Difference]:
    for leaf in dict.fromkeys((*now, *was)):
        before, after = was.get(leaf, ""), now.get(leaf, "")
        if before != after:
            drawn = leaf.split(".")[-1] == DRAWN
            at = f"{where}: {_said(leaf)}" if leaf else where
            texts = ("its lines before", "its lines now") if drawn else (before, after)
            yield gave(at, *texts, safety=bool(SAFETY & {key, *leaf.split(".")}))


def _whole(key: str, noun: str, pieces: Mapping[str, _Piece], name: str) -> tuple[str, str, bool]:
    """A piece that came or went: where it stands, all that it says, whether it is a matter of safety."""
    one, names = pieces[name], list(pieces)
    place = names.index(name) if key in LISTS else 0
    values = {_said(leaf): value for leaf, value in one.values.items() if not one.text or leaf not in (*_TEXT, "")}
    said = [one.text, *(f"{leaf} {value}".strip() for leaf, value in values.items())]
    safety = bool(SAFETY & {key, *(part for leaf in one.values for part in leaf.split("."))})
    where = f"{noun} behind {pieces[names[place - 1]].text}" if place else noun
    return where, "; ".join(text for text in said if text), safety


def _moved(order: list[int]) -> tuple[list[int], list[int]]:
    """The stretch of an order that is not as it was, before and after."""
    was = sorted(order)
    apart = [at for at, (old, new) in enumerate(zip(was, order, strict=True)) if old != new]
    return was[apart[0] : apart[-1] + 1], order[apart[0] : apart[-1] + 1]


def _pieces(key: str, value: Data) -> dict[str, _Piece]:
    """A key's pieces by their names: what a step works on or is called, else its place."""
    if key in MAPS and isinstance(value, dict):
        return {name: _Piece(name, dict(_leaves(one))) for name, one in value.items()}
    if key not in LISTS or not isinstance(value, list):
        return {} if value is None else {key: _Piece("", dict(_leaves(value)))}
    found: dict[str, _Piece] = {}
    for one in value:
        steps = one.pop("steps") if isinstance(one, dict) and "stage" in (one := dict(one)) else []
        for piece in (one, *(steps if isinstance(steps, list) else [steps])):
            values = dict(_leaves(piece))
            own = next((f"{name} {value}" for name, value in values.items() if name.split(".")[0] in _WORK), "")
            said = next((piece[name] for name in _TEXT if name in piece), "") if isinstance(piece, dict) else piece
            name = own if own and own not in found else f"step-{len(found)}"
            found[name] = _Piece(f'"{_spoken(said)}"', values)
    return found


def _leaves(value: Data, key: str = "") -> Iterator[tuple[str, str]]:
    """Every value of a piece as text, by its dotted key. A list of words is one value; one word is a list of one."""
    if isinstance(value, dict):
        for name, part in value.items():
            yield from _leaves(part, f"{key}.{name}" if key else name)
    elif isinstance(value, list) and any(isinstance(one, (dict, list)) for one in value):
        for index, part in enumerate(value):
            yield from _leaves(part, f"{key}.{index + 1}")
    elif isinstance(value, list):
        yield key, ", ".join(str(one) for one in value)
    elif value is not None:
        yield key, value


def _spoken(text: Data) -> str:
    """A text that may be held in several languages, as one."""
    return " / ".join(one for _, one in _leaves(text))


def _said(key: str) -> str:
    return ", ".join(KEYS.get(part, part.replace("_", " ")) for part in key.split("."))
