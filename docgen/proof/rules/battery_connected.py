"""Work on leads or starter while the battery is connected."""

from __future__ import annotations

from collections.abc import Iterator

from docgen.club.schema.procedure import VERBS
from docgen.proof.case import Case
from docgen.proof.finding import Finding


def on_run(case: Case) -> Iterator[Finding]:
    """One finding at the first such work since the battery was on."""
    graph, isolator = case.run.graph, case.model.value.isolator
    leads = graph.members(isolator) if isolator else ()
    told = False
    for index, changes in enumerate(case.run.by_step):
        for change in changes:
            if change.member in leads:
                told = False
                continue
            if not VERBS[change.verb].done or told or not leads:
                continue
            touched = (change.member, *graph.held_by[change.member])
            live = any("current" in graph.nodes[m].spec.hazards for m in touched)
            connected = [lead for lead in leads if case.run.before[index][lead] not in ("off", "loose", "unknown")]
            if live and connected:
                told = True
                name = case.named([change.member])
                yield case.finding(
                    index, (change.verb, change.at),
                    f"{name} is {VERBS[change.verb].done} while the battery is connected: {case.named(connected)} is"
                    " on",
                    f"undo {case.named(connected)} before, and put it back last",
                )  # fmt: skip
