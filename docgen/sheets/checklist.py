"""The bench checklist: laminated, clipped to the bench, ticked with a dry-wipe marker."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import takewhile

from markupsafe import Markup

from docgen.club.schema.club import Club
from docgen.job.job import Job, JobStage, JobStep, Message
from docgen.job.marks import SealMark, StartMark, TorqueMark
from docgen.job.number import CHECKLIST, SheetNumber
from docgen.sheets.drawings.symbols import SYMBOLS, alert, symbol
from docgen.sheets.figures import day, figure, minutes
from docgen.sheets.jinja import fill
from docgen.sheets.numbering import Place, numbering
from docgen.sheets.page import Page
from docgen.sheets.paper import CLIP, PAPERS
from docgen.sheets.parts import Laid, With, arrange, beside, capital, parts
from docgen.sheets.scale import scale_for
from docgen.sheets.words import Words

SIDE = 12.0
"""Blank margin left and right, mm."""
INDENT = 28.5
"""Width of the column of step numbers and tick boxes, mm."""
CODE = 19.0
"""Side of the QR code, mm."""
SIGNALS = {"danger": ("#fff", "#b3111d"), "warning": ("#000", "#f58220"), "caution": ("#000", "#ffd200"),
           "notice": ("#fff", "#0060a9")}
"""Letter colour and ground of each signal word panel (ANSI Z535.1: red, orange, yellow, blue; shades our own)."""


@dataclass(frozen=True)
class Signal:
    """A safety message ready to be set."""

    kind: str
    word: str
    sign: Markup
    message: Message


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


def signal(message: Message, words: Words) -> Signal:
    """A safety message with its panel's word and, for injuries, the safety-alert symbol (ANSI Z535.6)."""
    sign = "" if message.word == "notice" else alert(*SIGNALS[message.word])
    return Signal(message.word, words.signals[message.word], Markup(sign), message)


def _block(title: str, step: JobStep, started: set[str], words: Words, columns: float) -> StepBlock:
    marks = [
        mark.model_copy(update={"start_all_first": False})
        if isinstance(mark, TorqueMark) and mark.name in started
        else mark
        for mark in step.marks
    ]
    found = [part for mark in marks for part in parts(mark, words)]
    laid = arrange(found, columns)
    lines = tuple(takewhile(lambda part: part.shape == "line", laid))
    signals = tuple(signal(message, words) for message in step.messages)
    return StepBlock(title, signals, step, beside(found), lines, laid[len(lines):])


def _blocks(stages: tuple[JobStage, ...], words: Words, columns: float) -> list[StepBlock]:
    """The steps in order. That all are to be started by hand is said once: where a step starts them, if one does."""
    started: set[str] = set()
    blocks = []
    for stage in stages:
        for n, step in enumerate(stage.steps):
            started |= {mark.name for mark in step.marks if isinstance(mark, StartMark)}
            blocks.append(_block(stage.title if n == 0 else "", step, started, words, columns))
    return blocks


def checklist(job: Job, club: Club, words: Words | None = None) -> Page:
    """The bench checklist of a job.

    It holds only what stays true of the engine (``job.instructions``); what changes at every filing is on the
    sign-off sheet, and here it has boxes for the marker. The type sizes follow from ``club.bench_distance``.
    """
    words = words or Words()
    told = job.instructions
    paper, scale = PAPERS[club.paper], scale_for(club.bench_distance)
    number = SheetNumber(told.engine, told.code, told.revision, job.print, CHECKLIST)
    place = Place(paper.width - SIDE - CODE, CLIP + 0.5, CODE)
    head = CLIP + CODE + 3
    numbered = numbering(number, words, (place,), box="bottom-right-corner", side=SIDE, top=head, first_top=CLIP)
    marks = [mark for step in told.steps for mark in step.marks]
    values = {
        "w": words, "club": club, "told": told, "scale": scale, "paper": paper, "clip": CLIP, "side": SIDE,
        "code": CODE, "head": head, "signals": SIGNALS, "number": number,
        "figure": lambda text: figure(text, words), "day": lambda when: day(when, words),
        "minutes": lambda count: minutes(count, words),
        "capital": capital,
        "symbol": {name: Markup(symbol(name)) for name in SYMBOLS},
        "blocks": _blocks(told.stages, words, (paper.width - 2 * SIDE - INDENT) / scale.small),
        "breaks_seal": any(isinstance(mark, SealMark) and mark.when == "removed" for mark in marks),
        "plate": min(1.0, 3.2 / max(len(told.engine), 1)),
    }
    return Page(
        html=fill("checklist.html.j2", **values),
        css=fill("checklist.css.j2", **values) + numbered.css,
        title=f"{words.bench_checklist}: {told.title}, {words.engine.lower()} {told.engine}",
        subject=f"{number.text[:-2]}",
        identifier=number.body,
        language=club.language,
        codes=numbered.codes,
    )
