"""``glossary.yaml``: the terms of the trade that the club's jobs use, each with what it means."""

from typing import Annotated

from pydantic import Field

from docgen.club.schema.base import Strict, Text, Texts, spread
from docgen.club.schema.prose import Prose


class Term(Strict):
    """What a term means; ``forms`` are other forms and spellings of it that the texts use."""

    means: Prose
    forms: Texts = ()


class Glossary(Strict):
    """The terms, by themselves as they are written in a sentence."""

    terms: dict[Text, Annotated[Term, spread("means")]] = Field(default_factory=dict)
