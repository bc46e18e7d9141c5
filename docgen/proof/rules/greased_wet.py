"""Grease or oil goes onto a part that is still wet with solvent or degreaser."""

from docgen.club.bench.state import Change
from docgen.proof.case import Case, Findings

PUT_ON = ("grease", "oil", "chain-lubricant", "sealant")
WASHES = ("solvent", "degreaser")


def on_run(case: Case) -> Findings:
    """One finding at the greasing. A wait in between dries."""
    wet: dict[str, Change] = {}
    for index, step in case.steps:
        if step.wait:
            wet.clear()
        for change in case.run.by_step[index]:
            if change.verb == "cleans" and case.kind(change.with_) in WASHES:
                wet[change.member] = change
            elif change.member in wet and case.puts_on(change, PUT_ON):
                name, washed = case.named([change.member]), wet.pop(change.member)
                yield case.at(change, f"{change.with_} goes onto {name} while {washed.with_} is still on it",
                              "add a step between with  wait: {for: ...}  to let it dry", [washed])  # fmt: skip
