"""The reading: the whole explanation of a job, for who does it the first time; on paper, at a desk or at the bench."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby

from docgen.club.schema.club import Club
from docgen.club.words import Words
from docgen.job import marks as m
from docgen.job.job import Instructions, Job, JobStage, JobStep
from docgen.job.number import READING, SheetNumber
from docgen.job.wording import in_text
from docgen.sheets.composition import number_size, page_of
from docgen.sheets.figures import capital, counted, figure, gathered, read_before, standing
from docgen.sheets.lesson import taught
from docgen.sheets.measure import longest_word, scale_for, shortened
from docgen.sheets.page import PAPERS, Body, Numbers, Page, Place
from docgen.sheets.reading_steps import Drawn, drawn_of, limit_facts, parts_of
from docgen.sheets.signals import SIGNALS, signal
from docgen.trade.quantity import parse_quantity

AT_HAND = parse_quantity("450 mm")
"""The distance at which a reading is read, in the hand or on a desk. Common practice, no source."""
EDGE, SIDE, HEAD, BETWEEN = 9.0, 12.0, 9.0, 6.0
"""Blank at head and foot, and at the sides; height of a running head; between the two columns; mm."""
MAST, MARGIN = 12.0, 25.0
"""Side of the first face's code and height of its head; width of the margin for what to have in the hands; mm."""
FEWEST, CHUNK, APART = 3, 2, 4.0
"""Inspections that make a table, its rows that stay together; between drawings side by side, mm."""
_INSPECTS = (m.LookMark, m.ReadingMark, m.ToolMark, m.RenewMark)


@dataclass(frozen=True)
class Block:
    """What is set as one: a heading, a step, a strip of drawings, a part of a table of inspections that ``goes_on``."""

    heading: str = ""
    step: JobStep | None = None
    lines: tuple[JobStep, ...] = ()
    goes_on: bool = False
    strip: tuple[Drawn, ...] = ()


def _inspection(step: JobStep) -> bool:
    """Whether a step only looks or measures, so that it may stand in a table."""
    looks = any(isinstance(mark, (m.LookMark, m.ReadingMark)) for mark in step.marks)
    return looks and not step.messages and all(isinstance(mark, _INSPECTS) for mark in step.marks)


def _blocks(stage: JobStage, drawn: Callable[[JobStep], list[Drawn]], room: float) -> Iterator[Block]:
    """The blocks of a stage on a page ``room`` mm wide; the heading knows what kind of block it stands over."""
    made: list[Block] = []
    for inspected, group in groupby(stage.steps, key=_inspection):
        steps = tuple(group)
        if not inspected or len(steps) < FEWEST:
            made += [Block(step=step) for step in steps]
            continue
        found = [(svg, f"{step.called} {text}".strip(), size) for step in steps for svg, text, size in drawn(step)]
        rows = _side_by_side([(size[0] + APART, size[1]) for _, _, size in found], room)
        made += [Block(strip=tuple(found[n] for n in row)) for row in rows]
        made += [Block(lines=steps[n : n + CHUNK], goes_on=n > 0) for n in range(0, len(steps), CHUNK)]
    if made and stage.title:
        yield Block(heading=stage.title, strip=made[0].strip, lines=made[0].lines)
    yield from made


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
    numbers = Numbers(
        number, f"{{face}} {words('of')} {{faces}}", (Place(paper.width - SIDE - HEAD, EDGE, HEAD),),
        (Place(paper.width - SIDE - MAST, EDGE, MAST),),
    )  # fmt: skip
    plate, gravity = round(scale.step * 6.2, 2), list(SIGNALS)
    deviated = frozenset(one.item for one in told.deviations)
    met = dict.fromkeys(one for step in told.steps for one in step.messages)

    def drawn(step: JobStep) -> list[Drawn]:
        return list(drawn_of(step, words, scale.small, body.column))

    def last(step: JobStep) -> list[str]:
        """What was read last of each thing that a step reads."""
        read = [mark for mark in step.marks if isinstance(mark, m.ReadingMark)]
        past = [one for mark in read for one in job.issue.last_readings.get(mark.limit, ())[-1:]]
        return [f"{read_before(one, words)} {words('at')} {figure(one.hours, words)}" for one in past]

    of = f"{in_text(words('Engine'), words)} {told.engine}" if told.plate else told.model_title
    return page_of(
        "reading", words, f"{words.pgettext('sheet', 'Reading')}: {told.title}, {of}", number.body,
        subject=number.text[:-2], body=body, numbers=numbers, club=club, told=told, scale=scale, paper=paper, side=SIDE,
        edge=EDGE, apart=APART, head=HEAD, mast=MAST, foot=foot, margin=MARGIN, signals=SIGNALS, plate=plate,
        plate_figure=number_size(told.plate or told.code, plate, HEAD * 0.8),
        title_size=min(7.0, (width - plate - MAST - 10) / max(1.0, longest_word(told.title, bold=True))),
        short_title=shortened(told.title, (width - plate - HEAD - 10) / scale.title, bold=True),
        panels=[signal(one, words) for one in sorted(met, key=lambda one: gravity.index(one.word))],
        teaching=taught(teaching), last=last, drawn_of=drawn, parts_of=lambda step: parts_of(step, deviated, words),
        limits=lambda mark: limit_facts(mark, m.deviates(mark, deviated), words), counted=counted,
        tools=[capital(name) for name in gathered(figure(one.name, words) for one in told.tools)],
        blocks=[block for stage in told.stages for block in _blocks(stage, drawn, body.width)],
        estimates=_estimates(told, words),
    )  # fmt: skip


def _estimates(told: Instructions, words: Words) -> dict[str, str]:
    """What is estimated, and from which alloys and assumptions: for who checks it, not for who turns the wrench."""
    marks = (mark for step in told.steps for mark in step.marks if isinstance(mark, m.TorqueMark))
    return {capital(mark.name): standing(mark.value, words) for mark in marks if mark.value.origin == "computed"}
