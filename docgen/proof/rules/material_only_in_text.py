"""The text uses a material that the step does not state: no amount, no hazard, not on the kit list."""

import re
from collections.abc import Iterator

from docgen.club.schema.club import Material
from docgen.job.kit import stated
from docgen.proof.case import Findings, Written
from docgen.proof.words import english

KIND_WORDS = ("grease", "oil", "threadlocker", "degreaser", "sealant", "chain-lubricant")


def on_steps(file: Written) -> Findings:
    """One finding at the text, for the first such material; what is filled in stands with the model's fluids."""
    register = file.club.value.materials
    for loc, step in file.steps:
        if step.fills or step.drains:
            continue
        named = set(stated(step, register))
        for phrase, meant in _phrases(register):
            if named & meant or not _uses(phrase, english(step.do)):
                continue
            one = sorted(meant)[0]
            yield file.finding((*loc, "do"), f"the text uses {phrase}, but the step does not state it",
                               f"add  cleans: {{...: {one}}}  or  applies: {{{one}: ...}}")  # fmt: skip
            break


def _phrases(register: dict[str, Material]) -> Iterator[tuple[str, set[str]]]:
    for name in register:
        yield name.replace("-", " "), {name}
    for kind in KIND_WORDS:
        meant = {name for name, material in register.items() if material.kind == kind}
        if meant:
            yield kind.replace("-", " "), meant


def _uses(phrase: str, text: str) -> bool:
    """`with brake cleaner`, `a film of oil`, `put chain lubricant`; not `the old grease off`."""
    before = r"\b(with|of|put|spread|apply|in)\s+((a|an|the|some|fresh|new|thin|clean)\s+)*"
    return re.search(rf"{before}{phrase}\b", text, re.IGNORECASE) is not None
