"""The text uses a tool of the register that neither the job nor its steps list: it is missing from the kit."""

from __future__ import annotations

import re
from collections.abc import Iterator

from docgen.job.kit import tools_of
from docgen.proof.case import Case
from docgen.proof.finding import Finding


def on_run(case: Case) -> Iterator[Finding]:
    """One finding at the text."""
    kit = {line.id for line in tools_of(case.procedure.value, [step for _, step in case.steps], case.figures)}
    phrases: dict[str, set[str]] = {}
    for name in (*case.club.value.tools, *case.club.value.gauges):
        phrases.setdefault(re.sub(r"-\d+$", "", name).replace("-", " "), set()).add(name)
    longest_first = sorted(phrases, key=len, reverse=True)
    for index, step in case.steps:
        text = step.do or ""
        for phrase in longest_first:
            if phrase not in text.lower():
                continue
            pattern = rf"\bwith (?:\w+ ){{0,2}}{phrase}\b"
            if re.search(pattern, text, re.IGNORECASE):
                text = re.sub(pattern, "", text, flags=re.IGNORECASE)
                if not phrases[phrase] & kit:
                    one = sorted(phrases[phrase])[0]
                    yield case.finding(index, ("do",), f"the text uses the {phrase}, but no step lists it",
                                       f"add  tools: [{one}]  to the step")  # fmt: skip
