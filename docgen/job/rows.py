"""The rows of the bench leaf: which steps stand in which, what the row says, what its steps are called.

A step with ``row`` begins one. Those behind it stand in it, with what they ``add`` to its text, until the next begins;
a new stage begins a new row. A step that is ``off_leaf`` stands in none.
"""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace

from docgen.club.schema.prose import like
from docgen.job.expand import PlacedStep
from docgen.job.figures import Figures
from docgen.job.stepmarks import row_text


@dataclass(frozen=True)
class InRow:
    """Where a step stands on the leaf: the row's number (0: nowhere), its text on its first step, the step's label."""

    row: int = 0
    line: str = ""
    label: str = ""


def rows_of(placed: Sequence[PlacedStep], figures: Figures) -> list[InRow]:
    """The place of each step, in order. A job that says nothing of rows has one a step, with the step's own text."""
    plain = not any(one.row or one.adds for one in placed)
    found: list[InRow] = []
    row, first, stage = 0, 0, ""
    for index, one in enumerate(placed):
        if one.step.off_leaf:
            found.append(InRow())
            continue
        text = one.row or (one.step.do if plain else None)
        if text is None and (not row or one.stage != stage):
            text = one.adds or one.step.do
        if text is not None:
            row, first = row + 1, index
            found.append(InRow(row, row_text(text, figures)))
        else:
            found.append(InRow(row))
            if one.adds:
                line, more = found[first].line, row_text(one.adds, figures)
                joint = " " if line.endswith((".", ":", ";")) else ", "
                found[first] = replace(found[first], line=like(line, f"{line}{joint}{more}"))
        stage = one.stage
    return _labelled(found)


def _labelled(rows: list[InRow]) -> list[InRow]:
    """Each with its step's label: the row's number, and a letter where the row gathers several steps.

    A step that stands nowhere on the leaf is called by the row before it, with a stroke.
    """
    sizes = Counter(one.row for one in rows)
    met: Counter[int] = Counter()
    found, last = [], 0
    for one in rows:
        last = one.row or last
        met[one.row] += 1
        letter = _letters(met[one.row]) if one.row and sizes[one.row] > 1 else ""
        found.append(replace(one, label=f"{last}{letter}" if one.row else f"{last}/{met[0]}"))
    return found


def _letters(count: int) -> str:
    """a to z, then aa, ab and on.

    >>> _letters(1), _letters(26), _letters(27)
    ('a', 'z', 'aa')
    """
    count -= 1
    return chr(97 + count) if count < 26 else chr(96 + count // 26) + chr(97 + count % 26)
