"""Two clubs' changes of one file put together, held against the text that both began from."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from docgen.club.yamldoc import Data
from docgen.share.spelling import respelled
from docgen.share.units import BOOKKEEPING, LISTS, MAPS, aligned, pieces, together

File = dict[str, Data]
Place = tuple[str, ...]
"""Where in a file: a key, or a mapping and the name in it, or a list."""


@dataclass(frozen=True)
class Conflict:
    """A piece that both changed, each in another way; an empty list where there is none (any more)."""

    place: Place
    base: tuple[Data, ...]
    ours: tuple[Data, ...]
    theirs: tuple[Data, ...]


@dataclass
class Merged:
    """What came of it; where there is a conflict, `data` holds our side of it."""

    data: File = field(default_factory=dict)
    conflicts: list[Conflict] = field(default_factory=list)


def merge(base: File, ours: File, theirs: File) -> Merged:
    """Put together what each side changed since `base`.

    A piece that one side changed is taken from that side; what both changed alike is taken once; what both changed in
    different ways is a conflict. Equal figures written differently are equal. The revision becomes one that neither
    side has used for another text.
    """
    merged, mine = Merged(), ours
    ours, theirs = respelled(ours, base), respelled(theirs, base)
    for key in _in_order(ours, theirs):
        was, here, there = base.get(key), ours.get(key), theirs.get(key)
        if key in BOOKKEEPING:
            continue
        if key in LISTS:
            found = _lists(merged, (key,), pieces(base, key), pieces(ours, key), pieces(theirs, key))
            value: Data = together(found, key) if found else None
        elif key in MAPS:
            value = _maps(merged, key, *(one if isinstance(one, dict) else {} for one in (was, here, there)))
        else:
            value = _piece(merged, (key,), was, here, there)
        if value is not None and value != {}:
            merged.data[key] = value
    return Merged(_booked(respelled(merged.data, mine), mine, theirs), merged.conflicts)


def _booked(data: File, ours: File, theirs: File) -> File:
    """With a revision above both, unless it is one side's very text; the later day."""
    if "revision" not in theirs or "revision" not in ours:
        return data
    same = [{key: part for key, part in side.items() if key not in BOOKKEEPING} == data for side in (ours, theirs)]
    revisions = [int(str(side["revision"])) for side in (ours, theirs)]
    days = [str(side.get("dated", "")) for side in (ours, theirs)]
    if same[1] and revisions[1] >= revisions[0]:
        revision, day = revisions[1], days[1]
    elif same[0] and revisions[0] >= revisions[1]:
        revision, day = revisions[0], days[0]
    else:
        revision = max(revisions) + 1
        day = max(days)
    booked = {**data, "revision": str(revision), "dated": day}
    return {key: booked[key] for key in _in_order(ours, theirs) if key in booked}


def _in_order(ours: File, theirs: File) -> list[str]:
    """All keys in our order; theirs that are new behind the one that they follow there."""
    keys = list(ours)
    last = -1
    for key in theirs:
        if key in keys:
            last = keys.index(key)
        else:
            last += 1
            keys.insert(last, key)
    return keys


def _piece(merged: Merged, place: Place, base: Data, ours: Data, theirs: Data) -> Data:
    if ours in (theirs, base):
        return theirs
    if theirs != base:
        merged.conflicts.append(Conflict(place, *(() if one is None else (one,) for one in (base, ours, theirs))))
    return ours


def _maps(merged: Merged, key: str, base: File, ours: File, theirs: File) -> Data:
    found = {
        name: _piece(merged, (key, name), base.get(name), ours.get(name), theirs.get(name))
        for name in _in_order(ours, theirs)
    }
    return {name: value for name, value in found.items() if value is not None}


def _lists(
    merged: Merged, place: Place, base: Sequence[Data], ours: Sequence[Data], theirs: Sequence[Data]
) -> list[Data]:
    """Between pieces that both sides still have, each stretch is taken from the side that changed it."""
    here, there = aligned(base, ours), aligned(base, theirs)
    found: list[Data] = []
    was = mine = other = 0
    for at in [*(at for at in range(len(base)) if at in here and at in there), len(base)]:
        to_mine, to_other = here.get(at, len(ours)), there.get(at, len(theirs))
        found += _stretch(merged, place, base[was:at], ours[mine:to_mine], theirs[other:to_other])
        if at < len(base):
            found.append(_piece(merged, place, base[at], ours[to_mine], theirs[to_other]))
        was, mine, other = at + 1, to_mine + 1, to_other + 1
    return found


def _stretch(
    merged: Merged, place: Place, base: Sequence[Data], ours: Sequence[Data], theirs: Sequence[Data]
) -> Sequence[Data]:
    if theirs in (ours, base):
        return ours
    if ours == base:
        return theirs
    # Who only reworded a piece that the other took out, or put one in where the other did too, is not overruled.
    merged.conflicts.append(Conflict(place, tuple(base), tuple(ours), tuple(theirs)))
    return ours
