"""The text turns a part the other way than the model: another face, or the same face towards something else."""

import re
from collections.abc import Iterator

from docgen.club.schema.model import Orientation
from docgen.club.schema.procedure import Step
from docgen.proof.case import Case, Findings
from docgen.proof.naming import listed_words, opposed, opposites, parted, spoken_name, stems
from docgen.proof.texts import Text

TOWARDS = {
    "en": re.compile(r"\b(?:towards?|to|facing|faces?|at|against|pointing|points?|looks?|looking)\b(.*)", re.I),
    "de": re.compile(r"\b(?:zum|zur|zu|nach|gegen|auf|in Richtung)\b(.*)", re.IGNORECASE),
}
_CLAUSE = re.compile(r"[.,;:()]|\s[-–]\s|\b(?:and|then|und|dann)\b")
_NEAR = 4
"""Words behind `towards` in which the thing that is faced is named."""


def on_text(text: Text) -> Findings:
    """One finding a text, at the first clause that tells of a face and turns it another way."""
    ways = [way for step in text.steps for way in _ways(text.case, step, text.language)]
    for clause in _CLAUSE.split(text.text) if ways else ():
        found = [_unlike(text, clause, *way) for way in ways]
        if all(found):
            yield text.finding(found[0], "let text and model turn it the same way: hold the part in the hand")
            return


def _ways(case: Case, step: Step, language: str) -> Iterator[tuple[str, str, str]]:
    """Item, face and what it faces, of all that the step puts on."""
    for name in (*step.fits, *step.renews, *step.tightens):
        item = name.partition("/")[0]
        if item in case.model.value.parts or item in case.model.value.fasteners:
            way: Orientation | None = case.figures.item(name).orientation
            face, towards = (spoken_name(said, "", language) for said in (way.face, way.towards)) if way else ("", "")
            if face and towards:
                yield item, face, towards


def _unlike(text: Text, clause: str, item: str, face: str, towards: str) -> str:
    """What the clause says otherwise of this face; empty where it says the same, or does not tell of it."""
    language, words = text.language, listed_words(clause, text.language)
    meant, known = stems(face, language), parted(face, language)
    other = opposed(_before(words, known.noun), known.heads, language)
    if other and known.noun in words:
        return f"the text says '{other[0]} {known.noun}', and of {item} the model says: {face} towards {towards}"
    if not any(_alike(word, one) for word in words for one in meant):
        return ""
    faced = TOWARDS.get(language, TOWARDS["en"]).search(clause)
    if not faced:
        return ""
    behind, wanted = listed_words(faced[1], language)[: 2 * _NEAR], stems(towards, language)
    if any(_alike(word, one) for word in behind for one in wanted):
        return ""
    turned = opposed(behind, wanted, language)
    elsewhere = next((word for word in behind[:_NEAR] if word in _nouns(text.case, language)), "")
    if turned or (elsewhere and elsewhere not in meant):
        return f"the text turns it to '{faced[1].strip()}', and of {item} the model says: {face} towards {towards}"
    return ""


def _before(words: tuple[str, ...], noun: str) -> tuple[str, ...]:
    """The two words before a noun."""
    at = words.index(noun) if noun in words else 0
    return words[max(0, at - 2) : at]


def _alike(one: str, other: str) -> bool:
    """Whether two words have one stem: chamfer and chamfered."""
    least = min(len(one), len(other))
    return one == other or (least > 4 and one[: min(least, 6)] == other[: min(least, 6)])


def _nouns(case: Case, language: str) -> frozenset[str]:
    """The nouns of everything that the engine has, and the words that have an opposite."""
    model = case.model.value
    named = (spoken_name(item.name, key, language) for key, item in {**model.parts, **model.fasteners}.items())
    return frozenset(parted(name, language).noun for name in named if name) | opposites(language).keys()
