"""Grease, oil or sealant goes onto a used part that was not cleaned since it came off."""

from docgen.club.bench.state import Change
from docgen.proof.case import Case, Findings

PUT_ON = ("grease", "oil", "chain-lubricant", "anti-seize", "sealant")


def on_run(case: Case) -> Findings:
    """One finding at the greasing. A new part counts as clean; what never came off is not judged."""
    dirty: dict[str, Change] = {}
    for index, step in case.steps:
        for member in case.run.graph.each(step.renews):
            dirty.pop(member, None)  # the new one is greased in the hand, before it goes on
        for change in case.run.by_step[index]:
            if change.verb in ("removes", "undoes"):
                dirty[change.member] = change
                dirty.update(dict.fromkeys(case.run.graph.carried[change.member], change))
            elif change.verb in ("cleans", "renews"):
                dirty.pop(change.member, None)
            elif change.member in dirty and case.puts_on(change, PUT_ON):
                name = case.named([change.member])
                yield case.at(change, f"{change.with_} goes onto {name}, which was not cleaned since it came off",
                              f"add a step before with  cleans: {{{name}: ...}}", [dirty.pop(change.member)])
