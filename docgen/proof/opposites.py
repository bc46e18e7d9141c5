"""Words that mean the opposite of each other, in each language: inlet and exhaust, open and closed."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from functools import cache

from docgen.proof.tables import read_words


@cache
def opposites(language: str) -> Mapping[str, frozenset[str]]:
    """Each word of a language with its opposites, in small letters."""
    found: dict[str, set[str]] = {}
    for row in read_words("opposites"):
        if row["language"] == language:
            one, other = row["one"].lower(), row["other"].lower()
            found.setdefault(one, set()).add(other)
            found.setdefault(other, set()).add(one)
    return {word: frozenset(words) for word, words in found.items()}


def opposed(said: Iterable[str], meant: Iterable[str], language: str) -> tuple[str, str] | None:
    """The first word that is said instead of its opposite: the opposite is meant, and is not said too.

    >>> opposed(["arrow", "to", "inlet"], ["exhaust", "port"], "en")
    ('inlet', 'exhaust')
    >>> opposed(["from", "inlet", "to", "exhaust"], ["exhaust", "port"], "en") is None
    True
    """
    spoken, wanted = list(said), set(meant)
    if not wanted:
        return None
    for word in spoken:
        for other in sorted(opposites(language).get(word, ())):
            if other in wanted and word not in wanted and other not in spoken:
                return word, other
    return None
