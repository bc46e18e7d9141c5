"""The text names one thing and the step handles another: a line was copied and only half of it changed."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache

from docgen.club.schema.procedure import ASSEMBLY_VERBS, Step
from docgen.proof.case import Case
from docgen.proof.finding import Finding
from docgen.proof.words import FILLING, english

FASTENING = ("undoes", "starts", "tightens")


@dataclass(frozen=True)
class Named:
    """How far a text names an item: its words that stand in the text, of all its words."""

    item: str
    found: int
    all: int

    @property
    def whole(self) -> bool:
        """Whether every word of its name stands in the text."""
        return self.found == self.all


def on_run(case: Case) -> Iterator[Finding]:
    """One finding at the verb. Another thing must be named in full, and better than all that the step handles."""
    model = case.model.value
    items = {**model.parts, **model.fasteners}
    names = {name: _words(item.name or name.replace("-", " ")) for name, item in items.items()}
    for index, step in case.steps:
        verb = next((verb for verb in ASSEMBLY_VERBS if getattr(step, verb)), None)
        if verb is None:
            continue
        text, handled = _words(english(step.do)), _handled(step)
        own = max((_named(i, names[i], text) for i in handled if i in names), key=lambda n: n.found, default=None)
        if own is None or own.whole:
            continue
        kind = model.fasteners if verb in FASTENING else model.parts
        others = [_named(i, names[i], text) for i in kind if names[i] <= text and i not in handled]
        better = [n for n in others if n.found > own.found]
        if better:
            best = max(better, key=lambda n: n.found)
            yield case.finding(
                index, (verb, 0), f"the text names {best.item}, and the step {verb} {own.item}",
                "let text and step speak of the same thing",
            )  # fmt: skip


def _handled(step: Step) -> list[str]:
    return [name.partition("/")[0] for verb in ASSEMBLY_VERBS for name in getattr(step, verb)]


def _named(item: str, name: frozenset[str], text: frozenset[str]) -> Named:
    return Named(item, len(name & text), len(name))


@lru_cache(maxsize=4096)
def _words(text: str) -> frozenset[str]:
    found = re.findall(r"[a-z0-9]+", re.sub(r"\([^)]*\)", "", text.lower()))
    return frozenset(word.removesuffix("s") for word in found if word not in FILLING)
