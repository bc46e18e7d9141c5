"""Words that several rules share."""

import re

from docgen.club.schema.prose import Said

FILLING = frozenset({"of", "the", "a", "an", "for", "with", "and", "to", "in", "on", "at", "it", "its", "is", "are"})
"""Words that name nothing."""
_ENDING = re.compile(r"(?<=[a-z]{3})(?:es|s|ed|ing|ly|e)$")
_SENTENCE_END = re.compile(r"(?<=[.!?])\s+(?=[A-Z0-9\"'(])")
_VALUE = re.compile(r"\{[^{}]*\}")


def english(text: str | None) -> str:
    """A text, for a rule that knows English words; empty where the file holds it in other languages only.

    Proofing turns the folder to English first, so that what stays foreign is not English.
    """
    return "" if text is None or (isinstance(text, Said) and text.foreign) else text


def stems(text: str) -> frozenset[str]:
    """The words of a text without their endings and without those that name nothing: `washers` and `washer` are one.

    >>> sorted(stems("Look at the washers: greased, not worn"))
    ['greas', 'look', 'not', 'washer', 'worn']
    """
    found = re.findall(r"[a-z0-9]+", re.sub(r"\([^)]*\)", " ", text.lower()))
    return frozenset(_ENDING.sub("", word) or word for word in found if word not in FILLING)


def sentences(text: str) -> list[str]:
    """A text's sentences."""
    return [part for part in _SENTENCE_END.split(text.strip()) if part]


def words(sentence: str) -> list[str]:
    """A sentence's words; a `{value}` is one, a joined word too."""
    return [word for word in _VALUE.sub("value", sentence).split() if re.search(r"\w", word)]
