"""Parts with a limited life: what each has run, through every engine that its component was on."""

from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from docgen.job.components import Component, carrier_of
from docgen.job.figures import Figures
from docgen.job.state import EngineState
from docgen.trade.quantity import Quantity


@dataclass(frozen=True)
class PartLife:
    """One part: what it may run and what it has.

    used    : hours since it was new, None where that is not known
    fitted  : the day it was renewed here, None where it never was
    number  : what was fitted then, else the model's part number
    """

    item: str
    name: str
    number: str
    allowed: Fraction
    used: Fraction | None
    fitted: date | None

    @property
    def left(self) -> Fraction | None:
        """Hours left, negative when they are used up; None where that is not known."""
        return None if self.used is None else self.allowed - self.used

    @property
    def share(self) -> float:
        """What is used up of what is allowed; 1 where nobody knows."""
        return 1.0 if self.used is None else float(self.used / self.allowed)


def part_lives(figures: Figures, parts: dict[tuple[str, str], Component]) -> tuple[PartLife, ...]:
    """Every part and fastener of an engine that has a life, the most used first."""
    state, model = figures.state, figures.model
    found = []
    for name, item in {**model.parts, **model.fasteners}.items():
        if item.life is None:
            continue
        renewed = state.renewed.get(name)
        carrier = carrier_of(model, name, state.components)
        component = parts.get((carrier, state.components[carrier])) if carrier else None
        used = component.since_renewed(name) if component is not None else _on_the_engine(state, name, item.life)
        number = _number(state, name) or item.number or ""
        day = renewed.day if renewed else None
        found.append(PartLife(name, figures.name(name), number, item.life.exactly("h"), used, day))
    return tuple(sorted(found, key=lambda life: (-life.share, life.name)))


def _on_the_engine(state: EngineState, name: str, life: Quantity) -> Fraction | None:
    """Hours of a part since it was new, counted from the engine's own as the most that they can be. Of an engine that
    had run longer than the part may when it came, they say nothing: somebody renewed it, and nobody knows when."""
    renewed = state.renewed.get(name)
    if renewed is not None:
        return state.hours - renewed.hours
    before = state.before.get(name)
    if before is not None:
        return state.hours - state.start + before.ago.exactly("h") if before.ago else None
    if state.came != "new" and state.start > life.exactly("h"):
        return None
    return state.hours if state.hours_known else None


def _number(state: EngineState, name: str) -> str:
    """What the last sheet says was fitted."""
    given = [
        (moment.day, service.renewed[name])
        for services in state.services.values()
        for moment, service in services
        if name in service.renewed
    ]
    return max(given, key=lambda one: one[0])[1] if given else ""
