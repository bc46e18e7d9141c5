"""The bench checklist: laminated, clipped to the bench, ticked with a dry-wipe marker."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import takewhile

from markupsafe import Markup

from docgen.club.schema.club import Club
from docgen.job.job import Instructions, Job, JobStep
from docgen.job.marks import SealMark, StartMark, TorqueMark
from docgen.job.number import CHECKLIST, SheetNumber
from docgen.job.wording import in_text
from docgen.sheets.cells import Cell, pack
from docgen.sheets.drawings.symbols import SYMBOLS, symbol
from docgen.sheets.figures import capital, day, figure, minutes
from docgen.sheets.head import head_of, number_size
from docgen.sheets.jinja import fill
from docgen.sheets.measure import lines_of, longest_word
from docgen.sheets.numbering import Place, most_pages, numbering
from docgen.sheets.page import Page
from docgen.sheets.paper import PAPERS
from docgen.sheets.parts import Laid, With, arrange, beside, deviates, of_this_engine
from docgen.sheets.scale import Scale, scale_for
from docgen.sheets.signals import SIGNALS, Signal, signal
from docgen.sheets.step_parts import parts
from docgen.sheets.words import Words

FOOT = 2.5 + 12.0 + 2.0 + 7.0
"""Height of the foot without its text, mm: gap, the strip for where work stopped, gap, margin to the edge."""
BOX = 9.0
"""Side of a tick box for a dry-wipe marker, mm."""
CODE = 19.0
"""Side of the QR code, mm."""


@dataclass(frozen=True)
class StepBlock:
    """One step with everything that must stay on its page: stage heading, safety messages, cells.

    ``lines`` stand directly under the text, left of the column ``beside``; ``parts`` take the full width below.
    """

    stage: str
    signals: tuple[Signal, ...]
    step: JobStep
    beside: tuple[With, ...]
    lines: tuple[Laid, ...]
    parts: tuple[Laid, ...]


def _block(
    title: str, step: JobStep, started: set[str], deviated: frozenset[str], words: Words, room: float, scale: Scale
) -> StepBlock:
    marks = [
        mark.model_copy(update={"start_all_first": False})
        if isinstance(mark, TorqueMark) and mark.name in started
        else mark
        for mark in step.marks
    ]
    found = [
        part
        for mark in marks
        for part in (of_this_engine(parts(mark, words)) if deviates(mark, deviated) else parts(mark, words))
    ]
    laid = arrange(found, room, scale)
    lines = tuple(takewhile(lambda part: part.shape == "line", laid))
    signals = tuple(signal(message, words) for message in step.messages)
    return StepBlock(title, signals, step, beside(found), lines, laid[len(lines) :])


def _blocks(told: Instructions, words: Words, room: float, scale: Scale) -> list[StepBlock]:
    """The steps in order. That all are to be started by hand is said once: where a step starts them, if one does."""
    started: set[str] = set()
    blocks = []
    deviated = frozenset(one.item for one in told.deviations)
    for stage in told.stages:
        for n, step in enumerate(stage.steps):
            started |= {mark.name for mark in step.marks if isinstance(mark, StartMark)}
            blocks.append(_block(stage.title if n == 0 else "", step, started, deviated, words, room, scale))
    return blocks


def _times(told: Instructions, words: Words) -> tuple[Cell, ...]:
    """When it began, how long it takes, when the engine may run."""
    wait = minutes(told.wait_minutes, words) if told.wait_minutes else words.no_wait
    return (
        Cell(words.started, kind="write"),
        Cell(words.work_time, minutes(told.work_minutes, words)),
        Cell(words.wait_time, wait),
        Cell(words.not_before, kind="write"),
        Cell(words.hours_now, kind="write", unit=words.hour),
    )


def _stopped_asks(words: Words, small: float) -> tuple[float, ...]:
    """Width of the three questions of the strip for where work stopped, mm: what English needs, or a longer word."""
    asked = ((words.stopped_after, 9.6), (words.stopped_by, 2.0), (words.stopped_loose, 7.0))
    return tuple(round(max(least * small, longest_word(text, bold=True) * small + 2.4), 4) for text, least in asked)


def _stopped_gaps(room: float) -> tuple[float, float]:
    """Room to write the step and the name in the strip for where work stopped; the rest is for what is loose."""
    return round(min(17.0, room * 0.25), 2), round(min(30.0, room * 0.4), 2)


def checklist(job: Job, club: Club, words: Words | None = None) -> Page:
    """The bench checklist of a job.

    It holds only what stays true of the engine (``job.instructions``); what changes at every filing is on the
    sign-off sheet, and here it has boxes for the marker. The type sizes follow from ``club.bench_distance``.
    """
    words = words or Words.speaking(job.instructions.tongue)
    told = job.instructions
    paper, scale = PAPERS[club.bench_paper or club.paper], scale_for(club.bench_distance)
    clip, side, width = paper.clip, paper.side, paper.width - 2 * paper.side
    number = SheetNumber(told.engine, told.code, told.revision, job.print, CHECKLIST)
    place = Place(paper.width - side - CODE, clip + 0.5, CODE)
    head = head_of(
        told.engine,
        told.title,
        f"{words.engine} {told.plate} · {told.model_title}" if told.plate else told.model_title,
        room=width - CODE - 4,
        plate=round(scale.step * 5.6, 2),
        size=scale.middle,
        small=scale.small,
        least=CODE,
    )
    head_foot = clip + head.height + 4.5
    most = most_pages(len(told.steps))
    numbered = numbering(
        number, words, (place,), most, box="bottom-right-corner", side=side, top=head_foot, first_top=clip
    )  # fmt: skip
    mast, asks = round(scale.step * 6.6, 2), _stopped_asks(words, scale.small)
    foot_lines = max(2, lines_of(words.precedence, width / scale.small - 12.5))
    digits = len(str(max((step.number for step in told.steps), default=1)))
    numbers = round(max(digits, 2) * 0.62 * scale.number + 0.5, 2)
    indent = numbers + 2.5 + BOX + 4.0
    marks = [mark for step in told.steps for mark in step.marks]
    values = {
        "w": words,
        "club": club,
        "told": told,
        "most_pages": most,
        "scale": scale,
        "paper": paper,
        "clip": clip,
        "side": side,
        "code": CODE,
        "box": BOX,
        "head": head,
        "head_foot": head_foot,
        "signals": SIGNALS,
        "number": number,
        "figure": lambda text: figure(text, words),
        "day": lambda when: day(when, words),
        "capital": capital,
        "symbol": {name: Markup(symbol(name, words.symbols[name])) for name in SYMBOLS},
        "blocks": _blocks(told, words, width - indent, scale),
        "breaks_seal": any(isinstance(mark, SealMark) and mark.when == "removed" for mark in marks),
        "mast_plate": mast,
        "mast_figure": number_size(told.engine, mast, scale.step * 3.4),
        "foot": round(FOOT + 1.28 * scale.small * foot_lines, 2),
        "stopped_asks": asks,
        "stopped_gaps": _stopped_gaps(width - sum(asks)),
        "number_room": scale.small * 12.5,
        "beside_width": round(min(14 * scale.small, 0.36 * (width - indent)), 2),
        "number_width": numbers,
        "indent": indent,
        "times": pack(_times(told, words), width / scale.small),
    }
    return Page(
        html=fill("checklist.html.j2", **values),
        css=fill("checklist.css.j2", **values) + numbered.css,
        title=f"{words.bench_checklist}: {told.title}, {in_text(words.engine, words)} {told.engine}",
        subject=f"{number.text[:-2]}",
        identifier=number.body,
        language=words.language,
        codes=numbered.codes,
        halves=bool(paper.of),
    )
