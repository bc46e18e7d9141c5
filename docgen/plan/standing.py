"""Where an engine stands on a day, for its card: everything computed from its record, nothing stored."""

from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from docgen.club.folder import EngineRecord, Folder
from docgen.club.schema.event import Rebuilt
from docgen.club.schema.model import Limit
from docgen.job.components import Component, components
from docgen.job.figures import Figures
from docgen.job.readings import deciding, renewed_at, wear
from docgen.job.state import EngineState, Moment, Reading, state_of
from docgen.plan import history
from docgen.plan.due import IN_DATE, DueLine, due_list
from docgen.plan.lives import PartLife, part_lives
from docgen.trade.limits import Verdict
from docgen.trade.quantity import QuantityError
from docgen.trade.wear import Forecast


@dataclass(frozen=True)
class Measured:
    """The readings of one limit, oldest first, and what they say.

    verdict : of the last reading against the limit that decides now; None without one
    new     : engine hours at which the measured part was last renewed, 0 where it never was
    """

    name: str
    limit: Limit
    readings: tuple[Reading, ...]
    verdict: Verdict | None
    forecast: Forecast | None
    new: Fraction


@dataclass(frozen=True)
class Standing:
    """One engine on one day."""

    record: EngineRecord
    figures: Figures
    on: date
    owners: tuple[tuple[date, str], ...]
    rebuilt: tuple[Moment, Rebuilt] | None
    lives: tuple[PartLife, ...]
    components: tuple[Component, ...]
    measured: tuple[Measured, ...]
    due: tuple[DueLine, ...]
    seasons: tuple[history.Season, ...]
    lines: tuple[history.Line, ...]

    @property
    def state(self) -> EngineState:
        """The engine's state."""
        return self.figures.state

    @property
    def since_rebuilt(self) -> Fraction | None:
        """Hours since it was rebuilt; None where no rebuild is in the record."""
        return self.state.hours - self.rebuilt[0].hours if self.rebuilt else None


def standing(folder: Folder, record: EngineRecord, on: date) -> Standing:
    """Where an engine stands at the end of the day `on`. The folder holds its model and the club."""
    figures = Figures(folder.club.value, folder.models[record.engine.model].value, state_of(record, on))
    numbered = components(folder, on)
    own = [numbered[key] for key in figures.state.components.items() if key in numbered]
    return Standing(
        record=record,
        figures=figures,
        on=on,
        owners=history.owners(record, on),
        rebuilt=_rebuilt(record, on),
        lives=part_lives(figures, numbered),
        components=tuple(own),
        measured=tuple(_measured(figures, name, values) for name, values in sorted(figures.state.readings.items())),
        due=tuple(line for line in due_list(folder, on, (record.engine.engine,)) if line.state != IN_DATE),
        seasons=history.seasons(record, on),
        lines=history.lines(folder, record, figures, on),
    )


def _rebuilt(record: EngineRecord, on: date) -> tuple[Moment, Rebuilt] | None:
    events = [event for _, event in record.log.happened if isinstance(event, Rebuilt) and event.date <= on]
    return (Moment(events[-1].date, state_of(record, events[-1].date).hours), events[-1]) if events else None


def _measured(figures: Figures, name: str, readings: list[Reading]) -> Measured:
    limit = figures.limit(name)
    band = deciding(limit)
    try:
        fits = all(band.contains(value) for value in readings[-1].values) if band else None
    except QuantityError:
        fits = None
    verdict = None if fits is None else Verdict.ACCEPT if fits else Verdict.REJECT
    new = renewed_at(figures, limit)
    return Measured(figures.name(name), limit, tuple(readings), verdict, wear(figures, name, readings), new)
