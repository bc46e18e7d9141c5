"""A safety message that contains a work step: it has no tick box, so it is read and not done."""

from __future__ import annotations

import re
from collections.abc import Iterator

from docgen.proof.case import Written
from docgen.proof.finding import Finding
from docgen.proof.verbs import first_word, imperatives
from docgen.proof.words import english, sentences

TAKING_OFF = re.compile(r"(take|pull|lift|slide|push|put|lay)\b.*\b(off|out|on)\b(?!\s+\w+ (side|of))", re.IGNORECASE)


def on_steps(file: Written) -> Iterator[Finding]:
    """One finding at the part of the message."""
    for index, message in enumerate(file.safety):
        for key in ("hazard", "consequence", "avoid"):
            for sentence in sentences(english(getattr(message, key))):
                verb = first_word(sentence)
                work = any(row.work for row in imperatives().get(verb, ()))
                if work or (verb in ("take", "pull", "lift") and TAKING_OFF.match(sentence)):
                    yield file.finding(("safety", index, key), f"this message tells to do work: '{sentence}'",
                                       "make a step of it, where it can be ticked")  # fmt: skip
                    break
