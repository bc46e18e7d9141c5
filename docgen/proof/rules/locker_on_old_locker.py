"""Threadlocker goes onto a thread that still carries the old: not cleaned since it was undone, and not new."""

from __future__ import annotations

from collections.abc import Iterator

from docgen.club.bench.state import Change
from docgen.club.schema.model import Fastener
from docgen.proof.case import Case
from docgen.proof.finding import Finding


def on_run(case: Case) -> Iterator[Finding]:
    """One finding where the fastener is done up."""
    graph = case.run.graph
    locked = {m for m, node in graph.nodes.items() if isinstance(node.spec, Fastener) and node.spec.locker}
    old: dict[str, Change] = {}
    for index, changes in enumerate(case.run.by_step):
        for change in changes:
            if change.verb == "undoes" and change.member in locked:
                if case.run.before[index][change.member] == "started":
                    continue  # run on dry to try the fit
                old[change.member] = change
            elif change.verb == "renews":
                old.pop(change.member, None)
            elif change.verb == "cleans":
                for member in [m for m in old if change.member in (m, *threads_of(case, m))]:
                    del old[member]
            elif change.verb in ("starts", "tightens") and change.member in old:
                item = graph.nodes[change.member].item
                past = [old.pop(m) for m in graph.members(item) if m in old]
                yield case.finding(
                    index, (change.verb, change.at),
                    f"{item} gets new threadlocker on top of the old: its thread was not cleaned, and it is not new",
                    f"add a step before with  cleans: {{{item}: ...}}  or  renews: [{item}]",
                    case.past(past, index),
                )  # fmt: skip


def threads_of(case: Case, fastener: str) -> tuple[str, ...]:
    """The part whose thread a fastener runs on, if the model names one."""
    spec = case.run.graph.nodes[fastener].spec
    onto = spec.onto if isinstance(spec, Fastener) else None
    return case.run.graph.members(onto) if onto else ()
