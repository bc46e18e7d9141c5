"""An assembly that the model wants clean outside first is opened dirty."""

from docgen.club.bench.faults import is_are
from docgen.club.schema.model import Part
from docgen.club.schema.procedure import VERBS
from docgen.proof.case import Case, Findings


def on_run(case: Case) -> Findings:
    """One finding where it opens: where something inside it comes off, or where it comes off itself."""
    graph = case.run.graph
    closed = {
        m: {inside for inside in graph.carried[m] if graph.nodes[inside].spec.bench} or {m}
        for m, node in graph.nodes.items()
        if isinstance(node.spec, Part) and node.spec.clean_first
    }
    for change in case.run.changes:
        if change.verb == "cleans":
            closed.pop(change.member, None)
        if change.verb not in ("undoes", "removes"):
            continue
        for assembly in [a for a, opens in closed.items() if change.member in opens]:
            del closed[assembly]
            item = graph.nodes[change.member].item
            done = f"{item} {is_are([item])} {VERBS[change.verb].done}"
            yield case.at(change, f"{assembly} was not cleaned outside before {done}",
                          f"add a step before with  cleans: {{{assembly}: ...}}: the model says  clean_first: true")
