"""A row of the bench leaf does not name the grease, oil, locker or other film that its steps put on."""

from docgen.proof.case import Findings
from docgen.proof.texts import TextRow
from docgen.proof.words import english, stems

SAID = {"threadlocker": "locker", "chain-lubricant": "lube lubricant", "paint": "paint mark", "consumable": "",
        "electrolyte": "acid water", "fuel": "fuel mix mixture", "anti-seize": "anti seize paste"}  # fmt: skip
"""What a mechanic calls a material of each kind, beside the kind itself and its name."""


def on_row(row: TextRow) -> Findings:
    """One finding a row, for the first material that it does not name."""
    register = row.case.club.value.materials
    for material in dict.fromkeys(name for _, step in row.steps for name in step.applies):
        kind = row.case.kind(material)
        name = english(register[material].name) if material in register else ""
        known = stems(f"{material.replace('-', ' ')} {kind} {SAID.get(kind, '')} {name}")
        if known and not known & row.stems:
            yield row.finding(f"a step of this row puts {name or material} on, and the row does not say so",
                              "name it as it is called at the bench: a film of grease, one drop of locker")
            return
