"""A part that must go in clean, such as a jet, goes in as it came out."""

from docgen.club.bench.state import Change
from docgen.club.schema.model import Part
from docgen.proof.case import Case, Findings


def on_run(case: Case) -> Findings:
    """One finding where it goes in."""
    graph = case.run.graph
    off: dict[str, Change] = {}
    for change in case.run.changes:
        spec = graph.nodes[change.member].spec
        if not (isinstance(spec, Part) and spec.goes_in_clean):
            continue
        if change.verb == "removes":
            off[change.member] = change
        elif change.verb in ("cleans", "renews"):
            off.pop(change.member, None)
        elif change.verb == "fits" and change.member in off:
            item = graph.nodes[change.member].item
            past = [off.pop(m) for m in graph.members(item) if m in off]
            yield case.at(change, f"{item} goes in as it came out: it was not cleaned since",
                          f"add a step before with  cleans: [{item}]  or  cleans: {{{item}: ...}}", past)  # fmt: skip
