"""What things are called: the noun of a name, the words that tell it from others and those that mean the opposite."""

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cache, lru_cache

from docgen.club.catalogue import ENGLISH
from docgen.club.schema.prose import versions
from docgen.proof.tables import read_words

_OF = {"en": r"\s+(?:of|for|in|on|at|from|to|under|with|over)\s+", "de": r"\s+(?:des|der|vom|von|für|am|im|an|mit)\s+"}
_WORD = re.compile(r"[^\W\d_]+")
_FILLING = {
    "en": frozenset({"the", "a", "an", "of", "for", "and", "in", "on", "at", "to", "its"}),
    "de": frozenset({"der", "die", "das", "des", "dem", "den", "ein", "eine", "und", "für", "am", "im"}),
}


@dataclass(frozen=True)
class Name:
    """A name in its parts.

    noun  : the word that says what it is, as `washer`; in small letters, without the ending of the plural
    heads : the words before the noun, as `outer`, `thrust`        tail: those behind `of`
    """

    noun: str
    heads: frozenset[str]
    tail: frozenset[str]

    @property
    def words(self) -> frozenset[str]:
        """All of its words."""
        return self.heads | self.tail | {self.noun}


def spoken_name(item_name: str | None, key: str, language: str) -> str:
    """What an item is called in a language; empty where it has no name in it."""
    if item_name is None:
        return key.partition("/")[0].replace("-", " ") if language == ENGLISH else ""
    held = versions(item_name)
    return held.get(language) or (held.get("", "") if language == ENGLISH else "")


@lru_cache(maxsize=8192)
def parted(name: str, language: str) -> Name:
    """A name in its parts.

    >>> parted("nuts of the cylinder foot", "en").noun, parted("outer thrust washer", "en").heads == {"outer", "thrust"}
    ('nut', True)
    """
    head, *rest = re.split(_OF.get(language, _OF["en"]), re.sub(r"\([^)]*\)", " ", name), maxsplit=1, flags=re.I)
    words = [one.lower() for one in _WORD.findall(head)]
    noun = singular(words[-1], language) if words else ""
    return Name(noun, stems(" ".join(words[:-1]), language), stems(" ".join(rest), language) - {noun})


@lru_cache(maxsize=16384)
def stems(text: str, language: str) -> frozenset[str]:
    """The words of a text in small letters, without plural endings and without those that name nothing."""
    filling = _FILLING.get(language, _FILLING["en"])
    return frozenset(singular(word.lower(), language) for word in _WORD.findall(text) if word.lower() not in filling)


@lru_cache(maxsize=16384)
def singular(word: str, language: str) -> str:
    """An English word without the s of its plural; a word of another language as it is."""
    plural = language == "en" and len(word) > 3 and word.endswith("s") and not word.endswith(("ss", "us", "is"))
    return word[:-1] if plural else word


@lru_cache(maxsize=16384)
def listed_words(text: str, language: str) -> tuple[str, ...]:
    """The words of a text in order, in small letters and without plural endings."""
    return tuple(singular(word.lower(), language) for word in _WORD.findall(text))


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
