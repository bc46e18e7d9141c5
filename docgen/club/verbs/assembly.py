"""``undoes``, ``removes``, ``fits``, ``renews``, ``starts``, ``tightens``: what comes off, goes on and is done up."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated, Any

from docgen.club.bench.bench import Bench
from docgen.club.schema.base import Members
from docgen.club.verbs.verb import Verb

if TYPE_CHECKING:
    from docgen.club.schema.procedure import Step


class Assembly(Verb):
    """A verb that moves what it names. A step does one of them to one kind of thing."""

    def __init__(self, key: str, says: str, **more: Any) -> None:
        super().__init__(key, says, moves=True, works=True, handles=True, counted=True, printed=True, stands=False,
                         **more)  # fmt: skip

    def carry_out(self, step: Step, bench: Bench) -> None:
        """Each that it names in turn."""
        for member in bench.each(self.key, self.of(step)):
            self.do(member, bench)

    def do(self, member: str, bench: Bench) -> None:
        """One member."""
        bench.off(member)


class PutsOn(Assembly):
    """``fits`` and ``renews``; a fastener that is renewed is not on by that."""

    def do(self, member: str, bench: Bench) -> None:
        if not bench.graph.nodes[member].is_part:
            bench.renew_fastener(member)
        else:
            bench.on(member, new=self.key == "renews")


class Tightens(Assembly):
    """``starts`` and ``tightens``, which may go over what is tight ``again``."""

    def carry_out(self, step: Step, bench: Bench) -> None:
        for bench.at, name in enumerate(self.of(step)):
            bench.verb, members = self.key, bench.graph.members(name)
            if self.key == "tightens":
                bench.all_started(members)
            for member in members:
                bench.do_up(member, starting=self.key == "starts", again=step.again)


Undoes = Annotated[Members, Assembly(
    "undoes", "Fasteners that are undone here, in order; their drive and holding tool follow from the model.",
    defined="fasteners", word="undo", turn=3, happened="{name} {was} undone", done="undone",
)]  # fmt: skip
Removes = Annotated[Members, Assembly(
    "removes", "Parts that come off here, in order.",
    defined="parts", word="remove", turn=4, happened="{name} went off", done="taken off",
)]  # fmt: skip
Fits = Annotated[Members, PutsOn(
    "fits", "Parts that go on again here; which way round follows from the model.",
    defined="parts", word="fit", turn=8, happened="{name} went on", done="fitted",
)]  # fmt: skip
Renews = Annotated[Members, PutsOn(
    "renews", "Parts or fasteners that are replaced by new ones here.",
    defined="items", word="renew", turn=7, signed="names", happened="{name} {was} renewed", done="fitted new",
)]  # fmt: skip
Starts = Annotated[Members, Tightens(
    "starts", "Fasteners that are begun by hand here and tightened later.",
    defined="fasteners", word="start", turn=9, happened="{name} {was} started", done="started",
)]  # fmt: skip
TightensThem = Annotated[Members, Tightens(
    "tightens", "Fasteners that are done up here; torque, wrench, threadlocker and cure time follow from the model.",
    defined="fasteners", word="tighten", turn=10, happened="{name} {was} tightened", done="tightened",
)]  # fmt: skip
