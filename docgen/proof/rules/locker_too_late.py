"""Threadlocker comes too late: the fastener is started dry, or is tight already."""

from __future__ import annotations

from collections.abc import Iterator

from docgen.club.bench.state import Change
from docgen.club.schema.model import Fastener
from docgen.proof.case import Case
from docgen.proof.finding import Finding
from docgen.proof.rules.locker_on_old_locker import threads_of

TURNS = ("undoes", "starts", "tightens")


def on_run(case: Case) -> Iterator[Finding]:
    """One finding where it is started dry, or where the drop comes too late."""
    graph = case.run.graph
    given: set[str] = set()
    told: set[str] = set()
    for index, changes in enumerate(case.run.by_step):
        for change in changes:
            spec = graph.nodes[change.member].spec
            if change.verb == "applies" and case.kind(change.with_) == "threadlocker":
                given.add(change.member)
                tight = [f for f in _run_on(case, change.member) if case.run.before[index][f] == "tight"]
                if tight:
                    names = case.named(tight)
                    yield case.finding(
                        index, ("applies", change.at), f"{change.with_} comes too late: {names} tight already",
                        f"put it on before {names} is tightened",
                        case.past([c for c in case.run.changes if c.step < index and c.member in tight][-1:], index),
                    )  # fmt: skip
            elif change.verb == "undoes":
                given -= {change.member, *threads_of(case, change.member)}
            elif change.verb == "starts" and isinstance(spec, Fastener) and spec.locker:
                item = graph.nodes[change.member].item
                if _tried(case, change):
                    continue
                if not given & {change.member, *threads_of(case, change.member)} and item not in told:
                    told.add(item)
                    yield case.finding(
                        index, ("starts", change.at), f"{item} is started without its {spec.locker}",
                        f"add a step before with  applies: {{{spec.locker}: {item}}}",
                    )  # fmt: skip


def _tried(case: Case, start: Change) -> bool:
    """Whether a fastener is run on dry only to try the fit, and comes off again."""
    later = (c for c in case.run.changes if c.member == start.member and c.step > start.step and c.verb in TURNS)
    return next((c.verb == "undoes" for c in later), False)


def _run_on(case: Case, member: str) -> list[str]:
    """The fasteners whose thread this is: itself, or those that run onto it."""
    graph = case.run.graph
    fasteners = [m for m, node in graph.nodes.items() if isinstance(node.spec, Fastener)]
    return [f for f in fasteners if member in (f, *threads_of(case, f))]
