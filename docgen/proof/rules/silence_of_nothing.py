"""A silence that silences nothing: the fault is mended or never was, or the rule's name is wrong."""

from docgen.club.problem import did_you_mean
from docgen.proof.case import Finding, Findings
from docgen.proof.silence import Silences


def on_silences(silences: Silences) -> Findings:
    """One finding at the silence."""
    for one in silences.idle:
        if one.rule in silences.rules:
            message, hint = f"{one.rule} finds nothing here to silence", "take this silence away"
        else:
            message, hint = f"there is no rule '{one.rule}'", did_you_mean(one.rule, silences.rules)
        yield Finding(one.document, one.loc, message, hint, key=True)
