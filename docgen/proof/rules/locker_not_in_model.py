"""Threadlocker goes onto a fastener for which the model names none: neither its cure nor its friction is counted."""

from __future__ import annotations

from collections.abc import Iterator

from docgen.club.schema.model import Fastener
from docgen.proof.case import Case
from docgen.proof.finding import Finding
from docgen.proof.rules.locker_on_old_locker import threads_of


def on_run(case: Case) -> Iterator[Finding]:
    """One finding at the material."""
    nodes = case.run.graph.nodes
    fasteners = [m for m, node in nodes.items() if isinstance(node.spec, Fastener)]
    for index, changes in enumerate(case.run.by_step):
        for change in (c for c in changes if c.verb == "applies" and case.kind(c.with_) == "threadlocker"):
            on = [m for m in fasteners if change.member in (m, *threads_of(case, m))]
            lockers = {getattr(nodes[m].spec, "locker", None) for m in on} - {None}
            if on and change.with_ not in lockers:
                item = nodes[on[0]].item
                says = f"the model wants {', '.join(sorted(map(str, lockers)))}" if lockers else "the model names none"
                yield case.finding(index, ("applies", change.at), f"{change.with_} goes onto {item}, and {says}",
                                   f"give {item} its  locker: {change.with_}  in the model")  # fmt: skip
                break
