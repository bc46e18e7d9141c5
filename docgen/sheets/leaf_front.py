"""What stands before the rows of the bench leaf: the strip of hazards, and tools, materials and parts to lay ready."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import count
from typing import NamedTuple

from docgen.club.words import Words
from docgen.job.job import Instructions, Message
from docgen.sheets.figures import capital, figure, gathered
from docgen.sheets.measure import lines_of
from docgen.sheets.measure import width as measured
from docgen.sheets.signals import Signal, signal

LONG = 20
"""Lines of the highest list from which on the lists flow in the columns, in parts of ``PART`` items."""
PART = 12


class Lists(NamedTuple):
    """Title, text and share of the width in per cent of each list; or, where they are long, title and text of parts."""

    beside: tuple[tuple[str, str, float], ...] = ()
    flowing: tuple[tuple[str, str], ...] = ()


def lists(told: Instructions, words: Words, room: float) -> Lists:
    """Tools, materials and parts to lay ready; a visit's are on its kit list, where they are many.

    room : width of the sheet, in ems of the lists' type
    """
    titles = (words("Tools"), words("Materials"), words("Parts"))
    named = [(title, text) for title, text in zip(titles, _listed(told, words), strict=True) if text]
    lines, shares = _shares([f"{title} {text}" for title, text in named], [15.0] * len(named), room)
    if lines <= LONG:
        return Lists(beside=tuple((*one, share) for one, share in zip(named, shares, strict=True)))
    if told.parts:
        return Lists(flowing=(("", words("Tools, materials and parts to lay ready: by the kit list of this visit.")),))
    return Lists(flowing=tuple(part for one in named for part in _parted(*one)))


def _listed(told: Instructions, words: Words) -> tuple[str, str, str]:
    tools = [capital(name) for name in gathered(figure(one.name, words) for one in told.tools)]
    materials = [
        ", ".join((capital(one.name), *(figure(amount, words) for amount in one.amounts))) for one in told.materials
    ]
    parts = [
        (f"{one.count} × {one.name}" if one.count > 1 else capital(one.name))
        + (f" {one.number}" if one.number else "")
        + (f" ({words('needed')})" if one.sure else "")
        for one in told.spares
    ]
    return " · ".join(tools) or words("No tools are needed."), " · ".join(materials), " · ".join(parts)


def _shares(texts: Sequence[str], least: Sequence[float], room: float) -> tuple[int, tuple[float, ...]]:
    """Lines of the highest of texts that stand side by side, as few as can be, and their widths in per cent.

    least : the least width of each, per cent; room : the whole width, in ems of their type
    """
    for lines in count(1):
        needed = [_narrowest(text, lines, low, room) for text, low in zip(texts, least, strict=True)]
        if sum(needed) <= 100:
            return lines, tuple(round(one * 100 / sum(needed), 2) for one in needed)
    raise AssertionError


@lru_cache(maxsize=10_000)
def _narrowest(text: str, lines: int, least: float, room: float) -> float:
    """The least width, in per cent, at which a text takes no more than so many lines."""
    steps = range(max(0, int(100 - least)) + 2)
    return least + bisect_left(steps, True, key=lambda n: lines_of(text, room * (least + n) / 100 - 1.2) <= lines)


def _parted(title: str, text: str) -> Iterator[tuple[str, str]]:
    """A list too long to stand beside the others, as parts that flow in the columns."""
    items = text.split(" · ") if text else []
    for first in range(0, len(items), PART):
        yield "" if first else title, " · ".join(items[first : first + PART])


@dataclass(frozen=True)
class Panel:
    """One panel of the strip: all hazards of one signal word, and its share of the strip's width in per cent."""

    signal: Signal
    hazards: tuple[str, ...]
    share: float


def panels(met: Sequence[Message], words: Words, room: float) -> list[Panel]:
    """The strip of hazards, one panel a signal word, the gravest first, of equal height. A notice hurts nobody.

    No panel is narrower than its signal word. room : width of the sheet, in ems of the panels' type
    """
    by_word = {
        word: dict.fromkeys(one.hazard for one in met if one.word == word) for word in ("danger", "warning", "caution")
    }
    first = {one.word: one for one in reversed(met)}
    said = {word: signal(first[word], words) for word, hazards in by_word.items() if hazards}
    least = [100 * (1.05 * measured(one.word, bold=True) + 3.2) / room for one in said.values()]
    _, shares = _shares([" ".join(by_word[word]) for word in said], least, room)
    return [Panel(one, tuple(by_word[word]), share) for (word, one), share in zip(said.items(), shares, strict=True)]
