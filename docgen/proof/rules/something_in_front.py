"""Something is moved, undone or done up while a thing in front of it is still on."""

from __future__ import annotations

from collections.abc import Iterator

from docgen.club.bench.faults import Fault
from docgen.club.schema.procedure import VERBS
from docgen.proof.case import Case
from docgen.proof.finding import Finding
from docgen.proof.words import is_are

TAKING_OFF = ("undoes", "removes")


def on_run(case: Case) -> Iterator[Finding]:
    """One finding at the step that cannot reach."""
    for fault in case.faults("covered"):
        name, front = case.subject(fault), case.named(fault.others)
        verb = is_are(case.run.graph.named(fault.others))
        if fault.verb in TAKING_OFF:
            hint = f"first {_taking_off(case, fault)}"
        else:
            hint = f"do this before {front} {'go' if verb == 'are' else 'goes'} on"
        yield case.of(fault, f"{name} cannot be {VERBS[fault.verb].done}: {front} {verb} still on in front", hint,
                      [*case.past(fault.past, fault.step), *_untouched(case, fault)])  # fmt: skip


def _untouched(case: Case, fault: Fault) -> Iterator[str]:
    moved = {change.member for change in fault.past}
    never = [m for m in fault.others if m not in moved]
    if never and fault.verb in TAKING_OFF:
        yield f"{case.named(never)} did not come off before"


def _taking_off(case: Case, fault: Fault) -> str:
    parts = [m for m in fault.others if case.run.graph.nodes[m].is_part]
    fasteners = [m for m in fault.others if m not in parts]
    done = [f"take {case.named(parts)} off"] if parts else []
    return " and ".join([f"undo {case.named(fasteners)}", *done] if fasteners else done)
