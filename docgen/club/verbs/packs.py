"""``packs`` and ``clears``: cloths, plugs and caps put into an opening, and taken out of it again."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Annotated

from pydantic import Field

from docgen.club.bench.bench import Bench
from docgen.club.bench.faults import FaultRule
from docgen.club.bench.state import State
from docgen.club.schema.base import Member, Members, Name
from docgen.club.schema.refers import Refers
from docgen.club.verbs.verb import Verb

if TYPE_CHECKING:
    from docgen.club.schema.procedure import Step


class Packing(Verb):
    """``packs``: an opening is named by what closes it, or by the part whose mouth it is."""

    def carry_out(self, step: Step, bench: Bench) -> None:
        """Put it in where the opening is open: in this step or before."""
        for opening, what in step.packs.items():
            bench.verb, bench.at = self.key, opening
            members = bench.graph.members(opening)
            for member in members:
                bench.change(member, bench.state.now[member], what, moves=False)
                bench.state.packed[member] = bench.changes[-1]
            if closed := [by for one in members if not bench.open(one) for by in _closing(bench, one)]:
                bench.found("packed-shut", [opening], closed, bench.changes[-1:])

    def closing(self, bench: Bench, member: str) -> None:
        """An opening is closed that still holds something."""
        _packed(bench, "packed-closed", [member], [member])

    def turning(self, bench: Bench, member: str) -> None:
        """Nothing may be packed that it meets; nothing at all where the engine runs."""
        meets = _meeting(bench.state, member) if member else list(bench.state.packed)
        _packed(bench, "packed-turned", [member] if member else [], meets)

    def ending(self, bench: Bench) -> None:
        """Whatever was put in must have come out."""
        for opening, put in bench.state.packed.items():
            if put:
                bench.step, bench.verb, bench.at = put.step, put.verb, put.at
                bench.found("packed-left", [opening], [opening], [put])


class Clearing(Verb):
    """``clears``: to look once more into an opening that was emptied is no fault."""

    def carry_out(self, step: Step, bench: Bench) -> None:
        """Take out what is in; something must have been put in before."""
        bench.verb = self.key
        for bench.at, name in enumerate(step.clears):
            members = bench.graph.members(name)
            if members and not any(member in bench.state.packed for member in members):
                bench.found("packed-nothing", [name], [])
            for member in members:
                if bench.state.packed.get(member):
                    bench.state.packed[member] = None
                    bench.change(member, bench.state.now[member], moves=False)


def _closing(bench: Bench, opening: str) -> tuple[str, ...]:
    """What closes an opening: what lies in front of it; a plug or a screw itself, whose hole it is."""
    own = () if bench.graph.nodes[opening].is_part else (opening,)
    return (*own, *bench.hiding(opening))


def _packed(bench: Bench, kind: str, members: Sequence[str], openings: Sequence[str]) -> None:
    """Note that something lies in some openings that should be empty, and say no more of it."""
    packed = bench.state.packed
    if held := {opening: put for opening in openings if (put := packed.get(opening))}:
        bench.found(kind, members, held, held.values())
        packed.update(dict.fromkeys(held))


def _meeting(state: State, turned: str) -> list[str]:
    """The packed openings that lead to what is turned.

    An opening leads to all that lies behind what closes it, as long as the part next behind it is on: a cloth in
    the cylinder's port goes to the bench with the cylinder.
    """
    leading = [opening for opening, put in state.packed.items() if put and opening in state.graph.covers[turned]]
    fitted = [node for m, node in state.graph.nodes.items() if leading and state.complete(m)]
    return [o for o in leading if any(o in state.graph.each(node.spec.behind) for node in fitted)]


Packs = Annotated[dict[Member, Annotated[Name, Refers("tool or material")]], Field(default_factory=dict), Packing(
    "packs", "What is put into an opening, by the part or fastener that closes it or has it, as in {base-gasket: "
    "blanks}: a cloth, a plug or a tool of the registers.",
    defined="items", turn=11, handles=True, of_shop=True, safety=True,
    happened="{with_} went into the opening of {name}",
    faults={
        "packed-shut": FaultRule(
            "packed-though-closed",
            "A cloth or a plug goes into an opening while what closes it, or lies in front of it, is still on.",
            lambda f: f"{f.put} cannot go into the opening of {f.about} here: {f.others} {f.are} still on",
            lambda f: "put it in when that is off",
            trail="none",
        ),
        "packed-closed": FaultRule(
            "closed-while-packed",
            "An opening is closed while a cloth, a plug or a tool still lies in it.",
            lambda f: f"{f.about} is {f.done} while {f.put} still lies in its opening",
            lambda f: f"add a step before with  clears: [{f.about}]",
        ),
        "packed-turned": FaultRule(
            "turned-while-packed",
            "The crank is turned, or the engine runs, while a cloth, a plug or a tool lies in an opening that leads to"
            " it.",
            lambda f: f"{(f.about and f'{f.about} is turned') or 'the engine runs'} here while {f.put} lies in the"
            f" opening of {f.others}",
            lambda f: f"add a step before with  clears: [{f.listed(f.fault.others)}]",
        ),
        "packed-left": FaultRule(
            "left-inside",
            "A cloth, a plug or a tool is put into an opening and never taken out again.",
            lambda f: f"{f.put} goes into the opening of {f.about} here and never comes out",
            lambda f: f"add a step with  clears: [{f.about}]",
            trail="none",
        ),
    },
)]  # fmt: skip
Clears = Annotated[Members, Clearing(
    "clears", "The openings that are emptied again here, by the same names.",
    defined="items", turn=2, handles=True, counted=True, of_shop=True, safety=True,
    faults={
        "packed-nothing": FaultRule(
            "nothing-to-clear",
            "A cloth or a plug comes out of an opening that nothing was put into: the step that puts it in is missing.",
            lambda f: f"nothing was put into the opening of {f.about} before",
            lambda f: f"add a step before with  packs: {{{f.about}: ...}}, or take this away",
        ),
    },
)]  # fmt: skip
