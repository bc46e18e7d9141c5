"""The words that a first-year member knows: common speech, the glossary, and what parts and tools are called."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from functools import cache
from importlib.resources import files

from docgen.club.folder import Folder
from docgen.club.schema.glossary import Glossary

WORD = re.compile(r"[A-Za-z]+(?:'[a-z]+)?")
_NOT_PROSE = re.compile(r"\{[^{}]*\}|(?<!\S)[^\s\d]*\d\S*")
_PREFIXES = frozenset({"pre", "re", "non"})
_ENDINGS = ("s", "es", "ness", "ful", "less")
_OWNED = re.compile(r"'s$|s'$")


@cache
def common_words() -> frozenset[str]:
    """The common words of British English; where they are from stands at the head of their table."""
    table = (files("docgen.proof.tables") / "common_words.txt").read_text("utf-8")
    return frozenset(line for line in table.splitlines() if not line.startswith("#"))


def vocabulary(folder: Folder, glossary: Glossary) -> frozenset[str]:
    """Every word of the glossary's terms, and of what the club's models and registers call parts, limits and tools."""
    texts = [text for term, one in glossary.terms.items() for text in (term, *one.forms)]
    for read in folder.models.values():
        model = read.value
        for named in (model.parts, model.fasteners, model.limits, model.settings):
            texts += [text for key, one in named.items() for text in (key, one.name or "")]
    if folder.club is not None:
        club = folder.club.value
        for register in (club.tools, club.gauges, club.materials):
            texts += [text for key, one in register.items() for text in (key, one.name)]
    return frozenset(word for text in texts for word in words(text))


def words(text: str) -> Iterator[str]:
    """The words of a text in small letters; figures, values in braces and single letters left out.

    >>> list(words("Set the {rotor-gap} to 0.3 mm, the pop-off's too"))
    ['set', 'the', 'to', 'mm', 'the', 'pop', 'off', 'too']
    """
    for match in WORD.finditer(_NOT_PROSE.sub(" ", text)):
        word = _OWNED.sub("", match.group().casefold())
        if len(word) > 1:
            yield word


def unknown(text: str, known: frozenset[str]) -> list[str]:
    """The words of a text that neither common speech nor the vocabulary has, each once; plurals are known with theirs.

    Names in capitals (abbreviations) are left alone: a rule cannot tell what they stand for.
    """
    capitals = {match.group().casefold() for match in re.finditer(r"\b[A-Z]{2,}\b", text)}
    found = dict.fromkeys(words(text))
    return [word for word in found if word not in capitals and not any(_is_known(one, known) for one in _forms(word))]


def _is_known(word: str, known: frozenset[str]) -> bool:
    return len(word) < 3 or word in _PREFIXES or word in known or word in common_words()


def _forms(word: str) -> Iterable[str]:
    """The word, and the plainer words that it may be made of: hardness of hard, canful of can, washers of washer."""
    yield word
    for ending in _ENDINGS:
        if word.endswith(ending) and not word.endswith("ss" if ending == "s" else "\0"):
            yield word.removesuffix(ending)
