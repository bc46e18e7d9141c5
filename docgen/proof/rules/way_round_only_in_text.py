"""The text says which way round a part goes, and the model does not: the sheet prints no tick box for it."""

import re

from docgen.proof.case import Findings
from docgen.proof.texts import Text

TURNED = {
    "en": re.compile(r"\b(?:(?:\w+ )?(?:sides?|faces?|ends?|tips?|lips?|edges?|rims?)|arrow|dot|mark)"
                     r" (?:(?:facing|pointing|points?|looking) )?(?:to|towards?|against|outwards?|inwards?|up|down)\b",
                     re.IGNORECASE),
    "de": re.compile(r"\b(?:Seite|Fläche|Ende|Spitze|Lippe|Kante|Rand|Pfeil|Punkt|Markierung)"
                     r" (?:zum|zur|gegen|in Richtung|nach (?:oben|unten|innen|außen|vorn|hinten))\b"),
}  # fmt: skip


def on_text(text: Text) -> Findings:
    """One finding at the text of a step that puts parts on, none of which the model turns any way."""
    model, step = text.case.model.value, text.steps[0]
    put = [*step.fits, *step.renews, *step.starts, *step.tightens]
    known = [name for name in put if name.partition("/")[0] in {**model.parts, **model.fasteners}]
    turned = TURNED[text.language].search(text.text) if text.is_step and text.language in TURNED else None
    if turned and known and not any(text.case.figures.item(name).orientation for name in known):
        yield text.finding(f"the text says '{turned[0]}', and the model says of {known[0]} no way round",
                           "write  orientation: {face: ..., towards: ...}  in the model")  # fmt: skip
