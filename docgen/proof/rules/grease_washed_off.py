"""Solvent or degreaser goes onto what was greased, oiled, locked or marked before in the same job."""

from docgen.club.bench.state import Change
from docgen.proof.case import Case, Findings

PUT_ON = ("grease", "oil", "chain-lubricant", "threadlocker", "anti-seize", "sealant", "paint")
WASHES = ("solvent", "degreaser")


def on_run(case: Case) -> Findings:
    """One finding at the cleaning. A fluid used to take a reading is no lubrication."""
    greased: dict[str, Change] = {}
    for change in case.run.changes:
        if case.puts_on(change, PUT_ON):
            greased[change.member] = change
        elif change.verb == "cleans" and case.kind(change.with_) in WASHES and change.member in greased:
            before = greased.pop(change.member)
            yield case.at(change, f"{change.with_} washes the {before.with_} off {case.named([change.member])} again",
                          "clean first, then put it on; or put it on once more behind this step", [before])
