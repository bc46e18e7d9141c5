"""What differs between two versions of anything that is told in pieces: a file, a printed job."""

import re
from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache

from docgen.club.schema.procedure import VERBS
from docgen.club.yamldoc import Data
from docgen.job.marks import KINDS

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
_UNNAMED = re.compile(r"step-\d+(-\d+)?")
"""The name of a step that its author gave none and that works on nothing."""
MARKS = {kind.model_fields["mark"].default: kind.noun for kind in KINDS}
"""What the marks of a printed step are called."""
SAFETY = {"safety", "meets", "makes", "hazards", "critical", "start_all_first", "single_use", "hand_only", "off_leaf",
          "before", "classed", "voids", "lubrication", "locker", *(key for key, verb in VERBS.items() if verb.safety),
          *(kind.noun for kind in KINDS if kind.guards)}  # fmt: skip
"""Keys whose change is a matter of safety, whatever it is."""
MISSED = {"look", "measure", *(MARKS[kind] for kind in ("look", "reading", "torque", "renew"))}
"""Keys that are a matter of safety once they are gone."""
CALLED = {"do": "text", "why": "reason", "after_run": "checks after the run", "for": "time", "row": "row of the leaf",
          "adds": "added to its row", "alone": "row alone",
          "off_leaf": "not on the leaf", "line": "line of the leaf"}  # fmt: skip
PLAIN = ("", "text", "value", "name", "time", "what", "figures")
"""Keys that are not said below another one, or before the text of something new or gone."""


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


@dataclass(frozen=True)
class Piece:
    """A step, a part, a tool, a key of a file: what is found again in the other version, and told of if it is not.

    where, values : what it is called, and what it says, by dotted keys; a key with "@" tells two of one kind apart
    text, place   : the words that it is known again by; where it stands as it comes or goes, if that is not `where`
    safe          : whatever changes in it is a matter of safety
    listed        : one of a row of things to do: gone it is missed, and coming it changes no figure
    counted       : its digits are figures that somebody sets or measures
    """

    where: str
    values: Mapping[str, str]
    text: str = ""
    place: str = ""
    safe: bool = False
    listed: bool = False
    counted: bool = True


Pieces = Mapping[str, Piece]


def difference_lines(one: Difference, most: int | None = None) -> Iterator[str]:
    """A difference in words, after what it is; of each text the first `most` characters."""
    mark = " and ".join(word for word, said in (("SAFETY", one.safety), ("NUMBER", one.number)) if said) or "words"
    before, after = (clipped(text, most) if most else text for text in (one.before, one.after))
    if before and after:
        yield f"{mark}  {one.where}"
        yield f"    was: {before}"
        yield f"    now: {after}"
    else:
        yield f"{mark}  {one.where}{' (gone)' if before else ' (new)'}: {before or after}"


def clipped(text: str, most: int = LONGEST) -> str:
    """The text on one line, cut where it is longer than `most`."""
    text = text.replace("\n", " ")
    return text if len(text) <= most else text[:most] + "..."


def compared(noun: str, was: Pieces, now: Pieces) -> Iterator[Difference]:
    """What is different between some pieces of one kind and those that they became."""
    order = []
    for old, new in paired(*({name: one.text for name, one in pieces.items()} for pieces in (was, now))):
        if old and new:
            order.append(list(was).index(old))
            yield from _changed(was[old], now[new])
        else:
            one = now[new] if new else was[old]
            safety = one.safe or (one.listed and not new) or bool(_parts(*one.values) & SAFETY)
            yield _gave(one, one.place or one.where, *(("", _whole(one)) if new else (_whole(one), "")), safety=safety,
                        number=not one.listed)  # fmt: skip
    if order != sorted(order):
        names = [one.where.removeprefix(f"{noun} ") for one in was.values()]
        before, after = ("; ".join(names[at] for at in one) for one in _moved(order))
        yield Difference(f"order of the {noun}s", before, after, safety=all(one.listed for one in was.values()))


def _changed(was: Piece, now: Piece) -> Iterator[Difference]:
    """What comes or goes whole below a key is told at once, all else value by value."""
    for top in dict.fromkeys(map(_top, (*now.values, *was.values))):
        before, after = ({leaf: said for leaf, said in one.values.items() if _top(leaf) == top} for one in (was, now))
        at = f"{was.where}: {called(top) or top}" if top else was.where
        if not before or not after:
            safety = bool(_parts(*before, *after) & SAFETY) or (not after and bool(_parts(top) & MISSED))
            yield _gave(now, at, _told(before, top), _told(after, top), safety=now.safe or safety)
            continue
        for leaf in dict.fromkeys((*after, *before)):
            old, new = before.get(leaf, ""), after.get(leaf, "")
            if old != new:
                below = called(leaf.removeprefix(top))
                texts = ("its lines before", "its lines now") if leaf.split(".")[-1] == DRAWN else (old, new)
                safety = bool(_parts(leaf) & SAFETY)
                yield _gave(now, f"{at}, {below}" if below else at, *texts, safety=now.safe or safety)


def _top(leaf: str) -> str:
    """The key that a value stands below, with what tells it from another of its kind."""
    key, _, rest = leaf.partition(".")
    return f"{key}.{rest.partition('.')[0]}" if rest.startswith("@") else key


def _parts(*leaves: str) -> set[str]:
    return {part for leaf in leaves for part in leaf.split(".")}


def called(leaf: str) -> str:
    """A dotted key in words."""
    parts = (part for part in leaf.split(".") if part not in PLAIN and not part.startswith("@"))
    return ", ".join(CALLED.get(part, part.replace("_", " ")) for part in parts)


def _told(values: Mapping[str, str], below: str = "") -> str:
    """Values with their keys, on one line."""
    said = {leaf: "a drawing" if leaf.split(".")[-1] == DRAWN else text for leaf, text in values.items()}
    return "; ".join(f"{called(leaf.removeprefix(below))} {text}".strip() for leaf, text in said.items())


def _whole(one: Piece) -> str:
    said = _told({leaf: value for leaf, value in one.values.items() if one.text not in (value, f'"{value}"')})
    return "; ".join(filter(None, (one.text, said)))


def _moved(order: list[int]) -> tuple[list[int], list[int]]:
    """The stretch of an order that is not as it was, before and after."""
    was = sorted(order)
    apart = [at for at, (old, new) in enumerate(zip(was, order, strict=True)) if old != new]
    return was[apart[0] : apart[-1] + 1], order[apart[0] : apart[-1] + 1]


def leaves(value: Data, key: str = "") -> Iterator[tuple[str, str]]:
    """Every value of a piece as text, by its dotted key. A list of words is one value; one word is a list of one."""
    if isinstance(value, dict):
        for name, part in value.items():
            yield from leaves(part, f"{key}.{name}" if key else name)
    elif isinstance(value, list) and any(isinstance(one, (dict, list)) for one in value):
        for index, part in enumerate(value):
            yield from leaves(part, f"{key}.{index + 1}")
    elif isinstance(value, list):
        yield key, ", ".join(str(one) for one in value)
    elif value is not None:
        yield key, value


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


def _gave(of: Piece, where: str, before: str, after: str, *, safety: bool, number: bool = True) -> Difference:
    """The difference between two texts of a piece; whether it is one of figures, these tell."""
    counted = number and of.counted
    return Difference(where, before, after, counted and _numbers(before) != _numbers(after), safety)


def _numbers(text: str) -> list[str]:
    return [*_NUMBER.findall(text), *(word.lower() for word in _NUMBER_WORDS.findall(text))]
