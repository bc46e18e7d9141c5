"""What can go wrong at the bench, as the simulation finds it, and how proofing tells it."""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from typing import Literal, NamedTuple

from docgen.club.bench.graph import Graph
from docgen.club.bench.state import Change


@dataclass(frozen=True)
class Fault:
    """One fault, at one place.

    kind           : one of :data:`docgen.club.bench.mistakes.FAULTS`, or of a verb's own
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


class Words:
    """What a rule may say of a fault.

    subject, about : what it is about, as the step writes it; member by member      done : what was done to it: `undone`
    others, are    : what stands in the way or is missing, and whether it `is` or `are`; lacking: how that stands
    put            : what was put in or on before
    group, part    : the item of the first that it is about; whether that is a part
    since, known   : the line since which it is so; whether the trail tells what led there
    changes        : all that was done in the job
    """

    def __init__(
        self, fault: Fault, graph: Graph, subject: str, done: str, since: str, known: bool, changes: tuple[Change, ...]
    ) -> None:
        self.fault, self.graph, self.subject, self.done = fault, graph, subject, done
        self.since, self.known, self.changes = since, known, changes
        self.about, self.others = named(graph, fault.members), named(graph, fault.others)
        self.are = is_are(graph.named(fault.others))
        self.put = " and ".join(dict.fromkeys(change.with_ for change in fault.past))
        first = graph.nodes.get(next(iter(fault.members), ""))
        self.group, self.part = (first.item, first.is_part) if first else ("", False)
        self.lacking = lacking(graph, [one for one in fault.others if one in graph.nodes])

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
