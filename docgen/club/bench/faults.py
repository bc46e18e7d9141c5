"""What can go wrong at the bench, as the simulation finds it, and how proofing tells it."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from typing import Literal, NamedTuple

from docgen.club.bench.graph import Graph
from docgen.club.bench.state import Change


@dataclass(frozen=True)
class Fault:
    """One fault, at one place.

    kind           : one of :data:`docgen.club.bench.wrong.FAULTS`, or of a verb's own
    step, verb, at : where: the step's index, its verb, the place in the verb's list (or the key below the verb)
    members        : what it is about
    others         : what stands in the way, or is missing
    past           : the last change of each of those before, for the trail
    what, since    : the fluid that it is about; the step since which that is full or empty
    """

    kind: str
    step: int
    verb: str
    at: int | str
    members: tuple[str, ...]
    others: tuple[str, ...] = ()
    past: tuple[Change, ...] = ()
    what: str = ""
    since: int | None = None


@dataclass(frozen=True)
class Words:
    """What a rule may say of a fault.

    subject : what it is about as the step writes it          done  : what was done to it: `undone`
    since   : the line of the step since which it is so       known : whether its trail tells what led there
    changes : all that was done in the job
    """

    fault: Fault
    graph: Graph
    subject: str
    done: str
    since: str = ""
    known: bool = False
    changes: tuple[Change, ...] = ()

    @property
    def about(self) -> str:
        """What it is about: `washer, drum and head-nuts`."""
        return self.named(self.fault.members)

    @property
    def others(self) -> str:
        """What stands in the way, or is missing."""
        return self.named(self.fault.others)

    @property
    def are(self) -> str:
        """`is` or `are`, for the others."""
        return is_are(self.graph.named(self.fault.others))

    @property
    def put(self) -> str:
        """What was put in or on before."""
        return " and ".join(dict.fromkeys(change.with_ for change in self.fault.past))

    @property
    def part(self) -> bool:
        """Whether it is about a part, not a fastener."""
        return self.graph.nodes[self.fault.members[0]].is_part

    @property
    def group(self) -> str:
        """The item whose member it is about."""
        return self.graph.nodes[self.fault.members[0]].item

    @property
    def lacking(self) -> str:
        """How the others stand that should be on and tight."""
        return lacking(self.graph, self.fault.others)

    def named(self, members: Iterable[str]) -> str:
        """Members in words."""
        return named(self.graph, members)

    def listed(self, members: Iterable[str]) -> str:
        """Members as a list of the files has them."""
        return ", ".join(self.graph.named(members))


class FaultRule(NamedTuple):
    """How a fault is told: the rule's name, what it is, message and hint.

    trail : the past of all; of what stands in the way only; or none
    also  : a line of the trail behind those of the past; empty for none
    """

    rule: str
    says: str
    message: Callable[[Words], str]
    hint: Callable[[Words], str]
    trail: Literal["past", "others", "none"] = "past"
    also: Callable[[Words], str] = lambda f: ""


def is_are(names: Sequence[str]) -> str:
    """`is` for one thing whose name is singular, else `are`."""
    return "is" if len(names) == 1 and not names[0].endswith("s") else "are"


def named(graph: Graph, members: Iterable[str]) -> str:
    """Members in words: `washer, drum and head-nuts`."""
    *first, last = graph.named(members) or ("",)
    return f"{', '.join(first)} and {last}" if first else last


def parted(graph: Graph, members: Iterable[str]) -> tuple[list[str], list[str]]:
    """The parts among some members, and the fasteners."""
    both: tuple[list[str], list[str]] = ([], [])
    for member in members:
        both[not graph.nodes[member].is_part].append(member)
    return both


def lacking(graph: Graph, members: Iterable[str]) -> str:
    """`drum-bearing is off`, `clutch-nut is not tight`, or both."""
    said = zip(parted(graph, members), ("off", "not tight"), strict=True)
    return " and ".join(f"{named(graph, group)} {is_are(graph.named(group))} {state}" for group, state in said if group)
