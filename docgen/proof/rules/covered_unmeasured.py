"""A job counts as another that it covers, and does not measure what that one measures."""

from docgen.club.schema.procedure import Procedure
from docgen.proof.case import Findings, Written


def on_steps(file: Written) -> Findings:
    """One finding at the covered job's name. The steps of the sequences that both use count."""
    if not isinstance(file.value, Procedure):
        return
    own = _measured(file)
    for index, name in enumerate(file.value.covers):
        other = file.job(name)
        left = sorted(_measured(other) - own) if other else ()
        if left:
            yield file.finding(("covers", index),
                               f"signed, this job counts as {name}, and it does not measure {', '.join(left)}",
                               f"measure it here too; or take  {name}  off  covers:  so that it stays due")


def _measured(file: Written) -> set[str]:
    return {name for _, step in file.with_sequences if step.measure for name in step.measure.of}
