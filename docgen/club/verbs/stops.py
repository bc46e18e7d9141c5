"""``hold``, ``wait``, ``repeat`` and ``seals``: where work stops, waits, begins again, or is sealed."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Annotated

from pydantic import Field

from docgen.club.schema.base import Count, Flag, Name, Names, Strict, Time, spread
from docgen.club.schema.prose import Prose
from docgen.club.verbs.verb import Verb
from docgen.trade.quantity import parse_quantity

if TYPE_CHECKING:
    from docgen.club.schema.procedure import Step

LONG = parse_quantity("60 min")
"""From which a wait is recorded, and is one for the whole engine: a cure, not the drying of a part. Common practice, no
source."""


class Hold(Strict):
    """A point that is not passed without a second pair of eyes (or the preparer's own later re-check)."""

    why: Prose
    id: Name | None = None


class Wait(Strict):
    for_: Time = Field(alias="for")
    why: Prose | None = None
    cools: Flag = False


class Repeat(Strict):
    """What is repeated: until when, and how often at most."""

    until: Prose
    at_most: Count | None = None


class Waiting(Verb):
    """``wait``."""

    def recorded(self, step: Step) -> Iterator[object]:
        """How long, where that is long."""
        return (wait.for_ for wait in [step.wait] if wait and wait.for_ >= LONG)


Holds = Annotated[Annotated[Hold, spread("why")] | None, Verb(
    "hold", "Work stops here for a second pair of eyes.", safety=True, signed="step",
)]  # fmt: skip
Waits = Annotated[Annotated[Wait, spread("for")] | None, Waiting(
    "wait", "Time that must pass before the next step.", signed="names",
)]  # fmt: skip
Repeats = Annotated[Annotated[Repeat, spread("until")] | None, Verb(
    "repeat", "The step is done again until something is true.", signed="step",
)]  # fmt: skip
Seals = Annotated[Names, Verb(
    "seals", "Parts that get their new seal here, after the last measurement and the last refit; only an engine that "
    "was sealed gets the row.",
    defined="parts", works=True, signed="names",
)]  # fmt: skip
