"""Hours on parts: since fitted and since new, through every move from engine to engine; exact fractions."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from fractions import Fraction

from docgen.trade.errors import TradeError


@dataclass(frozen=True)
class Ran:
    """An engine ran for so many hours."""

    engine: str
    hours: Fraction


@dataclass(frozen=True)
class Fitted:
    """A component was fitted to an engine.

    before : hours that it had before the record knew it, 0 for a new one, None when not known; only heeded the first
             time that the component appears
    """

    component: str
    engine: str
    before: Fraction | None = Fraction(0)


@dataclass(frozen=True)
class Removed:
    """A component was taken off whatever engine it was on."""

    component: str


@dataclass(frozen=True)
class Life:
    """What a component has behind it.

    engine       : where it is now, None on the shelf
    since_fitted : hours on the present engine (on the last one, when on the shelf)
    recorded     : hours in the record, over all engines
    before       : hours before the record, None when not known
    """

    component: str
    engine: str | None
    since_fitted: Fraction
    recorded: Fraction
    before: Fraction | None

    @property
    def since_new(self) -> Fraction | None:
        """Hours since new; None when the hours before the record are not known."""
        return None if self.before is None else self.before + self.recorded

    def left(self, limit: Fraction) -> Fraction | None:
        """Hours left of a life limit, negative when it is passed; None when the hours since new are not known."""
        return None if self.since_new is None else limit - self.since_new


def lives(events: Iterable[Ran | Fitted | Removed]) -> dict[str, Life]:
    """Return the life of every component, from the events in the order in which they happened.

    A run counts for whatever is on the engine at that time.
    Errors: TradeError `already-fitted`, `not-fitted`, `negative-hours`.
    Source: arithmetic of exact fractions.

    >>> events = [Fitted("carb-7", "12"), Ran("12", Fraction("1.5")), Removed("carb-7"), Fitted("carb-7", "31"),
    ...           Ran("12", Fraction(9)), Ran("31", Fraction(2))]
    >>> found = lives(events)["carb-7"]
    >>> print(found.engine, found.since_fitted, found.since_new)
    31 2 7/2
    """
    known: dict[str, Life] = {}
    for event in events:
        match event:
            case Ran(engine, hours):
                if not hours >= 0:
                    raise TradeError("negative-hours", f"engine {engine} cannot have run for {hours} h")
                for life in list(known.values()):
                    if life.engine == engine:
                        known[life.component] = replace(
                            life, since_fitted=life.since_fitted + hours, recorded=life.recorded + hours
                        )
            case Fitted(component, engine, before):
                known[component] = _fitted(known.get(component), component, engine, before)
            case Removed(component):
                life_before = known.get(component)
                if life_before is None or life_before.engine is None:
                    raise TradeError("not-fitted", f"{component} is removed but was on no engine")
                known[component] = replace(life_before, engine=None)
    return known


def _fitted(life: Life | None, component: str, engine: str, before: Fraction | None) -> Life:
    if life is None:
        if before is not None and not before >= 0:
            raise TradeError("negative-hours", f"{component} cannot have had {before} h before")
        return Life(component, engine, Fraction(0), Fraction(0), before)
    if life.engine is not None:
        raise TradeError("already-fitted", f"{component} is fitted to engine {engine} but is still on {life.engine}")
    return replace(life, engine=engine, since_fitted=Fraction(0))
