"""The bench leaf: laminated, clipped to the bench, for whoever has done the job and must forget nothing."""

from __future__ import annotations

from docgen.club.schema.club import Club
from docgen.club.words import Words
from docgen.job.job import Job
from docgen.job.marks import SealMark
from docgen.job.number import LEAF, SheetNumber
from docgen.job.wording import in_text
from docgen.sheets.composition import page_of
from docgen.sheets.entries import touched
from docgen.sheets.head import number_size
from docgen.sheets.jinja import PRECEDENCE
from docgen.sheets.leaf_front import lists, panels
from docgen.sheets.leaf_rows import Beside, below, beside, drawn
from docgen.sheets.measure import lines_of, longest_word, shortened
from docgen.sheets.measure import width as measured
from docgen.sheets.numbering import Place, numbers_of
from docgen.sheets.page import Body, Page
from docgen.sheets.paper import PAPERS
from docgen.sheets.scale import Scale, scale_for
from docgen.sheets.signals import SIGNALS

CLIP, EDGE, SIDE = 20.0, 6.0, 7.0
"""Blank at the top of the first face, for the clip; at the top of all others and at the foot; at both sides; mm."""
HEAD, GAP = 12.0, 1.5
"""Height of a face's head and the gap below it, mm."""
STOPPED = 8.0
"""Height of the strip for where work stopped, mm."""
BOX = 6.0
"""Side of a tick box for a fine dry-wipe marker, mm."""
BETWEEN = 3.0
"""Between the two columns, mm."""
STRETCH = 2.5
"""The most that is put between two rows so that a face is filled, mm."""


def _beside_width(beside: tuple[Beside, ...], column: float, scale: Scale) -> float:
    """The width of a row's right-hand cell, mm: what its figures need, and no more than a good third."""
    if not beside:
        return 0.0
    return round(min(max(one.wide for one in beside) * 1.03 * scale.small + 2.6, 0.46 * column), 2)


def leaf(job: Job, club: Club) -> Page:
    """The bench leaf of a job.

    It holds only what stays true of the engine (``job.instructions``); what changes at every filing is written on it
    with a dry-wipe marker. The type sizes follow from ``club.bench_distance``.
    """
    words = Words.speaking(job.instructions.tongue)
    told = job.instructions
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
    numbers = numbers_of(
        number, f"{{face}} {words('of')} {{faces}}", (Place(corner, EDGE, HEAD),), (Place(corner, CLIP, HEAD),)
    )
    plate = round(max(22.0, scale.step * 5.4), 2)
    titles = width - plate - HEAD - 8
    digits = len(str(max((row.number for stage in told.stages for row in stage.rows), default=1)))
    digits_wide = round(max(digits, 2) * 0.62 * scale.step + 0.3, 2)
    met = [message for step in told.steps for message in step.messages]
    here, deviated = touched(told), frozenset(one.item for one in told.deviations)
    title = shortened(told.title, titles / scale.title, bold=True)
    values = {
        "club": club,
        "told": told,
        "most_pages": numbers.most,
        "scale": scale,
        "side": SIDE,
        "edge": EDGE,
        "foot": foot,
        "paper": paper,
        "head": HEAD,
        "box": BOX,
        "plate": plate,
        "plate_figure": number_size(told.engine, plate, HEAD * 0.8),
        "title": title,
        "title_size": min(scale.title, titles / max(1.0, longest_word(title, bold=True))),
        "stopped": STOPPED,
        "digits": digits_wide,
        "number_room": number_room,
        "lists": lists(told, words, width / scale.small),
        "signals": SIGNALS,
        "number": number,
        "ems": lambda text: round(measured(text) + 0.2, 2),
        "panels": panels(met, words, width / scale.small),
        "deviations": [one for one in told.deviations if one.item in here],
        "elsewhere": [one for one in told.deviations if one.item not in here],
        "seals": any(isinstance(mark, SealMark) for step in told.steps for mark in step.marks),
        "below_of": lambda row: below(row, words),
        "beside_of": lambda row: beside(row, deviated, words),
        "drawn_of": lambda row: drawn(row, words, scale, body.column),
        "beside_width": lambda beside: _beside_width(beside, body.column, scale),
    }
    title = f"{words('Bench leaf')}: {told.title}, {in_text(words('Engine'), words)} {told.engine}"
    return page_of("leaf", words, values, title, number.body, subject=number.text[:-2], body=body, numbers=numbers)
