"""Something goes on while a thing behind it is still off or not tight."""

from __future__ import annotations

from collections.abc import Iterator

from docgen.club.schema.procedure import VERBS
from docgen.proof.case import Case
from docgen.proof.finding import Finding
from docgen.proof.words import is_are


def on_run(case: Case) -> Iterator[Finding]:
    """One finding at the step that closes."""
    for fault in case.faults("closed-too-soon"):
        closing, done = case.subject(fault), VERBS[fault.verb].done
        yield case.of(fault, f"{closing} cannot be {done} yet: behind it, {lacking(case, fault.others)}",
                      f"finish what lies behind {closing} first",
                      case.past([c for c in fault.past if c.member in fault.others], fault.step))  # fmt: skip


def lacking(case: Case, members: tuple[str, ...]) -> str:
    """`drum-bearing is off`, `clutch-nut is not tight`, or both."""
    nodes = case.run.graph.nodes
    parts = [m for m in members if nodes[m].is_part]
    fasteners = [m for m in members if not nodes[m].is_part]
    said = []
    for group, state in ((parts, "off"), (fasteners, "not tight")):
        if group:
            said.append(f"{case.named(group)} {is_are(case.run.graph.named(group))} {state}")
    return " and ".join(said)
