"""How long a job takes: work added up, waits laid beside it, and how soon the engine may run."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from docgen.club.schema.procedure import Step
from docgen.job.figures import Figures
from docgen.trade.clock import Wait, Work, duration, schedule
from docgen.trade.quantity import Quantity

ANY_DAY = datetime(2000, 1, 1)  # noqa: DTZ001  only differences are taken from it


@dataclass(frozen=True)
class Timing:
    """Minutes of work, minutes of standing still until the engine may run, and what sets that time."""

    work_minutes: int
    wait_minutes: int
    governs: str


def timing_of(steps: Sequence[Step], figures: Figures) -> Timing:
    """The times of a job's steps, one after the other, with each cure over before the step that loads it."""
    if not steps:
        return Timing(0, 0, "")
    works = [Work(str(i), duration(s.takes) if s.takes and not s.wait else timedelta()) for i, s in enumerate(steps)]
    found = schedule(ANY_DAY, works, _waits(steps, figures))
    ready = found.ready - ANY_DAY
    work, whole = (round(time / timedelta(minutes=1)) for time in (found.hands_on, ready))
    return Timing(work, whole - work, found.governs.why if found.governs else "")


@dataclass(frozen=True)
class Curing:
    """A threadlocker or sealant that needs time: the step that puts it on, the material, what it holds, how long."""

    step: int
    material: str
    item: str
    time: Quantity


def curing(steps: Sequence[Step], figures: Figures) -> Iterator[Curing]:
    """All that has to cure, in the order of the steps: on the threads that are tightened, or put on as a sealant."""
    register = figures.club.materials
    for index, step in enumerate(steps):
        put_on = [(figures.fastener(name).locker or "", name) for name in step.tightens]
        put_on += [(m, to) for m, use in step.applies.items() for to in use.to or ("",)
                   if m in register and register[m].kind == "sealant"]  # fmt: skip
        for material, item in put_on:
            cures = register[material].cures if material in register else None
            if cures is not None:
                yield Curing(index, material, item, cures.full)


def longest_cure(steps: Sequence[Step], figures: Figures) -> tuple[Curing, ...]:
    """What decides how soon the engine may be started or cranked: what cures longest, the last put on last."""
    found = list(curing(steps, figures))
    longest = max((one.time for one in found), default=None)
    return tuple(one for one in found if longest is not None and one.time >= longest)


def _waits(steps: Sequence[Step], figures: Figures) -> list[Wait]:
    waits = []
    for index, step in enumerate(steps):
        if step.wait:
            after = str(index + 1) if index + 1 < len(steps) else None
            waits.append(Wait(str(index), duration(step.wait.for_), after, step.wait.why or figures.words("waiting")))
    for one in curing(steps, figures):
        why = figures.words("{locker} cures", locker=figures.club.materials[one.material].name)
        waits.append(Wait(str(one.step), duration(one.time), _loaded_at(steps, one.step, one.item), why))
    return waits


def _loaded_at(steps: Sequence[Step], after: int, name: str) -> str | None:
    """The first later step that loads the fastener or runs the engine."""
    base = name.partition("/")[0]
    for index in range(after + 1, len(steps)):
        loads = {one.partition("/")[0] for one in steps[index].loads}
        if steps[index].runs or base in loads:
            return str(index)
    return None
