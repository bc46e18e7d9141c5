"""A safety message that contains a work step: it has no tick box, so it is read and not done."""

import re

from docgen.proof.case import Findings, Written
from docgen.proof.verbs import WORKSHOP, first_word, imperatives, is_verb
from docgen.proof.words import english, sentences

TAKING_OFF = re.compile(r"(take|pull|lift|slide|push|put|lay)\b.*\b(off|out|on)\b(?!\s+\w+ (side|of))", re.IGNORECASE)

WORN = re.compile(r"\b(rings?|watch|watches|jewellery|gloves?|goggles|glasses|scarf|coat|jacket|tie|chain round)\b",
                  re.IGNORECASE)  # fmt: skip
"""What people wear: to take it off is no work on the engine."""


def on_steps(file: Written) -> Findings:
    """One finding at the part of the message."""
    for index, message in enumerate(file.value.safety):
        for key in ("hazard", "consequence", "avoid"):
            for sentence in sentences(english(getattr(message, key))):
                verb, rest = first_word(sentence), sentence.partition(" ")[2]
                work = any(row.work for row in imperatives().get(verb, ())) and is_verb(verb, rest)
                taken_off = verb in ("take", "pull", "lift") and TAKING_OFF.match(sentence) and not WORN.search(rest)
                if (work and not WORKSHOP.match(rest)) or taken_off:
                    yield file.finding(("safety", index, key), f"this message tells to do work: '{sentence}'",
                                       "make a step of it, where it can be ticked")  # fmt: skip
                    break
