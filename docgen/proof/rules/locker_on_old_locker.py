"""Threadlocker goes onto a thread that still carries the old: not cleaned since it was undone, and not new."""

from docgen.club.bench.state import Change
from docgen.club.schema.model import Fastener
from docgen.proof.case import Case, Findings


def on_run(case: Case) -> Findings:
    """One finding where the fastener is done up."""
    graph = case.run.graph
    locked = {m for m, node in graph.nodes.items() if getattr(node.spec, "locker", None)}
    old: dict[str, Change] = {}
    for change in case.run.changes:
        if change.verb == "undoes" and change.member in locked:
            if case.run.before[change.step][change.member] != "started":  # run on dry to try the fit
                old[change.member] = change
        elif change.verb == "renews":
            old.pop(change.member, None)
        elif change.verb == "cleans":
            for member in fasteners_on(case, change.member):
                old.pop(member, None)
        elif change.verb in ("starts", "tightens") and change.member in old:
            item = graph.nodes[change.member].item
            message = f"{item} gets new threadlocker on top of the old: its thread was not cleaned, and it is not new"
            yield case.at(change, message, f"add a step before with  cleans: {{{item}: ...}}  or  renews: [{item}]",
                          [old.pop(m) for m in graph.members(item) if m in old])  # fmt: skip


def threads_of(case: Case, fastener: str) -> tuple[str, ...]:
    """The part whose thread a fastener runs on, if the model names one."""
    spec = case.run.graph.nodes[fastener].spec
    onto = spec.onto if isinstance(spec, Fastener) else None
    return case.run.graph.members(onto) if onto else ()


def fasteners_on(case: Case, member: str) -> list[str]:
    """The fasteners whose thread this is: itself, or those that run onto it."""
    fasteners = (m for m, node in case.run.graph.nodes.items() if isinstance(node.spec, Fastener))
    return [m for m in fasteners if member in (m, *threads_of(case, m))]
