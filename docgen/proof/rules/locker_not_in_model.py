"""Threadlocker goes onto a fastener for which the model names none: neither its cure nor its friction is counted."""

from docgen.proof.case import Case, Findings
from docgen.proof.rules.locker_on_old_locker import fasteners_on


def on_run(case: Case) -> Findings:
    """One finding at the material."""
    nodes = case.run.graph.nodes
    for changes in case.run.by_step:
        for change in (c for c in changes if c.verb == "applies" and case.kind(c.with_) == "threadlocker"):
            holding = fasteners_on(case, change.member)
            lockers = {getattr(nodes[m].spec, "locker", None) for m in holding} - {None}
            if holding and change.with_ not in lockers:
                item = nodes[holding[0]].item
                says = f"the model wants {', '.join(sorted(map(str, lockers)))}" if lockers else "the model names none"
                yield case.at(change, f"{change.with_} goes onto {item}, and {says}",
                              f"give {item} its  locker: {change.with_}  in the model")  # fmt: skip
                break
