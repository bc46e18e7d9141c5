"""The short card: for who knows the job. Do a stage, stop, and confirm what hurts when it is missed.

It is read in the hand, not from the bench, so its type follows from a distance of its own.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import sqrt

from markupsafe import Markup

from docgen.club.schema.club import Club
from docgen.job.job import Instructions, Job, JobStep
from docgen.job.marks import SealMark, StartMark
from docgen.job.number import SHORT, SheetNumber
from docgen.job.short import Pause, pauses
from docgen.job.wording import in_text
from docgen.sheets.drawings.symbols import SYMBOLS, symbol
from docgen.sheets.figures import capital, day, figure
from docgen.sheets.head import head_of, number_size
from docgen.sheets.jinja import fill
from docgen.sheets.measure import lines_of
from docgen.sheets.measure import width as width_of
from docgen.sheets.numbering import Place, most_pages, numbering
from docgen.sheets.page import Page
from docgen.sheets.pagewords import PageWords
from docgen.sheets.paper import PAPERS
from docgen.sheets.scale import CAP_HEIGHT, LEAST, PREFERRED, scale_for
from docgen.sheets.short_facts import Fact, Said, facts, held, said
from docgen.sheets.signals import SIGNALS, Signal, signal
from docgen.trade.quantity import Quantity, parse_quantity

IN_HAND = parse_quantity("400 mm")
"""Reading distance of a card in the hand. Common practice, no source; a bench that is nearer still governs."""
TOP = 12.0
"""Blank strip at the top, mm: room to punch a hole through pouch and paper. Common practice, no source."""
BOX, CODE = 8.0, 17.0
"""Sides of a tick box for a dry-wipe marker and of the QR code, mm."""

FACT_PAD = 5.2
"""What the gap before a figure's cell, its padding and its rules take of its width, mm."""


@dataclass(frozen=True)
class Sizes:
    """Type sizes of the card, mm: steps as on a checklist for that distance, all else with capitals of 0.005 of it."""

    step: float
    small: float

    @property
    def middle(self) -> float:
        """Titles."""
        return round(sqrt(self.small * self.step), 3)


def sizes(distance: Quantity) -> Sizes:
    """The sizes for a reading distance: capitals half-way between the least and the preferred height of ``scale``.

    >>> sizes(IN_HAND)
    Sizes(step=5.121, small=2.994)
    """
    small = (LEAST + PREFERRED) / 2 * float(distance.to("mm").value) / CAP_HEIGHT
    return Sizes(scale_for(distance).step, round(small, 3))


@dataclass(frozen=True)
class Confirm:
    """One step to confirm, with everything that must stay on its page."""

    step: JobStep
    signals: tuple[Signal, ...]
    facts: tuple[Fact, ...]
    said: tuple[Said, ...]
    held: tuple[str, ...]


@dataclass(frozen=True)
class Stop:
    """A pause point: what was done on the way, and what is confirmed now."""

    titles: str
    done: str
    confirms: tuple[Confirm, ...]


def _stops(told: Instructions, words: PageWords) -> Iterator[Stop]:
    deviated = frozenset(one.item for one in told.deviations)
    started = frozenset(mark.name for step in told.steps for mark in step.marks if isinstance(mark, StartMark))
    for pause in pauses(told):
        confirms = tuple(
            Confirm(step, tuple(signal(message, words) for message in step.messages), facts(step, deviated, words),
                    said(step, started, words), held(step))
            for step in pause.steps
        )  # fmt: skip
        yield Stop(" · ".join(pause.titles), _done(pause, words), confirms)


def _done(pause: Pause, words: PageWords) -> str:
    text = words.pause_one if pause.first == pause.last else words.pause_done
    return text.format(first=pause.first, last=pause.last)


def short_card(job: Job, club: Club, words: PageWords | None = None) -> Page:
    """The short card of a job, on leaves of half the club's paper, to be cut and laminated.

    Like the bench checklist, it holds only what stays true of the engine (``job.instructions``).
    """
    words = words or PageWords.speaking(job.instructions.tongue)
    told = job.instructions
    paper = next(one for one in PAPERS.values() if one.of == club.paper)
    scale = sizes(min(IN_HAND, club.bench_distance, key=lambda one: one.exactly("mm")))
    side, width = paper.side, paper.width - 2 * paper.side
    number = SheetNumber(told.engine, told.code, told.revision, job.print, SHORT)
    head = head_of(
        told.engine,
        told.title,
        f"{words.short_card} · {told.model_title}",
        room=width - CODE - 4,
        plate=round(scale.step * 4.8, 2),
        size=scale.middle,
        small=scale.small,
        least=CODE,
    )
    head_foot = TOP + head.height + 3
    place = Place(paper.width - side - CODE, TOP, CODE)
    most = most_pages(len(told.steps))
    numbered = numbering(
        number, words, (place,), most, box="bottom-right-corner", side=side, top=head_foot, first_top=TOP,
        front="string(turn, last)",
    )  # fmt: skip
    number_room = scale.small * 12.5 + scale.small * width_of(f" · {words.turn_over}", bold=True)
    foot_lines = max(2, lines_of(words.precedence, (width - number_room) / scale.small))
    fact_width = round(min(0.34 * width, 11 * scale.step), 2)
    digits = len(str(max((step.number for step in told.steps), default=1)))
    values = {
        "w": words,
        "club": club,
        "told": told,
        "most_pages": most,
        "scale": scale,
        "paper": paper,
        "top": TOP,
        "side": side,
        "code": CODE,
        "box": BOX,
        "head": head,
        "head_foot": head_foot,
        "signals": SIGNALS,
        "figure": lambda text: figure(text, words),
        "day": lambda when: day(when, words),
        "capital": capital,
        "symbol": {name: Markup(symbol(name, words.symbols[name])) for name in SYMBOLS},
        "stops": list(_stops(told, words)),
        "breaks_seal": any(
            isinstance(mark, SealMark) and mark.when == "removed" for step in told.steps for mark in step.marks
        ),
        "plate_figure": number_size(told.engine, head.plate, head.height * 0.74),
        "foot": round(2 + 1.2 * scale.small * foot_lines + side, 2),
        "number_room": number_room,
        "number_width": round(max(digits, 2) * 0.62 * scale.step * 1.1 + 0.5, 2),
        "fact_width": fact_width,
        "fact_room": (fact_width - FACT_PAD) / (1.05 * scale.step),
    }
    return Page(
        html=fill("short.html.j2", **values),
        css=fill("short.css.j2", **values) + numbered.css,
        title=f"{words.short_card}: {told.title}, {in_text(words.engine, words)} {told.engine}",
        subject=f"{number.text[:-2]}",
        identifier=number.body,
        language=words.language,
        codes=numbered.codes,
        halves=True,
    )
