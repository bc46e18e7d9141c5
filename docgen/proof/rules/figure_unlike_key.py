"""A figure in the text is another one than the step's own: its torque, wait, amount, limit, setting or tool."""

import re
from collections.abc import Sequence

from docgen.proof.case import Findings
from docgen.proof.figures import Figure, figures
from docgen.proof.owned import Own, beside, comparable, drives, own_figures, sizes
from docgen.proof.texts import Text

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


def on_text(text: Text) -> Findings:
    """One finding a text, for the first figure that nothing of the step says. Only differences are told."""
    for figure in figures(text.text, text.language):
        if found := _unlike(text, figure):
            yield text.finding(*found)
            return


def _unlike(text: Text, figure: Figure) -> tuple[str, str] | None:
    owns = [own for own in _held_against(text, figure) if comparable(figure, own)]
    if not owns or any(own.meets(figure) and own.same_units(figure) for own in owns):
        return None
    known = (one for step in text.steps for one in beside(step, text.case.figures))
    if any(one in (figure.low, figure.high) for one in known):
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


def _held_against(text: Text, figure: Figure) -> Sequence[Own]:
    """The step's figures that a figure of the text could be meant to be."""
    of = text.case.figures
    behind = text.text[figure.start + len(figure.written) :]
    if "length" in figure.dimensions and TURNS_WITH.match(behind):
        return [own for step in text.steps for own in drives(step, of)]
    owns = [own for step in text.steps for own in own_figures(step, of)]
    if "length" not in figure.dimensions:
        return owns
    if IN_SPACE.match(behind):
        return []
    reads = any(step.measure or step.finds or step.sets for step in text.steps)
    return owns if reads else [own for step in text.steps for own in sizes(step, of)]


def _is(own: Own) -> str:
    return "" if own.what.endswith(("tightened", "cures")) else " is"
