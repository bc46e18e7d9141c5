"""The texts of a file and the languages that they are held in, for the rules about what is missing."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Any

from pydantic import BaseModel

from docgen.club.folder import Read
from docgen.club.schema.club import Club
from docgen.club.schema.prose import Said
from docgen.club.spoken import written_in
from docgen.club.yamldoc import Loc


@dataclass(frozen=True)
class Held:
    """A text at its place, and the languages that it is held in; ``own`` is that of text that names none."""

    loc: Loc
    text: Said
    own: str

    @property
    def languages(self) -> frozenset[str]:
        """The languages that it is held in."""
        return frozenset(language or self.own for language in self.text.languages)

    def lacks(self, languages: Iterable[str]) -> list[str]:
        """Those of some languages that it is not held in, in order."""
        return sorted(set(languages) - self.languages)


def texts(value: Any, own: str, loc: Loc = ()) -> Iterator[Held]:
    """Every text in a value, with its place below it."""
    if isinstance(value, Said):
        yield Held(loc, value, own)
    elif isinstance(value, BaseModel):
        fields = type(value).model_fields
        for name, part in value.__dict__.items():
            yield from texts(part, own, (*loc, (fields[name].alias or name) if name in fields else name))
    elif isinstance(value, dict):
        for name, part in value.items():
            yield from texts(part, own, (*loc, name))
    elif isinstance(value, tuple):
        for index, part in enumerate(value):
            yield from texts(part, own, (*loc, index))


def spoken_by(held: Iterable[Held]) -> frozenset[str]:
    """The languages that some texts are held in, taken together."""
    return frozenset(language for one in held for language in one.languages)


def own_of(read: Read[Any], club: Read[Club]) -> str:
    """The language of a file's text that names none."""
    return str(getattr(read.value, "language", None) or written_in(club)) if read is not club else written_in(club)


def named(languages: Iterable[str]) -> str:
    """Languages in a sentence: ``"de" and "fr"``."""
    return " and ".join(f'"{language}"' for language in languages)
