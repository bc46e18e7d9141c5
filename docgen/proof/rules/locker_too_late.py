"""A fastener is started dry although its model wants threadlocker: the cell at the tightening step comes too late."""

from __future__ import annotations

from collections.abc import Iterator

from docgen.club.schema.model import Fastener
from docgen.proof.case import Case
from docgen.proof.finding import Finding
from docgen.proof.rules.locker_on_old_locker import threads_of


def on_run(case: Case) -> Iterator[Finding]:
    """One finding where it is started."""
    graph = case.run.graph
    given: set[str] = set()
    told: set[str] = set()
    for index, changes in enumerate(case.run.by_step):
        for change in changes:
            spec = graph.nodes[change.member].spec
            if change.verb == "applies" and case.kind(change.with_) == "threadlocker":
                given.add(change.member)
            elif change.verb == "undoes":
                given -= {change.member, *threads_of(case, change.member)}
            elif change.verb == "starts" and isinstance(spec, Fastener) and spec.locker:
                item = graph.nodes[change.member].item
                if not given & {change.member, *threads_of(case, change.member)} and item not in told:
                    told.add(item)
                    yield case.finding(
                        index, ("starts", change.at), f"{item} is started without its {spec.locker}",
                        f"add a step before with  applies: {{{spec.locker}: {item}}}",
                    )  # fmt: skip
