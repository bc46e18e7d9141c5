"""Threadlocker comes too late: the fastener is started dry, or is tight already."""

from docgen.club.bench.state import Change
from docgen.club.schema.model import Fastener
from docgen.proof.case import Case, Findings
from docgen.proof.rules.locker_on_old_locker import fasteners_on, threads_of

TURNS = ("undoes", "starts", "tightens")


def on_run(case: Case) -> Findings:
    """One finding where it is started dry, or where the drop comes too late."""
    graph = case.run.graph
    given: set[str] = set()
    told: set[str] = set()
    for change in case.run.changes:
        spec, index = graph.nodes[change.member].spec, change.step
        if change.verb == "applies" and case.kind(change.with_) == "threadlocker":
            given.add(change.member)
            tight = [f for f in fasteners_on(case, change.member) if case.run.before[index][f] == "tight"]
            if tight:
                names = case.named(tight)
                past = [c for c in case.run.changes if c.step < index and c.member in tight][-1:]
                yield case.at(change, f"{change.with_} comes too late: {names} tight already",
                              f"put it on before {names} is tightened", past)  # fmt: skip
        elif change.verb == "undoes":
            given -= {change.member, *threads_of(case, change.member)}
        elif change.verb == "starts" and isinstance(spec, Fastener) and spec.locker and not _tried(case, change):
            item = graph.nodes[change.member].item
            if not given & {change.member, *threads_of(case, change.member)} and item not in told:
                told.add(item)
                yield case.at(change, f"{item} is started without its {spec.locker}",
                              f"add a step before with  applies: {{{spec.locker}: {item}}}")  # fmt: skip


def _tried(case: Case, start: Change) -> bool:
    """Whether a fastener is run on dry only to try the fit, and comes off again."""
    later = (c for c in case.run.changes if c.member == start.member and c.step > start.step and c.verb in TURNS)
    return next((c.verb == "undoes" for c in later), False)
