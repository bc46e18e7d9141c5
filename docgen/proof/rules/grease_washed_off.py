"""Solvent or degreaser goes onto what was greased, oiled, locked or marked before in the same job."""

from __future__ import annotations

from collections.abc import Iterator

from docgen.club.bench.state import Change
from docgen.proof.case import Case
from docgen.proof.finding import Finding

PUT_ON = ("grease", "oil", "chain-lubricant", "threadlocker", "anti-seize", "sealant", "paint")
WASHES = ("solvent", "degreaser")


def on_run(case: Case) -> Iterator[Finding]:
    """One finding at the cleaning. A fluid used to take a reading is no lubrication."""
    greased: dict[str, Change] = {}
    for index, step in case.steps:
        test = bool(step.finds or step.sets or step.measure)
        for change in case.run.by_step[index]:
            kind = case.kind(change.with_)
            if change.verb == "applies" and kind in PUT_ON and not test:
                greased[change.member] = change
            elif change.verb == "cleans" and kind in WASHES and change.member in greased:
                before = greased.pop(change.member)
                yield case.finding(
                    index, ("cleans", change.at),
                    f"{change.with_} washes the {before.with_} off {case.named([change.member])} again",
                    "clean first, then put it on; or put it on once more behind this step",
                    case.past([before], index),
                )  # fmt: skip
