"""The program's own words, said where they print, and how their language writes figures.

``w("Bench leaf")`` says a word in the language of `w`; a template says ``_("Bench leaf")``. What stands in braces is
filled in: ``w("at most {value}", value=...)``. Where one English word is two in another language, its place in the
trade goes before it: ``w.pgettext("every", "month")``. The English is the message of the gettext catalogue
(:mod:`docgen.club.catalogue`); ``python -m tools.catalogue`` finds the messages in the code and in the templates.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import cached_property
from typing import TYPE_CHECKING

from docgen.club.catalogue import ENGLISH, catalogue

if TYPE_CHECKING:  # it loads the tables of a whole language, of which English needs nothing on a screen
    from babel import Locale

_CAPITAL_NOUNS = frozenset({"de", "lb"})
"""Languages that write every noun with a capital."""


def message(text: str) -> str:
    """A word, or one of two, that is said later, as ``w(TABLE[key])``: it stands here for the catalogue to find."""
    return text


class Words:
    """A language's words; English for those that its catalogue lacks (a test keeps the shipped ones whole).

    found : the catalogue, by context and English; without it, the language's own
    Errors: FileNotFoundError for a language without a catalogue.

    >>> Words("de")("{larger} less {smaller}", larger="Bohrung", smaller="Kolben")
    'Bohrung minus Kolben'
    """

    def __init__(self, language: str = ENGLISH, found: Mapping[tuple[str, str], str] | None = None) -> None:
        self.language = language
        self._found = catalogue(language) if found is None else found

    @staticmethod
    def speaking(language: str) -> Words:
        """The words in a language, put together once."""
        if language not in _SPOKEN:
            _SPOKEN[language] = Words(language)
        return _SPOKEN[language]

    def __call__(self, text: str, /, **values: object) -> str:
        """A word, with its braces filled; without values they stay."""
        return self.pgettext("", text, **values)

    def pgettext(self, context: str, text: str, /, **values: object) -> str:
        """A word that means something else elsewhere."""
        said = self._found.get((context, text), text)
        return said.format(**values) if values else said

    @cached_property
    def locale(self) -> Locale:
        """The conventions of the language; English as in Britain, day before month."""
        from babel import Locale

        return Locale.parse("en_GB" if self.language == ENGLISH else self.language.replace("-", "_"))

    @cached_property
    def decimal_sign(self) -> str:
        """What parts whole and decimal figures."""
        if self.language == ENGLISH:
            return "."
        from babel.numbers import get_decimal_symbol

        return get_decimal_symbol(self.locale)

    def number(self, value: object) -> str:
        """A figure with the language's decimal sign, to as many places as it is written with.

        >>> Words().number("0.50"), Words("de").number("0.50")
        ('0.50', '0,50')
        """
        return str(value).replace(".", self.decimal_sign)

    @property
    def capital_nouns(self) -> bool:
        """Whether a noun keeps its capital inside a sentence."""
        return self.language.partition("-")[0] in _CAPITAL_NOUNS


_SPOKEN: dict[str, Words] = {}
