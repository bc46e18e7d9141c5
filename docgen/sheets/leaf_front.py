"""What stands before the rows of the bench leaf: the strip of hazards, and tools, materials and parts to lay ready."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from docgen.job.job import Instructions, Message
from docgen.sheets.figures import capital, figure, gathered
from docgen.sheets.measure import lines_of
from docgen.sheets.measure import width as measured
from docgen.sheets.signals import Signal, signal
from docgen.sheets.words import Words

LONG = 20
"""Lines of the highest list from which on the lists flow in the columns, in parts of ``PART`` items."""
PART = 12


class Lists(NamedTuple):
    """Title, text and share of the width in per cent of each list; or, where they are long, title and text of parts."""

    beside: tuple[tuple[str, str, float], ...] = ()
    flowing: tuple[tuple[str, str], ...] = ()


def lists(told: Instructions, words: Words, room: float) -> Lists:
    """Tools, materials and parts to lay ready. room : width of the sheet, in ems of the lists' type."""
    texts = _listed(told, words)
    titles = (words.tools, words.materials, words.parts)
    shares = _shares(texts, room)
    used = [text for text in texts if text]
    if _lines(used, tuple(share for share in shares if share), room)[0] <= LONG:
        return Lists(beside=tuple(zip(titles, texts, shares, strict=True)))
    return Lists(
        flowing=tuple(part for title, text in zip(titles, texts, strict=True) for part in _parted(title, text))
    )


def _listed(told: Instructions, words: Words) -> tuple[str, str, str]:
    tools = [capital(name) for name in gathered(figure(one.name, words) for one in told.tools)]
    materials = [capital(one.name) + (f", {figure(one.amount, words)}" if one.amount else "") for one in told.materials]
    parts = [
        (f"{one.count} × {one.name}" if one.count > 1 else capital(one.name))
        + (f" {one.number}" if one.number else "")
        + (f" ({words.needed})" if one.sure else "")
        for one in told.spares
    ]
    return " · ".join(tools) or words.no_tools, " · ".join(materials), " · ".join(parts)


def _shares(texts: Sequence[str], room: float) -> tuple[float, ...]:
    """The widths of the lists, in per cent, so that the highest of them takes as few lines as can be.

    room : width of the sheet, in ems of the lists' type
    """
    used = [text for text in texts if text]
    if len(used) < 2:
        return tuple(100.0 if text else 0.0 for text in texts)
    steps = range(15, 76, 3)
    ways = (
        way
        for first in steps
        for second in (steps if len(used) > 2 else (100 - first,))
        if (way := (first, second) if len(used) < 3 else (first, second, 100 - first - second))[-1] >= 15
    )
    best = min(ways, key=lambda way: _lines(used, way, room))
    shares = iter(best)
    return tuple(float(next(shares)) if text else 0.0 for text in texts)


def _parted(title: str, text: str) -> Iterator[tuple[str, str]]:
    """A list too long to stand beside the others, as parts that flow in the columns."""
    items = text.split(" · ") if text else []
    for first in range(0, len(items), PART):
        yield "" if first else title, " · ".join(items[first : first + PART])


def _lines(texts: Sequence[str], way: Sequence[float], room: float) -> tuple[int, int]:
    lines = [lines_of(f"{text} Materials", room * share / 100 - 1.2) for text, share in zip(texts, way, strict=True)]
    return max(lines), sum(lines)


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
    lengths = {word: sum(map(len, hazards)) + 60 for word, hazards in by_word.items() if hazards}
    first = {one.word: one for one in reversed(met)}
    said = {word: signal(first[word], words) for word in lengths}
    least = {word: 100 * (1.05 * measured(one.word, bold=True) + 3.2) / room for word, one in said.items()}
    spread = (100 - sum(least.values())) / max(1, sum(lengths.values()))
    return [
        Panel(said[word], tuple(by_word[word]), round(least[word] + spread * length, 2))
        for word, length in lengths.items()
    ]
