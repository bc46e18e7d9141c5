"""A shared file cut into the pieces that are compared whole: one step, one part, one fastener, one limit.

Two clubs' changes are put together piece by piece. A step that both changed, or a nut of which one changed the torque
and the other the threadlocker, is never mixed: nobody wrote that mixture, and nobody tried it.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Sequence
from functools import lru_cache

from docgen.club.schema.procedure import VERBS
from docgen.club.yamldoc import Data

LISTS = ("safety", "stages", "steps", "after_run", "paragraphs")
"""Lists whose items are pieces; a procedure's stages are one list of its stages' headings and steps. Paragraphs are
those of a page that teaches."""
MAPS = ("parts", "fasteners", "limits", "settings", "fluids", "intervals")
"""Mappings of a model whose entries are pieces; every other key of a file is one piece."""
BOOKKEEPING = ("revision", "dated")
HEADING = "stage"
HANDLING = tuple(key for key, verb in VERBS.items() if verb.handles)
"""Keys by which a step whose words are others is known again."""
LIKE = 50.0
"""Least likeness of two texts, in per cent, at which one is taken for the other reworded. Of 237 steps of the demo
club, nearly all were known again with up to five words changed, and one pair of strangers in a hundred was."""
TEXTS = ("row", "adds", "line", "do", "why", "accept", "until", "hazard", "consequence", "avoid", "title", "purpose",
         "name", "note_also")  # fmt: skip
"""Keys whose values are sentences."""
_SHORT = 400
_NUMBER = re.compile(r"\d+(?:[.,/]\d+)*")


def pieces(file: dict[str, Data], key: str) -> list[Data]:
    """The list `key` of a file as its pieces. Stages come out flat: a heading without its steps, then its steps."""
    value = file.get(key)
    if not isinstance(value, list):
        return []
    if key != "stages":
        return list(value)
    flat: list[Data] = []
    for stage in value:
        assert isinstance(stage, dict)
        steps = stage["steps"]
        flat.append({name: part for name, part in stage.items() if name != "steps"})
        flat += steps if isinstance(steps, list) else [steps]
    return flat


def together(flat: Sequence[Data], key: str) -> list[Data]:
    """The list `key` again from its pieces; a step before the first heading goes into that first stage."""
    if key != "stages":
        return list(flat)
    stages: list[Data] = []
    early: list[Data] = []
    for piece in flat:
        if isinstance(piece, dict) and HEADING in piece:
            early, steps = [], [*early]
            stages.append({**piece, "steps": steps})
            current = steps
        elif stages:
            current.append(piece)
        else:
            early.append(piece)
    return stages


def aligned(before: Sequence[Data], after: Sequence[Data]) -> dict[int, int]:
    """Which piece of `after` each piece of `before` has become, in order; those not in it are gone.

    The pairs never cross, and are chosen so that the sum of their likeness is largest. O(n m) after what is the same
    at both ends has been taken off.
    """
    start = 0
    while start < min(len(before), len(after)) and before[start] == after[start]:
        start += 1
    end = 0
    while end < min(len(before), len(after)) - start and before[-1 - end] == after[-1 - end]:
        end += 1
    pairs = {at: at for at in range(start)}
    inner = _best(before[start : len(before) - end], after[start : len(after) - end])
    pairs |= {start + one: start + other for one, other in inner.items()}
    return pairs | {len(before) - back: len(after) - back for back in range(end, 0, -1)}


def _best(before: Sequence[Data], after: Sequence[Data]) -> dict[int, int]:
    likeness = [[like(one, other) for other in after] for one in before]
    best = [[0.0] * (len(after) + 1) for _ in range(len(before) + 1)]
    for row in range(len(before) - 1, -1, -1):
        for col in range(len(after) - 1, -1, -1):
            pair = likeness[row][col]
            taken = pair + best[row + 1][col + 1] if pair else 0.0
            best[row][col] = max(best[row + 1][col], best[row][col + 1], taken)
    pairs, row, col = {}, 0, 0
    while row < len(before) and col < len(after):
        pair = likeness[row][col]
        if pair and best[row][col] == pair + best[row + 1][col + 1]:
            pairs[row] = col
            row, col = row + 1, col + 1
        elif best[row][col] == best[row + 1][col]:
            row += 1
        else:
            col += 1
    return pairs


def like(one: Data, other: Data) -> float:
    """How much two pieces are the same thing: 100 the very same, 0 not at all."""
    if one == other:
        return 100.0
    if isinstance(one, str) and isinstance(other, str):
        return likeness(one, other)
    if not isinstance(one, dict) or not isinstance(other, dict) or (HEADING in one) != (HEADING in other):
        return 0.0
    names = [name(piece) for piece in (one, other)]
    if all(names):
        return 99.0 if names[0] == names[1] else 0.0
    if "use" in one or "use" in other:
        return 90.0 if one.get("use") == other.get("use") else 0.0
    text = likeness(words(one), words(other))
    moved = [{verb: one_list(piece[verb]) for verb in HANDLING if verb in piece} for piece in (one, other)]
    return max(text, 70.0 if moved[0] and moved[0] == moved[1] else 0.0)


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


def name(piece: Data) -> str:
    """A piece's own name: the id of a step, of its hold or look; empty where it has none."""
    if not isinstance(piece, dict):
        return ""
    for part in (piece, piece.get("hold"), piece.get("look")):
        if isinstance(part, dict) and isinstance(found := part.get("id"), str):
            return found
    return ""


def words(piece: Data) -> str:
    """A piece's text: what a step does, what a message says, a stage's heading."""
    if not isinstance(piece, dict):
        return piece if isinstance(piece, str) else ""
    for key in ("do", HEADING, "use", "hazard"):
        if key in piece:
            return spoken(piece[key])
    return ""


def spoken(text: Data) -> str:
    """A text that may be held in several languages, as one."""
    if isinstance(text, dict):
        return " / ".join(one for one in text.values() if isinstance(one, str))
    return text if isinstance(text, str) else ""


def one_list(value: Data) -> Data:
    """A list, also where it was written as one word."""
    return [value] if isinstance(value, str) else value


def figures(text: str) -> list[str]:
    """The numbers in a text, in their order."""
    return _NUMBER.findall(text)
