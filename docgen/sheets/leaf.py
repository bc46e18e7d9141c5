"""The bench leaf: laminated, clipped to the bench, for whoever has done the job and must forget nothing."""

from bisect import bisect_left
from collections.abc import Sequence
from functools import lru_cache
from itertools import count
from typing import NamedTuple

from docgen.club.schema.club import Club
from docgen.club.words import Words
from docgen.job.job import Instructions, Job, Message
from docgen.job.number import LEAF, SheetNumber
from docgen.job.wording import in_text
from docgen.sheets.composition import number_size, page_of
from docgen.sheets.entries import touched
from docgen.sheets.figures import capital, counted, figure, gathered
from docgen.sheets.jinja import PRECEDENCE
from docgen.sheets.leaf_rows import below, beside, drawn, instead, stacked, wide
from docgen.sheets.measure import lines_of, longest_word, scale_for, shortened
from docgen.sheets.measure import width as measured
from docgen.sheets.page import PAPERS, Body, Numbers, Page, Place
from docgen.sheets.signals import SIGNALS, Signal, signal

CLIP, EDGE, SIDE = 20.0, 6.0, 7.0
"""Blank at the top of the first face, for the clip; at the top of all others and at the foot; at both sides; mm."""
HEAD, GAP = 12.0, 1.5
"""Height of a face's head and the gap below it, mm."""
STOPPED, BOX = 8.0, 6.0
"""Height of the strip for where work stopped; side of a tick box for a fine dry-wipe marker; mm."""
BETWEEN, STRETCH = 3.0, 2.5
"""Between the two columns; the most that is put between two rows so that a face is filled; mm."""
LONG, PART = 20, 12
"""Lines of the highest list from which on lists flow in the columns, and how many items a part of one then has."""


class Lists(NamedTuple):
    """Title, text and share of the width in per cent of each list; or, where they are long, title and text of parts."""

    beside: Sequence[tuple[str, str, float]] = ()
    flowing: Sequence[tuple[str, str]] = ()


def leaf(job: Job, club: Club) -> Page:
    """The bench leaf of a job.

    It holds only what stays true of the engine (``job.instructions``); what changes at every filing is written on it
    with a dry-wipe marker. The type sizes follow from ``club.bench_distance``.
    """
    told = job.instructions
    words = Words.speaking(told.tongue)
    paper, scale = PAPERS[club.bench_paper or club.paper], scale_for(club.bench_distance)
    width = paper.width - 2 * SIDE
    number = SheetNumber(told.engine, told.code, told.revision, job.print, LEAF)
    number_room = scale.small * (measured(f"{number.text[:-1]}W · 9 {words('of')} 9", bold=True) + 1.0)
    foot_lines = lines_of(words(PRECEDENCE), (width - number_room) / scale.small)
    foot = STOPPED + 0.8 + (1.2 * foot_lines + 0.1) * scale.small + EDGE
    body = Body(
        left=SIDE,
        width=width,
        first=(CLIP, paper.height - CLIP - foot - GAP),
        others=(EDGE + HEAD + GAP, paper.height - EDGE - HEAD - foot - 2 * GAP),
        gap=BETWEEN,
        stretch=STRETCH,
        even=True,
    )
    corner = paper.width - SIDE - HEAD
    numbers = Numbers(
        number, f"{{face}} {words('of')} {{faces}}", (Place(corner, EDGE, HEAD),), (Place(corner, CLIP, HEAD),)
    )
    plate = round(max(22.0, scale.step * 5.4), 2)
    titles = width - plate - HEAD - 8
    digits = len(str(max((row.number for stage in told.stages for row in stage.rows), default=1)))
    met = [message for step in told.steps for message in step.messages]
    here, deviated = touched(told), frozenset(one.item for one in told.deviations)
    title = shortened(told.title, titles / scale.title, bold=True)

    def beside_width(needed: float) -> float:  # mm: what its figures need, and no more than a good third
        return round(min(needed * 1.03 * scale.small + 2.6, 0.46 * body.column), 2)

    return page_of(
        "leaf", words, f"{words('Bench leaf')}: {told.title}, {in_text(words('Engine'), words)} {told.engine}",
        number.body, subject=number.text[:-2], body=body, numbers=numbers, club=club, told=told, scale=scale,
        side=SIDE, edge=EDGE, foot=foot, paper=paper, head=HEAD, box=BOX, stopped=STOPPED, number_room=number_room,
        plate=plate, plate_figure=number_size(told.engine, plate, HEAD * 0.8), title=title,
        title_size=min(scale.title, titles / max(1.0, longest_word(title, bold=True))),
        digits=round(max(digits, 2) * 0.62 * scale.step + 0.3, 2), ems=lambda text: round(measured(text) + 0.2, 2),
        signals=SIGNALS, lists=_lists(told, words, width / scale.small),
        panels=_panels(met, words, width / scale.small),
        deviations=[(one.name, instead(one, told.steps, words)) for one in told.deviations if one.item in here],
        elsewhere=[one for one in told.deviations if one.item not in here],
        below_of=lambda row: below(row, words), beside_of=lambda row: beside(row, deviated, words),
        stacks_of=lambda stage: stacked(stage, words, scale, width),
        drawn_of=lambda row: drawn(row, words, scale, body.column),
        beside_width=lambda facts: beside_width(max(wide(one, words) for one in facts)),
    )  # fmt: skip


def _lists(told: Instructions, words: Words, room: float) -> Lists:
    """Tools, materials and parts to lay ready; a visit's are on its kit list, where they are many.

    room : width of the sheet, in ems of the lists' type
    """
    titles = (words("Tools"), words("Materials"), words("Parts"))
    named = [(title, text) for title, text in zip(titles, _listed(told, words), strict=True) if text]
    lines, shares = _shares([f"{title} {text}" for title, text in named], [15.0] * len(named), room)
    if lines <= LONG:
        return Lists(beside=[(*one, share) for one, share in zip(named, shares, strict=True)])
    if told.parts:
        return Lists(flowing=[("", words("Tools, materials and parts to lay ready: by the kit list of this visit."))])
    return Lists(flowing=[
        ("" if first else title, " · ".join(items[first : first + PART]))
        for title, items in ((title, text.split(" · ")) for title, text in named)
        for first in range(0, len(items), PART)
    ])  # fmt: skip


def _listed(told: Instructions, words: Words) -> tuple[str, str, str]:
    tools = [capital(name) for name in gathered(figure(one.name, words) for one in told.tools)]
    materials = [
        ", ".join((capital(one.name), *(figure(amount, words) for amount in one.amounts))) for one in told.materials
    ]
    parts = [
        counted(one.name, one.count)
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


def _panels(met: Sequence[Message], words: Words, room: float) -> list[tuple[Signal, Sequence[str], float]]:
    """The strip of hazards, one panel a signal word, the gravest first, of equal height: with all hazards of the word,
    and its share of the width in per cent. A notice hurts nobody.

    No panel is narrower than its signal word. room : width of the sheet, in ems of the panels' type
    """
    by_word = [[one for one in met if one.word == word] for word in ("danger", "warning", "caution")]
    said = [signal(some[0], words) for some in by_word if some]
    hazards = [list(dict.fromkeys(one.hazard for one in some)) for some in by_word if some]
    least = [100 * (1.05 * measured(one.word, bold=True) + 3.2) / room for one in said]
    _, shares = _shares([" ".join(one) for one in hazards], least, room)
    return list(zip(said, hazards, shares, strict=True))
