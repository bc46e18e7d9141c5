"""A shared file without a licence: nobody may use it, however much its writer wants them to."""

from docgen.club.schema.procedure import Procedure
from docgen.proof.case import Findings, Written

LEVEL = "note"


def on_steps(file: Written) -> Findings:
    """One finding at the head of the file."""
    if not file.value.licence:
        head = "procedure" if isinstance(file.value, Procedure) else "sequence"
        yield file.finding((head,), "this file has no licence, so nobody else may use it",
                           "add  licence: CC-BY-4.0, or another that you choose", key=True)  # fmt: skip
