"""A bearing or gear is washed and not greased or oiled again."""

from __future__ import annotations

from collections.abc import Iterator

from docgen.job.simulation.state import Change
from docgen.proof.case import Case
from docgen.proof.finding import Finding

RUNNING = ("bearing", "gear")
"""Shapes that run on a film (common practice, no source)."""
WASHES = ("solvent", "degreaser")
LUBRICATES = ("grease", "oil", "chain-lubricant")


def on_run(case: Case) -> Iterator[Finding]:
    """One finding at the washing, when nothing puts a film on until the job ends. A new part is as its maker left it."""
    washed: dict[str, Change] = {}
    for change in case.run.changes:
        shape = case.run.graph.nodes[change.member].spec.shape
        if change.verb == "renews" or (change.verb == "applies" and case.kind(change.with_) in LUBRICATES):
            washed.pop(change.member, None)
        elif change.verb == "cleans" and case.kind(change.with_) in WASHES and shape and shape.kind in RUNNING:
            washed[change.member] = change
    for change in washed.values():
        name = case.named([change.member])
        yield case.finding(
            change.step, ("cleans", change.at), f"{change.with_} washes {name}, and nothing greases it again",
            f"add a step behind with  applies: {{...: {name}}}",
        )  # fmt: skip
