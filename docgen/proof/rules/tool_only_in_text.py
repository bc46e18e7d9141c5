"""The text uses a tool of the register that neither the job nor its steps list: it is missing from the kit."""

import re
from functools import lru_cache

from docgen.job.kit import tools_of
from docgen.proof.case import Case, Findings
from docgen.proof.words import english


def on_run(case: Case) -> Findings:
    """One finding at the text. The kit is made up only when a step does not list the tool itself."""
    register = (*case.club.value.tools, *case.club.value.gauges)
    kit: set[str] | None = None
    for index, step in case.steps:
        for phrase, meant in _used(english(step.do), register):
            if meant & {*step.tools, *case.procedure.value.tools}:
                continue
            if kit is None:
                steps = [one for _, one in case.steps]
                kit = {line.id for line in tools_of(case.procedure.value, steps, case.figures)}
            if not meant & kit:
                yield case.finding(index, ("do",), f"the text uses the {phrase}, but no step lists it",
                                   f"add  tools: [{min(meant)}]  to the step")  # fmt: skip


@lru_cache(maxsize=4096)
def _used(text: str, register: tuple[str, ...]) -> tuple[tuple[str, frozenset[str]], ...]:
    """The tools that a text uses: `with the soft brush`. A longer name is not taken for a shorter one in it."""
    found = []
    for phrase, meant in _phrases(register):
        pattern = rf"\bwith (?:\w+ ){{0,2}}{phrase}\b"
        if phrase in text.lower() and re.search(pattern, text, re.IGNORECASE):
            text = re.sub(pattern, "", text, flags=re.IGNORECASE)
            found.append((phrase, meant))
    return tuple(found)


@lru_cache(maxsize=16)
def _phrases(register: tuple[str, ...]) -> tuple[tuple[str, frozenset[str]], ...]:
    """What a text calls the tools: their names without hyphens and sizes, longest first."""
    names: dict[str, set[str]] = {}
    for name in register:
        names.setdefault(re.sub(r"-\d+$", "", name).replace("-", " "), set()).add(name)
    return tuple((phrase, frozenset(names[phrase])) for phrase in sorted(names, key=len, reverse=True))
