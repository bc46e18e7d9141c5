"""``glossary.yaml``: the terms of the trade that the club's jobs use, each with what it means."""

from __future__ import annotations

from typing import Annotated

from pydantic import BeforeValidator, Field

from docgen.club.schema.base import Strict, Text, Texts
from docgen.club.schema.prose import Prose


def _meant(value: object) -> object:
    return {"means": value} if isinstance(value, str) else value


class Term(Strict):
    """What a term means; ``forms`` are other forms and spellings of it that the texts use."""

    means: Prose
    forms: Texts = ()


class Glossary(Strict):
    """The terms, by themselves as they are written in a sentence."""

    terms: dict[Text, Annotated[Term, BeforeValidator(_meant)]] = Field(default_factory=dict)
