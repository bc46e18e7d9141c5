"""A figure in the text is another one than the step's own: its torque, wait, amount, limit, setting or tool."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from docgen.club.schema.procedure import Step
from docgen.proof.case import Case
from docgen.proof.figures import Figure, figures
from docgen.proof.finding import Finding
from docgen.proof.owned import Own, beside, comparable, drives, own_figures, sizes
from docgen.proof.texts import Text, texts_of

TURNS_WITH = re.compile(
    r"[\s-]*(?:(?:ring|open|box|hex|combination|long|deep|Ring|Steck)[\s-]*)?"
    r"(spanner|socket|wrench|key|bit|hexagon|schlüssel|Schlüssel|nuss|Nuss|einsatz)\b"
)
"""What makes a length the size of a tool: `with the 13 mm socket`."""
IN_SPACE = re.compile(
    r"\s*(?:above|below|from|deep|long|wide|away|apart|behind|before|beside|off|under|along|in front|outside|inside"
    r"|past|beyond|tief|lang|breit|über|unter|vor|hinter|neben)\b"
)
"""What makes a length the place where something is done: `18 mm above the edge`."""


def on_run(case: Case) -> Iterator[Finding]:
    """One finding a text, for the first figure that nothing of the step says. Only differences are told."""
    for text in texts_of(case):
        for figure in figures(text.text, text.language):
            if found := _unlike(case, text, figure):
                yield text.finding(*found)
                break


def _unlike(case: Case, text: Text, figure: Figure) -> tuple[str, str] | None:
    owns = [own for own in _held_against(case, text, figure) if comparable(figure, own)]
    if not owns or any(own.meets(figure) and own.same_units(figure) for own in owns):
        return None
    if any(_same(figure, known) for step in text.steps for known in beside(step, case.figures)):
        return None
    if "time" in figure.dimensions and any(
        own.meets(other) for own in owns for other in figures(text.text, text.language) if comparable(other, own)
    ):
        return None
    nearest = owns[0]
    said = f"the text says {figure.written}, and {nearest.what}{_is(nearest)} {nearest.band}"
    if not nearest.same_units(figure):
        return f"{said}: one quantity in two units", "write it in the unit that the sheet prints, or leave it out"
    return said, "leave the figure out: the sheet prints it beside the text; or put the wrong one of the two right"


def _held_against(case: Case, text: Text, figure: Figure) -> Sequence[Own]:
    """The step's figures that a figure of the text could be meant to be."""
    behind = text.text[figure.start + len(figure.written) :]
    if "length" in figure.dimensions and TURNS_WITH.match(behind):
        return [own for step in text.steps for own in drives(step, case.figures)]
    owns = [own for step in text.steps for own in own_figures(step, case.figures)]
    if "length" not in figure.dimensions:
        return owns
    if IN_SPACE.match(behind) or not any(_reads(step) for step in text.steps):
        return [own for step in text.steps for own in sizes(step, case.figures)] if not IN_SPACE.match(behind) else []
    return owns


def _reads(step: Step) -> bool:
    return bool(step.measure or step.finds or step.sets)


def _same(figure: Figure, known: object) -> bool:
    return known in (figure.low, figure.high)


def _is(own: Own) -> str:
    return "" if own.what.endswith(("tightened", "cures")) else " is"
