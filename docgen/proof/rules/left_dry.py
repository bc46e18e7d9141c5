"""A bearing, gear or chain is washed and not greased or oiled again."""

import re

from docgen.club.bench.state import Change
from docgen.proof.case import Case, Findings

RUNNING = re.compile(r"(.*-)?(bearing|gear|chain)s?")
"""Things that run on a film, by the last word of their names, or by their shape (common practice, no source)."""
WASHES = ("solvent", "degreaser")
LUBRICATES = ("grease", "oil", "chain-lubricant")


def on_run(case: Case) -> Findings:
    """One finding at the washing, when nothing puts a film on until the job ends. A new part has its maker's."""
    washed: dict[str, Change] = {}
    greased: set[str] = set()  # what is washed after that is for grease-washed-off
    for change in case.run.changes:
        node = case.run.graph.nodes[change.member]
        runs = RUNNING.fullmatch(node.item) or (node.spec.shape and RUNNING.fullmatch(node.spec.shape.kind))
        if change.verb == "renews" or (change.verb == "applies" and case.kind(change.with_) in LUBRICATES):
            washed.pop(change.member, None)
            greased.add(change.member)
        elif change.verb == "cleans" and case.kind(change.with_) in WASHES and runs and change.member not in greased:
            washed[change.member] = change
    for change in washed.values():
        name = case.named([change.member])
        yield case.at(change, f"{change.with_} washes {name}, and nothing greases it again",
                      f"add a step behind with  applies: {{...: {name}}}")  # fmt: skip
