"""Every text of a job that tells of its own step or row, in each language that it is held in."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache

from docgen.club.schema.procedure import Step
from docgen.club.schema.prose import versions
from docgen.club.yamldoc import Document, Loc
from docgen.job.rows import rows_of
from docgen.proof.case import Case
from docgen.proof.finding import Finding
from docgen.proof.languages import own_of


@dataclass(frozen=True)
class Text:
    """One text in one language, its place, and the steps that it tells of: its own, or all of its row.

    index : of its own step, or of the row's first
    """

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
    if any(one.row or one.adds for one in placed):
        for index, row in enumerate(rows_of(placed, case.figures)):
            rows.setdefault(row.row, []).append(index)
    together = {index: tuple(placed[i].step for i in group) for group in rows.values() for index in group}
    for index, one in enumerate(placed):
        step, own = one.step, _language(case, one.document)
        told = (
            (("do",), step.do),
            (("look", "accept"), step.look.accept if step.look else None),
            (("hold", "why"), step.hold.why if step.hold else None),
            (("repeat", "until"), step.repeat.until if step.repeat else None),
        )
        for keys, text in told:
            yield from _versions(text, own, one.document, (*one.loc, *keys), (step,), index)
        document, loc = one.says
        for key in ("row", "adds"):
            said = getattr(one, key)
            of_row = together.get(index, (step,))
            yield from _versions(said, _language(case, document), document, (*loc, key), of_row, index)


def _versions(
    text: str | None, own: str, document: Document, loc: Loc, steps: tuple[Step, ...], index: int
) -> Iterator[Text]:
    for language, said in versions(text).items() if text else ():
        yield Text(said, language or own, document, loc, steps, index)


def _language(case: Case, document: Document) -> str:
    """The language of a file's text that names none."""
    if document is case.procedure.document:
        return own_of(case.procedure, case.club)
    for read in case.sequences.values():
        if read.document is document:
            return own_of(read, case.club)
    return own_of(case.procedure, case.club)
