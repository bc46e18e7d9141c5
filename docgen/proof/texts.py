"""What a job's texts tell: each, in every language that it is held in, of its own step or row; the rows of the leaf.

And the languages that the texts of a file are held in, for the rules about what is missing.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from pydantic import BaseModel

from docgen.club.folder import Read
from docgen.club.schema.club import Club
from docgen.club.schema.procedure import Step
from docgen.club.schema.prose import Said, versions
from docgen.club.translation import written_in
from docgen.club.yamldoc import Document, Loc
from docgen.proof.case import Case, Finding
from docgen.proof.words import english, stems


@dataclass(frozen=True)
class Text:
    """One text in one language, its place, and the steps that it tells of: its own, or all of its row.

    index : of its own step, or of the row's first
    """

    case: Case
    text: str
    language: str
    document: Document
    loc: Loc
    steps: tuple[Step, ...]
    index: int

    @property
    def is_step(self) -> bool:
        """Whether it is what the step says to do."""
        return self.loc[-1] == "do"

    def finding(self, message: str, hint: str = "") -> Finding:
        """A finding at the text."""
        return Finding(self.document, self.loc, message, hint)


@lru_cache(maxsize=1)
def texts_of(case: Case) -> tuple[Text, ...]:
    """The texts of a job in order. What tells why, or what to do when a check fails, speaks of other things too."""
    return tuple(_texts(case))


def _texts(case: Case) -> Iterator[Text]:
    placed = case.run.steps
    rows: dict[int, list[int]] = {}
    for index, row in enumerate(case.rows):
        rows.setdefault(row.row, []).append(index)
    together = {index: tuple(placed[i].step for i in group) for group in rows.values() for index in group}
    for index, one in enumerate(placed):
        step, (document, loc) = one.step, one.says
        of_row = together.get(index, (step,))
        for at, keys, text, steps in (
            ((one.document, one.loc), ("do",), step.do, (step,)),
            ((one.document, one.loc), ("look", "accept"), step.look and step.look.accept, (step,)),
            ((one.document, one.loc), ("hold", "why"), step.hold and step.hold.why, (step,)),
            ((one.document, one.loc), ("repeat", "until"), step.repeat and step.repeat.until, (step,)),
            ((one.document, one.loc), ("alone",), step.alone, (step,)),
            ((document, loc), ("row",), one.row, of_row),
            ((document, loc), ("adds",), one.adds, of_row),
        ):
            for language, said in versions(text).items() if text else ():
                yield Text(case, said, language or _language(case, at[0]), at[0], (*at[1], *keys), steps, index)


def _language(case: Case, document: Document) -> str:
    """The language of a file's text that names none."""
    read = next((read for read in case.sequences.values() if read.document is document), case.procedure)
    return own_of(read, case.club)


@dataclass(frozen=True)
class TextRow:
    """One row of the bench leaf: its text, the words of that without endings, and the indices of its steps."""

    case: Case
    line: str
    stems: frozenset[str]
    indices: tuple[int, ...]

    @property
    def steps(self) -> Iterator[tuple[int, Step]]:
        """Its steps, each with its index."""
        return ((index, self.case.run.steps[index].step) for index in self.indices)

    def named(self, names: Iterable[str]) -> str:
        """What some names of its steps mean, in words."""
        return self.case.named(self.case.run.graph.each(names))

    def finding(self, message: str, hint: str) -> Finding:
        """A finding at the row's text, or at its first step where it has none."""
        placed = self.case.run.steps[self.indices[0]]
        document, loc = placed.says
        return Finding(document, (*loc, "row") if placed.row else loc, message, hint)


@lru_cache(maxsize=1)
def rows_of(case: Case) -> tuple[TextRow, ...]:
    """The rows of a job; those without English left out."""
    placed, found = case.run.steps, dict[int, list[int]]()
    for index, one in enumerate(case.rows):
        found.setdefault(one.row, []).append(index)
    rows = []
    for number, (at, *more) in sorted(found.items()):
        texts = [english(placed[at].row or placed[at].adds), *(english(placed[i].adds) for i in more if placed[i].adds)]
        if number and all(texts):
            line = case.rows[at].line
            rows.append(TextRow(case, line, stems(line), (at, *more)))
    return tuple(rows)


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
