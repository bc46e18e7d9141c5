"""A spare is to be at hand, and no step or failing check ever renews it."""

from __future__ import annotations

from collections.abc import Iterator

from docgen.club.schema.procedure import Procedure, Step
from docgen.proof.case import Written
from docgen.proof.finding import Finding

LEVEL = "note"


def on_steps(file: Written) -> Iterator[Finding]:
    """One finding at the spare's name. The steps of the sequences that the job uses count."""
    if not isinstance(file.value, Procedure):
        return
    renewed = {name.partition("/")[0] for _, step in file.with_sequences for name in _renews(step)}
    for index, spare in enumerate(file.value.spares):
        if spare.partition("/")[0] not in renewed:
            yield file.finding(("spares", index), f"{spare} is to be at hand, and nothing in this job renews it",
                               "say where:  renews: in a step, or in the  fail:  of a check; or take it off the list"
                               )  # fmt: skip


def _renews(step: Step) -> Iterator[str]:
    yield from step.renews
    for check in (step.look, step.measure):
        if check and check.fail:
            yield from (*(check.fail.renews or ()), *(check.fail.spares or ()))
