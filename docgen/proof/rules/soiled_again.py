"""Oil or grease comes near a thread that was cleaned for its threadlocker, and nothing cleans it again."""

from docgen.club.bench.state import Change
from docgen.proof.case import Case, Findings
from docgen.proof.rules.locker_on_old_locker import fasteners_on

SOILS = ("grease", "oil", "chain-lubricant", "anti-seize", "fuel")


def on_run(case: Case) -> Findings:
    """One finding where the oil goes on. Near is the thread itself, what it runs on, and what it holds down."""
    graph = case.run.graph
    locked = [m for m, node in graph.nodes.items() if getattr(node.spec, "locker", None)]
    clean: set[str] = set()
    soiled: dict[str, Change] = {}
    for change in case.run.changes:
        near = [m for m in fasteners_on(case, change.member) if m in locked]
        if change.verb == "cleans":
            clean.update(near)
            for member in near:
                soiled.pop(member, None)
        elif change.verb == "applies" and case.kind(change.with_) in SOILS:
            held = [m for m in locked if change.member in graph.holds[m]]
            for member in (m for m in (*near, *held) if m in clean and case.run.before[change.step][m] == "off"):
                soiled.setdefault(member, change)
        elif change.verb in ("starts", "tightens") and change.member in soiled:
            item = graph.nodes[change.member].item
            oiled = soiled.pop(change.member)
            for member in graph.members(item):
                soiled.pop(member, None)
            name = case.named([oiled.member])
            yield case.finding(oiled.step, ("applies", oiled.at),
                               f"{oiled.with_} on {name} comes onto the clean thread of {item}, which is locked later",
                               "clean the thread behind this step, or grease before the thread is cleaned",
                               (f"{item} is done up at {case.line(change.step, change.verb, change.at, oiled.step)}",))
