"""A row of the bench leaf does not say that its fasteners are started by hand, all of them, before any is tightened."""

from docgen.proof.case import Findings
from docgen.proof.texts import TextRow

BY_HAND = frozenset({"hand", "finger", "start"})


def on_row(row: TextRow) -> Findings:
    """One finding a row."""
    started = [name for _, step in row.steps for name in step.starts]
    if started and not BY_HAND & row.stems:
        yield row.finding(f"a step of this row starts {row.named(started)} by hand, and it does not say so",
                          "say by hand: tightened one by one from off, the last ones no longer find their holes")
