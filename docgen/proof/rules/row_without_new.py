"""A row of the bench leaf gathers a renewal and does not say that the part is new."""

from docgen.proof.case import Findings
from docgen.proof.texts import TextRow

NEW = frozenset({"new", "renew", "fresh"})


def on_row(row: TextRow) -> Findings:
    """One finding a row."""
    renewed = [name for _, step in row.steps for name in step.renews]
    if renewed and not NEW & row.stems:
        yield row.finding(f"a step of this row renews {row.named(renewed)}, and the row does not say new",
                          "say that it is new: the old one lies in the tray beside it")
