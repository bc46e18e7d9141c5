"""The joined list made easier to read: what one row says is done in one go, where another job's steps came between.

The search counts removals and time only; steps of several jobs that cost the same may come in any order. Here the rest
of a row is drawn up to where the row begins, or what came between is put before it, wherever the simulation still finds
no fault. Each job's own order stays, since what changes places serves other jobs.
"""

from collections.abc import Callable, Sequence

from docgen.club.bench.graph import Graph
from docgen.job.simulate import simulate
from docgen.visit.floor import Line

RowKey = Callable[[Line], object]


def tidied(lines: Sequence[Line], row: RowKey, graph: Graph) -> tuple[Line, ...]:
    """The same lines with fewer rows broken up. row : what tells the row of a line from others; None for no row"""
    now, at = tuple(lines), 0
    while at < len(now):
        after = at + 1
        while after < len(now) and _same(now[at], now[after], row):
            after += 1
        now = _drawn_up(now, at, after, row, graph)
        at = after
    return now


def _same(one: Line, other: Line, row: RowKey) -> bool:
    return row(one) is not None and row(one) == row(other) and one.serves == other.serves


def _drawn_up(now: tuple[Line, ...], first: int, after: int, row: RowKey, graph: Graph) -> tuple[Line, ...]:
    """The row that stands from `first` to `after`, with its rest drawn up to it as far as that can be."""
    begin = next((n for n in range(after, len(now)) if _same(now[first], now[n], row)), None)
    if begin is None:
        return now
    end = begin
    while end < len(now) and _same(now[first], now[end], row):
        end += 1
    between, rest = now[after:begin], now[begin:end]
    if any({*line.serves} & {*now[first].serves} or line.piece.step.runs for line in between):
        return now
    for tried in (
        (*now[:after], *rest, *between, *now[end:]),
        (*now[:first], *between, *now[first:after], *rest, *now[end:]),
    ):
        if not simulate([line.piece.placed for line in tried], graph, {}).faults:
            return tried
    return now
