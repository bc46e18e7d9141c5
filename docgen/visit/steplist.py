"""The joined list as steps in stages and rows, each with the jobs that it serves.

Steps that stand in one row of their own job stand in one row here too, where all of them are still together and serve
the same jobs; else each has a row of its own, with what it says for that (`alone`). A stage's heading names the jobs,
by their codes; where several jobs share what is done, it stands until they are others.
"""

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from itertools import groupby

from docgen.club.schema.prose import Prose, like
from docgen.club.words import Words
from docgen.job.expand import PlacedStep
from docgen.visit.floor import Line

MANY, FEW = 6, 3
"""From more jobs than this on a heading names those that it is not for, where they are few."""
RowOf = dict[int, tuple[object, int]]
"""By the identity of a step: what tells its row from others, and how many steps the row has."""


def placed_steps(
    lines: Sequence[Line], alone: Mapping[str, Sequence[PlacedStep]], codes: Mapping[str, str], words: Words
) -> tuple[PlacedStep, ...]:
    """The steps of a visit. alone : the steps of each job, by its name, in the order in which the lines count them"""
    names, rows = list(alone), rows_of(alone.values())
    found: list[PlacedStep] = []
    heading: Prose = ""
    for (row, size, serves), group in groupby(lines, key=lambda line: (*_row(line, rows), line.serves)):
        steps = [line.piece.placed for line in group]
        jobs = tuple(names[n] for n in sorted(serves))
        if not found or found[-1].serves != jobs or len(jobs) == 1:
            heading = like(steps[0].stage, f"{_called(jobs, codes, words)} · {steps[0].stage}")
        whole = row is not None and len(steps) == size
        for n, one in enumerate(steps):
            text, adds = one.step.alone or one.step.do, None
            if whole:
                text, adds = (one.row or one.adds or one.step.do, None) if n == 0 else (one.row, one.adds)
            if one.step.off_leaf:
                text = adds = None
            found.append(one._replace(stage=heading, row=text, adds=adds, user=None, serves=jobs))
    return tuple(found)


def _called(jobs: Sequence[str], codes: Mapping[str, str], words: Words) -> str:
    """The jobs by their codes; most of many by those that it is not for."""
    others = " ".join(code for name, code in codes.items() if name not in jobs)
    if len(jobs) <= MANY or len(codes) - len(jobs) > FEW:
        return " ".join(codes[name] for name in jobs)
    return words("All but {jobs}", jobs=others) if others else words("All jobs")


def rows_of(jobs: Iterable[Sequence[PlacedStep]]) -> RowOf:
    """The row of each step of some jobs."""
    found: RowOf = {}
    for placed in jobs:
        begun: list[tuple[PlacedStep, object]] = []
        mark: object = None
        stage = ""
        for one in placed:
            if not one.step.off_leaf and (one.row or mark is None or one.stage != stage):
                mark = (one.document.path, one.loc, str(one.row or one.adds or one.step.do))
            begun.append((one, mark))
            stage = one.stage
        sizes = Counter(mark for _, mark in begun)
        found |= {id(one): (mark, sizes[mark]) for one, mark in begun}
    return found


def _row(line: Line, rows: RowOf) -> tuple[object, int]:
    return rows[id(line.piece.placed)]
