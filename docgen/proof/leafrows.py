"""The rows of the bench leaf as the rules about them see them: each with the steps that it gathers, and its words."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import groupby

from docgen.club.schema.procedure import Step
from docgen.job.rows import rows_of
from docgen.proof.case import Case
from docgen.proof.finding import Finding
from docgen.proof.words import english, stems


@dataclass(frozen=True)
class Gathered:
    """One row: its text, and the indices of its steps."""

    case: Case
    line: str
    steps: tuple[int, ...]

    @property
    def stems(self) -> frozenset[str]:
        """The words of its text, without endings."""
        return stems(self.line)

    @property
    def each(self) -> Iterator[tuple[int, Step]]:
        """Its steps, each with its index."""
        return ((index, self.case.run.steps[index].step) for index in self.steps)

    def finding(self, message: str, hint: str) -> Finding:
        """A finding at the row's text, or at its first step where it has none."""
        placed = self.case.run.steps[self.steps[0]]
        document, loc = placed.says
        return Finding(document, (*loc, "row") if placed.row else loc, message, hint)


def gathered(case: Case) -> Iterator[Gathered]:
    """The rows of a job; none where it says nothing of rows, and each step is one; those without English left out."""
    placed = case.run.steps
    if not any(one.row or one.adds for one in placed):
        return
    rows = rows_of(placed, case.figures)
    numbered = [(one.row, index) for index, one in enumerate(rows) if one.row]
    for _, group in groupby(numbered, key=lambda one: one[0]):
        steps = tuple(index for _, index in group)
        texts = [english(placed[steps[0]].row or placed[steps[0]].adds)]
        texts += [english(placed[index].adds) for index in steps[1:] if placed[index].adds]
        if all(texts):
            yield Gathered(case, rows[steps[0]].line, steps)
