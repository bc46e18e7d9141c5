"""Work on leads or starter while the battery is connected."""

from docgen.club.schema.procedure import VERBS
from docgen.proof.case import Case, Findings


def on_run(case: Case) -> Findings:
    """One finding at the first such work since the battery was on."""
    graph, isolator = case.run.graph, case.model.value.isolator
    leads = graph.members(isolator) if isolator else ()
    told = False
    for change in case.run.changes:
        if change.member in leads:
            told = False
            continue
        if not VERBS[change.verb].done or told or not leads:
            continue
        touched, before = (change.member, *graph.held_by[change.member]), case.run.before[change.step]
        live = any("current" in graph.nodes[m].spec.hazards for m in touched)
        connected = case.named(lead for lead in leads if before[lead] not in ("off", "loose", "unknown"))
        if live and connected:
            told = True
            name = case.named([change.member])
            yield case.at(change,
                          f"{name} is {VERBS[change.verb].done} while the battery is connected: {connected} is on",
                          f"undo {connected} before, and put it back last")  # fmt: skip
