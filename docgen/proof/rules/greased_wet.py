"""Grease or oil goes onto a part that is still wet with solvent or degreaser."""

from __future__ import annotations

from collections.abc import Iterator

from docgen.club.bench.state import Change
from docgen.proof.case import Case
from docgen.proof.finding import Finding

PUT_ON = ("grease", "oil", "chain-lubricant", "sealant")
WASHES = ("solvent", "degreaser")


def on_run(case: Case) -> Iterator[Finding]:
    """One finding at the greasing. A wait in between dries."""
    wet: dict[str, Change] = {}
    for index, step in case.steps:
        if step.wait:
            wet.clear()
        for change in case.run.by_step[index]:
            if change.verb == "cleans" and case.kind(change.with_) in WASHES:
                wet[change.member] = change
            elif change.verb == "applies" and change.member in wet and case.kind(change.with_) in PUT_ON:
                if step.finds or step.sets or step.measure:
                    continue
                yield case.finding(
                    index, ("applies", change.at),
                    f"{change.with_} goes onto {case.named([change.member])} while {wet[change.member].with_}"
                    " is still on it",
                    "add a step between with  wait: {for: ...}  to let it dry",
                    case.past([wet.pop(change.member)], index),
                )  # fmt: skip
