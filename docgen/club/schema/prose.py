"""Text that a sheet prints: in one language, or in several side by side.

    do: Undo the clutch nut.

    do:
      en: Undo the clutch nut.
      de: Kupplungsmutter lösen.

Text without a language is in the file's own (``language:`` in the file, else the club's). Whoever reads such a field
gets a string: :func:`docgen.club.translation.spoken` chooses which, and marks what had to stay in another language.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Annotated, Any

from pydantic import BeforeValidator, PlainSerializer, PlainValidator, WithJsonSchema

from docgen.club.catalogue import languages
from docgen.club.schema.base import Listed, fault
from docgen.club.schema.editors import LANGUAGE, LANGUAGES, Reads

OWN = ""
"""The language of text that names none: its file's."""
_HINT = "write the languages as en, de, fr; a comma inside a text needs quotation marks round it"


class Said(str):
    """A text that may be held in several languages; as a string it is the one that was chosen.

    languages : the text by language, in the order in which they are written; under ``""`` where it names none
    foreign   : the language of this very text, where it is not the one that was asked for
    """

    languages: Mapping[str, str]
    foreign: str

    def __new__(cls, text: str, languages: Mapping[str, str] | None = None, foreign: str = "") -> Said:
        """The text as chosen, and all that there is to choose from."""
        made = super().__new__(cls, text)
        made.languages = languages or {}
        made.foreign = foreign
        return made

    def in_language(self, language: str, own: str) -> Said:
        """The same text in a language; where it is not held in it, the first that was written down, marked as foreign.

        own : the language of its file, for text that names none

        >>> nut = Said("nut", {"en": "nut", "de": "Mutter"})
        >>> nut.in_language("de", "en"), nut.in_language("fr", "en").foreign
        ('Mutter', 'en')
        """
        held = self.languages
        chosen = language if language in held else OWN if own == language and OWN in held else next(iter(held))
        text, foreign = held[chosen], "" if (chosen or own) == language else chosen or own
        return self if text == self and foreign == self.foreign else Said(text, held, foreign)


def versions(text: str) -> Mapping[str, str]:
    """A field's texts by language; under ``""`` where it names none."""
    return text.languages if isinstance(text, Said) else {OWN: text}


def first(text: str) -> str:
    """What was written down first: for what reads a text's words, and must not depend on the language of the print."""
    return next(iter(versions(text).values()))


def like(text: str, new: str) -> str:
    """`new` as made from `text`: in a foreign language where that is."""
    return Said(new, foreign=text.foreign) if isinstance(text, Said) and text.foreign else new


def is_language(tag: object) -> bool:
    """Whether a tag names a language as files do: en, de, pt-BR (BCP 47, those that the CLDR has data for).

    >>> is_language("de"), is_language("pt-BR"), is_language("avoid"), is_language("EN")
    (True, True, False, False)
    """
    if not isinstance(tag, str) or tag in languages():
        return isinstance(tag, str)
    from babel import localedata

    language, _, region = tag.partition("-")
    spelled = language == language.lower() and region == region.upper() and "_" not in tag
    return spelled and bool(localedata.exists(tag.replace("-", "_")))


def _prose(value: Any) -> str:
    if isinstance(value, Said):
        return value
    if isinstance(value, dict):
        return _languages(value)
    if value is None or value == "":
        raise fault("empty-value", "nothing is written here", "write the value, or leave the key out")
    if not isinstance(value, str):
        raise fault("not-text", "text is needed here, not a list")
    return Said(value, {OWN: value})


def _languages(value: dict[str, Any]) -> Said:
    for language, text in value.items():
        if not is_language(language):
            message = f'"{language}" is no language: text is needed here, or the same text by language'
            raise fault("not-a-language", message, _HINT)
        if not isinstance(text, str) or not text:
            shape = "has nothing in it" if not text else "is not one text"
            message = f'what stands under "{language}" {shape}'
            raise fault("not-text", message, "write the text, or leave the language out")
    if not value:
        raise fault("empty-value", "nothing is written here", "write the value, or leave the key out")
    return Said(next(iter(value.values())), dict(value))


def _one_or_more(value: Any) -> Any:
    return [value] if isinstance(value, dict) else value


def _kept(value: Any) -> str:
    if isinstance(value, Said):
        return value if value.foreign else str(value)
    if isinstance(value, dict) and len(value) == 1:
        ((language, text),) = value.items()
        if is_language(language) and isinstance(text, str):
            return Said(text, foreign=language)
    if not isinstance(value, str):
        raise fault("not-text", "text is needed here")
    return value


def _plain(value: str) -> str | dict[str, str]:
    return {value.foreign: str(value)} if isinstance(value, Said) and value.foreign else str(value)


def _language(value: Any) -> Any:
    if not is_language(value):
        raise fault("not-a-language", f'"{value}" is no language', "write it as en, de or fr")
    return value


def _named(value: Any) -> str:
    return value if isinstance(value, str) and value else _prose(value)


Prose = Annotated[str, PlainValidator(_prose), WithJsonSchema(LANGUAGES)]
Proses = Annotated[tuple[Prose, ...], Listed, BeforeValidator(_one_or_more)]
Titled = Annotated[str, PlainValidator(_named), WithJsonSchema(LANGUAGES)]
"""A name, a number or a source: the same in every language, unless it is written in several."""
Language = Annotated[str, Reads(_language, LANGUAGE)]

Line = Annotated[str, PlainValidator(_kept), PlainSerializer(_plain)]
"""A text of a job, in the job's language; one in another is frozen as a mapping of its language to it."""
