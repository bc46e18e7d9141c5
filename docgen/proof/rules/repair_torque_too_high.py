"""A torque given for a repaired thread on this engine overloads the screw or strips what is left of the boss."""

from docgen.proof.case import Finding, Findings, Owned
from docgen.proof.rules.old_torque_on_new_thread import in_force
from docgen.proof.rules.torque_too_high import STRONGEST, checked


def on_engine(owned: Owned) -> Findings:
    """One finding at the torque in the engine's log, by the same formulas as torque-too-high."""
    for document, event in in_force(owned):
        if event.item not in owned.model.value.fasteners or event.changes is None or event.changes.torque is None:
            continue
        found = checked(owned.figures.fastener(event.item), STRONGEST)
        if found and found.verdict in ("overloads", "may-overload"):
            yield Finding(
                document, ("changes", "torque"), f"{event.item}: {found.says}",
                "file a correction; without a torque the sheet prints a blank line, or an estimate that says so",
            )  # fmt: skip
