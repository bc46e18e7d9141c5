"""What differs between two versions of a shared file, piece by piece, and whether it is a number or a safety matter."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Literal

from docgen.club.schema.procedure import VERBS
from docgen.club.yamldoc import Data
from docgen.share.spelling import respelled
from docgen.share.units import BOOKKEEPING, HEADING, LISTS, MAPS, TEXTS, aligned, figures, like, pieces, words

Kind = Literal["added", "removed", "moved", "changed"]
SAFETY = ("safety", "meets", "makes", "hazards", "critical", "start_all_first", "single_use", "hand_only", "off_leaf",
          *(key for key, verb in VERBS.items() if verb.safety))  # fmt: skip
"""Keys whose change is a matter of safety, whatever it is."""
DRAWN = "svg"
"""The key of a drawing's lines, whose figures nobody reads."""
MOVED = 90.0
"""Least likeness at which a piece that went here and came there has only been moved."""


@dataclass(frozen=True)
class Detail:
    """One value of a piece: its key, what it was, what it is; None where it was or is not there."""

    key: str
    before: str | None
    after: str | None

    @property
    def number(self) -> bool:
        """Whether a figure is not what it was; one in a sentence that came or went is part of that sentence."""
        last = self.key.split(".")[-1]
        if last == DRAWN or (None in (self.before, self.after) and last in TEXTS):
            return False
        return figures(self.before or "") != figures(self.after or "")

    @property
    def safety(self) -> bool:
        """Whether it is of a kind that is always a matter of safety."""
        return any(part in SAFETY for part in self.key.split("."))


@dataclass(frozen=True)
class Change:
    """One piece that came, went, moved or changed.

    group   : the key of the file that it is in: ``stages``, ``safety``, ``fasteners``, ``title``
    name    : a step's text, a message's hazard, the name in a model's mapping; empty for a key of its own
    stage   : the stage that a step is in; empty for everything else
    behind  : the text of the step that it stands behind; empty where it is the first
    details : what changed in it; for what came, what it says
    """

    kind: Kind
    group: str
    name: str
    stage: str = ""
    behind: str = ""
    details: tuple[Detail, ...] = ()

    @property
    def number(self) -> bool:
        """Whether a figure changed, or a limit or torque came or went."""
        return self.kind != "moved" and any(d.number for d in self.details) and self._counts

    @property
    def safety(self) -> bool:
        """Whether a step is gone, or a safety message, a hold point or a warning mark of a part is not as it was."""
        gone = self.kind == "removed" and self.group in LISTS
        return gone or self.group == "safety" or any(d.safety for d in self.details)

    @property
    def _counts(self) -> bool:
        return self.kind == "changed" or self.group in MAPS


def changes(before: dict[str, Data], after: dict[str, Data]) -> list[Change]:
    """What is different in `after`, in the order of the file.

    The revision and the day are left out, and what is only spelled otherwise: one word, or a list of it
    alone; a figure with or without noughts at its end.
    """
    found: list[Change] = []
    after = respelled(after, before)
    for key in dict.fromkeys((*after, *before)):
        was, now = before.get(key), after.get(key)
        if key in BOOKKEEPING or was == now:
            continue
        if key in LISTS:
            found += _in_list(key, pieces(before, key), pieces(after, key))
        elif key in MAPS:
            found += _in_map(key, was if isinstance(was, dict) else {}, now if isinstance(now, dict) else {})
        else:
            found.append(Change(_kind(was, now), key, "", details=_of(was, now)))
    return [one for one in found if one.kind != "changed" or one.details]


def _kind(was: Data, now: Data) -> Kind:
    return "added" if was is None else "removed" if now is None else "changed"


def _in_map(key: str, before: dict[str, Data], after: dict[str, Data]) -> Iterator[Change]:
    for name in dict.fromkeys((*after, *before)):
        was, now = before.get(name), after.get(name)
        if was != now:
            yield Change(_kind(was, now), key, name, details=_of(was, now))


def _in_list(key: str, before: Sequence[Data], after: Sequence[Data]) -> Iterator[Change]:
    pairs = aligned(before, after)
    back = {new: old for old, new in pairs.items()}
    gone = [at for at in range(len(before)) if at not in pairs]
    moved: dict[int, int] = {}
    for new in range(len(after)):
        if new not in back:
            old = next((at for at in gone if like(before[at], after[new]) >= MOVED), None)
            if old is not None:
                moved[new] = old
                gone.remove(old)
    for new, piece in enumerate(after):
        place = _place(after, new)
        if new in back:
            if before[back[new]] != piece:
                yield Change("changed", key, words(before[back[new]]), *place, _of(before[back[new]], piece))
        elif new in moved:
            yield Change("moved", key, words(piece), *place, _of(before[moved[new]], piece))
        else:
            yield Change("added", key, words(piece), *place, _of(None, piece))
    for old in gone:
        yield Change("removed", key, words(before[old]), *_place(before, old), _of(before[old], None))


def _of(before: Data, after: Data) -> tuple[Detail, ...]:
    return tuple(_details(before, after))


def _place(flat: Sequence[Data], at: int) -> tuple[str, str]:
    """The stage that a piece is in, and the text of the one before it there."""
    behind = words(flat[at - 1]) if at and not _heading(flat[at - 1]) else ""
    stage = next((words(flat[back]) for back in range(at, -1, -1) if _heading(flat[back])), "")
    return stage, behind


def _heading(piece: Data) -> bool:
    return isinstance(piece, dict) and HEADING in piece


def _details(before: Data, after: Data) -> Iterator[Detail]:
    was, now = dict(leaves(before)), dict(leaves(after))
    for key in dict.fromkeys((*now, *was)):
        if was.get(key) != now.get(key):
            yield Detail(key, was.get(key), now.get(key))


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
