"""The reading: the whole explanation of a job, for who does it the first time; on paper, at a desk or at the bench."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import groupby

from docgen.club.schema.club import Club
from docgen.club.words import Words
from docgen.job import marks as m
from docgen.job.job import Instructions, Job, JobStage, JobStep
from docgen.job.number import READING, SheetNumber
from docgen.job.wording import in_text
from docgen.sheets.composition import page_of
from docgen.sheets.figures import capital, figure, gathered, read_before, standing
from docgen.sheets.head import number_size
from docgen.sheets.lesson import taught
from docgen.sheets.measure import longest_word, shortened
from docgen.sheets.numbering import Place, numbers_of
from docgen.sheets.page import Body, Page
from docgen.sheets.paper import PAPERS
from docgen.sheets.reading_steps import Drawn, Step, drawn, limit_facts, step_of
from docgen.sheets.scale import scale_for
from docgen.sheets.signals import SIGNALS, signal
from docgen.trade.quantity import parse_quantity

AT_HAND = parse_quantity("450 mm")
"""The distance at which a reading is read, in the hand or on a desk. Common practice, no source."""
EDGE, SIDE, HEAD, BETWEEN = 9.0, 12.0, 9.0, 6.0
"""Blank at head and foot, and at the sides; height of a running head; between the two columns; mm."""
MARGIN = 25.0
"""Width of the margin for what to have in the hands, mm."""
FEWEST, CHUNK, APART = 3, 2, 4.0
"""Inspections that make a table, its rows that stay together; between drawings side by side, mm."""
_INSPECTS = (m.LookMark, m.ReadingMark, m.ToolMark, m.RenewMark)


@dataclass(frozen=True)
class Block:
    """What is set as one: a heading, a step, a strip of drawings, a part of a table of inspections that ``goes_on``."""

    heading: str = ""
    step: Step | None = None
    lines: tuple[JobStep, ...] = ()
    goes_on: bool = False
    strip: tuple[Drawn, ...] = ()


def _inspection(step: JobStep) -> bool:
    """Whether a step only looks or measures, so that it may stand in a table."""
    looks = any(isinstance(mark, (m.LookMark, m.ReadingMark)) for mark in step.marks)
    return looks and not step.messages and all(isinstance(mark, _INSPECTS) for mark in step.marks)


class _Blocks:
    """The blocks of one job."""

    def __init__(self, job: Job, words: Words, body: Body, least: float) -> None:
        self.job, self.words, self.body, self.least = job, words, body, least
        self.deviated = frozenset(one.item for one in job.instructions.deviations)

    def of(self, stage: JobStage) -> Iterator[Block]:
        heading = stage.title
        for inspected, group in groupby(stage.steps, key=_inspection):
            steps = list(group)
            if inspected and len(steps) >= FEWEST:
                made = list(self._table(steps))
            else:
                room = self.body.column
                made = [Block(step=step_of(step, self.deviated, self.words, self.least, room)) for step in steps]
            for block in made:
                if heading:
                    yield Block(heading=heading, strip=block.strip, lines=block.lines)
                    heading = ""
                yield block

    def _table(self, steps: list[JobStep]) -> Iterator[Block]:
        found = [
            replace(one, caption=f"{step.called} {one.caption}".strip())
            for step in steps
            for one in drawn(step, self.words, self.least, self.body.column)
        ]
        for row in _side_by_side([(one.size[0] + APART, one.size[1]) for one in found], self.body.width):
            yield Block(strip=tuple(found[n] for n in row))
        for start in range(0, len(steps), CHUNK):
            yield Block(lines=tuple(steps[start : start + CHUNK]), goes_on=start > 0)

    def last(self, step: JobStep) -> list[str]:
        """What was read last of each thing that a step reads."""
        w, kept = self.words, self.job.issue.last_readings
        past = [one for mark in step.marks if isinstance(mark, m.ReadingMark) for one in kept.get(mark.limit, ())[-1:]]
        return [f"{read_before(one, w)} {w('at')} {figure(one.hours, w)}" for one in past]


def _side_by_side(sizes: Sequence[tuple[float, float]], room: float) -> list[list[int]]:
    """Drawings of like height in rows, each row in the order given; sizes are widths and heights, mm.

    >>> _side_by_side([(60, 10), (60, 30), (30, 10), (30, 30)], 100)
    [[1, 3], [0, 2]]
    """
    rows: list[list[int]] = []
    for n in sorted(range(len(sizes)), key=lambda n: -sizes[n][1]):
        if rows and sum(sizes[one][0] for one in rows[-1]) + sizes[n][0] <= room:
            rows[-1].append(n)
        else:
            rows.append([n])
    return [sorted(row) for row in rows]


def reading(job: Job, club: Club, teaching: str = "") -> Page:
    """The reading of a job, for an engine or, where the job is a blank one, for its engine type.

    teaching : what the procedure's own page teaches, as Markdown; it stands at the front
    """
    words = Words.speaking(job.instructions.tongue)
    told, paper, scale = job.instructions, PAPERS[club.paper], scale_for(AT_HAND)
    width = paper.width - 2 * SIDE
    foot = EDGE + 1.3 * scale.small
    body = Body(
        left=SIDE,
        width=width,
        first=(EDGE, paper.height - EDGE - foot - 2.0),
        others=(EDGE + HEAD + 2.0, paper.height - EDGE - HEAD - foot - 4.0),
        gap=BETWEEN,
    )
    number = SheetNumber(told.engine, told.code, told.revision, job.print, READING)
    code = 12.0
    numbers = numbers_of(
        number, f"{{face}} {words('of')} {{faces}}", (Place(paper.width - SIDE - HEAD, EDGE, HEAD),),
        (Place(paper.width - SIDE - code, EDGE, code),),
    )  # fmt: skip
    plate = round(scale.step * 6.2, 2)
    blocks = _Blocks(job, words, body, scale.small)
    met = [message for step in told.steps for message in step.messages]
    values = {
        "club": club,
        "told": told,
        "most_pages": numbers.most,
        "scale": scale,
        "paper": paper,
        "side": SIDE,
        "edge": EDGE,
        "apart": APART,
        "head": HEAD,
        "mast": code,
        "foot": foot,
        "plate": plate,
        "plate_figure": number_size(told.plate or told.code, plate, HEAD * 0.8),
        "margin": MARGIN,
        "title_size": min(7.0, (width - plate - code - 10) / max(1.0, longest_word(told.title, bold=True))),
        "short_title": shortened(told.title, (width - plate - HEAD - 10) / scale.title, bold=True),
        "signals": SIGNALS,
        "number": number,
        "panels": [signal(one, words) for one in dict.fromkeys(met)],
        "last": blocks.last,
        "limits": lambda mark: limit_facts(mark, m.deviates(mark, blocks.deviated), words),
        "teaching": taught(teaching),
        "tools": [capital(name) for name in gathered(figure(one.name, words) for one in told.tools)],
        "blocks": [block for stage in told.stages for block in blocks.of(stage)],
        "parts": _parts(told),
        "estimates": _estimates(told, words),
    }
    of = f"{in_text(words('Engine'), words)} {told.engine}" if told.plate else told.model_title
    title = f"{words.pgettext('sheet', 'Reading')}: {told.title}, {of}"
    return page_of("reading", words, values, title, number.body, subject=number.text[:-2], body=body, numbers=numbers)


def _estimates(told: Instructions, words: Words) -> list[tuple[str, str]]:
    """What is estimated, and from which alloys and assumptions: for who checks it, not for who turns the wrench."""
    marks = (mark for step in told.steps for mark in step.marks if isinstance(mark, m.TorqueMark))
    made = {capital(mark.name): standing(mark.value, words) for mark in marks if mark.value.origin == "computed"}
    return list(made.items())


def _parts(told: Instructions) -> list[tuple[str, str, bool]]:
    """Name, number and whether it is needed for sure, of each part to have ready."""
    return [
        (f"{one.count} × {one.name}" if one.count > 1 else capital(one.name), one.number, one.sure)
        for one in told.spares
    ]
