"""A row of the bench leaf does not name the grease, oil, locker or other film that its steps put on."""

from __future__ import annotations

from collections.abc import Iterator

from docgen.proof.case import Case
from docgen.proof.finding import Finding
from docgen.proof.leafrows import gathered
from docgen.proof.words import english, stems

SAID = {"threadlocker": "locker", "chain-lubricant": "lube lubricant", "paint": "paint mark", "consumable": "",
        "electrolyte": "acid water", "fuel": "fuel mix mixture", "anti-seize": "anti seize paste"}  # fmt: skip
"""What a mechanic calls a material of each kind, beside the kind itself and its name."""


def on_run(case: Case) -> Iterator[Finding]:
    """One finding a row, for the first material that it does not name."""
    register = case.club.value.materials
    for row in gathered(case):
        for material in dict.fromkeys(name for _, step in row.each for name in step.applies):
            kind = case.kind(material)
            name = english(register[material].name) if material in register else ""
            known = stems(f"{material.replace('-', ' ')} {kind} {SAID.get(kind, '')} {name}")
            if known and not known & row.stems:
                yield row.finding(
                    f"a step of this row puts {name or material} on, and the row does not say so",
                    "name it as it is called at the bench: a film of grease, one drop of locker",
                )
                break
