"""Which steps stand on the short card: those that hurt when they are missed.

It follows from what a step carries. Whoever wrote the job may put a step on the card or leave it off with ``card:``,
and says why in the file.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from docgen.job import marks as m
from docgen.job.job import Instructions, JobStep

HURTS = ("safety", "hold", "seal", "torque", "start", "orientation", "reading", "wait")
"""What a step may carry that puts it on the card, the gravest first."""


@dataclass(frozen=True)
class Pause:
    """A point where the reader stops and confirms: the stages done since the last one, and what is confirmed.

    first, last : numbers of the steps, in the full checklist, that were done since the last pause
    """

    titles: tuple[str, ...]
    first: int
    last: int
    steps: tuple[JobStep, ...]


def hurts(step: JobStep) -> tuple[str, ...]:
    """What the step carries that hurts when it is missed, in the order of :data:`HURTS`."""
    found = {"safety"} if step.messages else set()
    found |= {kind for mark in step.marks if (kind := _kind(mark))}
    return tuple(kind for kind in HURTS if kind in found)


def _kind(mark: m.Mark) -> str:
    """A clip, a lead or a hose that is pushed on is no torque."""
    if isinstance(mark, m.TorqueMark):
        figure = mark.value.blank or any(c.isdigit() for c in mark.value.text)
        return "torque" if mark.thread or mark.by_feel or figure else ""
    return mark.mark if mark.mark in HURTS else ""


def on_card(step: JobStep) -> bool:
    """Whether the step stands on the short card: as its author decided, else by what it carries."""
    return step.card == "on" if step.card else bool(hurts(step))


def pauses(told: Instructions) -> tuple[Pause, ...]:
    """The card's pause points, one at the end of each stage that has something to confirm.

    A stage without is done on the way to the next pause; what follows the last pause is confirmed by nothing but the
    closing checks, and has a pause without steps.
    """
    return tuple(_pauses(told))


def _pauses(told: Instructions) -> Iterator[Pause]:
    titles: list[str] = []
    first = 1
    for stage in told.stages:
        titles.append(stage.title)
        last = stage.steps[-1].number
        steps = tuple(step for step in stage.steps if on_card(step))
        if steps:
            yield Pause(tuple(titles), first, last, steps)
            titles, first = [], last + 1
    if titles:
        yield Pause(tuple(titles), first, told.steps[-1].number, ())
