"""What a step is laid out from below its text: rows of cells, lines, pictures, panels, and the column beside it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Literal

from docgen.job import marks as m
from docgen.sheets.cells import LEAST, Cell, Cells, Row, pack
from docgen.sheets.figures import capital
from docgen.sheets.pictured import Picture, Shown, shown
from docgen.sheets.scale import Scale


@dataclass(frozen=True)
class Panel:
    """A point where work stops: HOLD, or STOP for a seal. ``blanks`` are labels of boxes to write into."""

    kind: Literal["hold", "stop"]
    word: str
    text: str
    blanks: tuple[str, ...]
    note: str = ""
    shape: Literal["panel"] = "panel"


@dataclass(frozen=True)
class Line:
    """A line of text with a symbol before it: what is good, what to do if not."""

    symbol: str
    label: str
    text: str
    shape: Literal["line"] = "line"


@dataclass(frozen=True)
class With:
    """What is needed in hand, for the column beside the step's text: a tool, a material, a new part with its box."""

    label: str
    name: str
    note: str = ""
    boxed: bool = False


Part = Cells | Line | Picture | Panel | With
Laid = Row | Line | Shown | Panel


def arrange(found: Iterable[Part], room: float, scale: Scale) -> tuple[Laid, ...]:
    """Lay a step's parts out on a width of ``room`` mm.

    Cells of neighbouring marks share a row where they fit into one; readings stand beside the drawing of where they are
    taken where that saves height.
    """
    columns = room / scale.small
    out: list[Laid] = []
    held: list[Cell] = []

    def close() -> None:
        if held and out and isinstance(out[-1], Shown):
            out[-1], rows = out[-1].sharing(held, scale)
            out.extend(rows)
        elif held:
            out.extend(pack(held, columns))
        held.clear()

    for part in found:
        if isinstance(part, Cells):
            if part.alone or sum(max(cell.wish, LEAST) for cell in (*held, *part.cells)) > columns:
                close()
            held += part.cells
            if part.alone:
                close()
        elif not isinstance(part, With):
            close()
            out.append(shown(part, room, scale) if isinstance(part, Picture) else part)
    close()
    return tuple(out)


def deviates(mark: m.Mark, items: frozenset[str]) -> bool:
    """Whether a mark's figure is that of an item, limit or setting which is not as its model."""
    name = next((getattr(mark, key) for key in ("item", "limit", "setting") if hasattr(mark, key)), "")
    return isinstance(mark, (m.TorqueMark, m.ReadingMark, m.SettingMark)) and name.partition("/")[0] in items


def of_this_engine(found: Iterable[Part]) -> tuple[Part, ...]:
    """The parts of a mark whose item is not as its model: the cell with its figure says so, wherever it is from."""
    return tuple(replace(part, cells=_owned(part.cells)) if isinstance(part, Cells) else part for part in found)


def _owned(cells: tuple[Cell, ...]) -> tuple[Cell, ...]:
    first = next((n for n, cell in enumerate(cells) if cell.kind in ("given", "blank") and not cell.head), None)
    return tuple(replace(cell, own=True) if n == first else cell for n, cell in enumerate(cells))


def beside(found: Iterable[Part]) -> tuple[With, ...]:
    """The column beside a step's text; a material put on several parts by several marks is named once."""
    out: dict[tuple[str, str], With] = {}
    for part in found:
        if isinstance(part, With):
            same = out.get((part.label, part.name))
            note = ", ".join(dict.fromkeys(filter(None, (same.note if same else "", part.note))))
            out[part.label, part.name] = With(part.label, capital(part.name), note, part.boxed)
    return tuple(out.values())
