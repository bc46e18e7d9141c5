"""A spare is to be at hand, and no step or failing check ever renews it."""

from docgen.club.schema.procedure import Procedure
from docgen.proof.case import Findings, Written

LEVEL = "note"


def on_steps(file: Written) -> Findings:
    """One finding at the spare's name. The steps of the sequences that the job uses count."""
    if not isinstance(file.value, Procedure):
        return
    steps = [step for _, step in file.with_sequences]
    fails = [fail for step in steps for _, fail in step.fails]
    used = [*(step.renews for step in steps), *(names or () for fail in fails for names in (fail.renews, fail.spares))]
    renewed = {name.partition("/")[0] for names in used for name in names}
    for index, spare in enumerate(file.value.spares):
        if spare.partition("/")[0] not in renewed:
            yield file.finding(("spares", index), f"{spare} is to be at hand, and nothing in this job renews it",
                               "say where:  renews: in a step, or in the  fail:  of a check; or take it off the list")
