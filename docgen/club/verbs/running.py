"""``turns``, ``loads``, ``runs``: what is turned by hand, put under load, or running."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Annotated

from docgen.club.bench.bench import Bench
from docgen.club.schema.base import Flag, Members
from docgen.club.verbs.verb import Verb

if TYPE_CHECKING:
    from docgen.club.schema.procedure import Step


class Turning(Verb):
    """``turns``."""

    def carry_out(self, step: Step, bench: Bench) -> None:
        """Nothing that it meets may be packed."""
        for member in bench.each(self.key, step.turns):
            for verb in bench.verbs:
                verb.turning(bench, member)


class Loading(Verb):
    """``loads``."""

    def carry_out(self, step: Step, bench: Bench) -> None:
        """What is loaded must be on and tight."""
        bench.load(self.key, bench.graph.each(step.loads))


class Running(Verb):
    """``runs``."""

    def recorded(self, step: Step) -> Iterator[object]:
        """That it ran: one run proves for all jobs of a visit."""
        return iter([True])

    def carry_out(self, step: Step, bench: Bench) -> None:
        """Everything is on and tight, and nothing is packed."""
        bench.load(self.key, bench.graph.nodes)
        for verb in bench.verbs:
            verb.turning(bench, "")


Turns = Annotated[Members, Turning(
    "turns", "What is turned by hand in this step, as the crankshaft; nothing that it meets may be packed.",
    defined="items", turn=1, handles=True, signed="names",
)]  # fmt: skip
Loads = Annotated[Members, Loading(
    "loads", "What is put under load in this step, so that its threadlocker must have cured.",
    defined="items", turn=12,
)]  # fmt: skip
Runs = Annotated[Flag, Running("runs", "The engine runs in this step.", turn=13, signed="step")]
