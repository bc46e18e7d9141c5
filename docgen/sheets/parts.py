"""What a step is laid out from below its text: rows of cells, lines, pictures, panels, and the column beside it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from docgen.sheets.cells import LEAST, Cell, Cells, Row, pack
from docgen.sheets.figures import capital


@dataclass(frozen=True)
class Picture:
    """A drawing beside its words, with a tick box of its own; ``facing`` names what is drawn on its left."""

    svg: str
    label: str
    text: str
    ticked: bool = True
    facing: str = ""
    shape: Literal["picture"] = "picture"


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
Laid = Row | Line | Picture | Panel


def arrange(found: Iterable[Part], columns: float) -> tuple[Laid, ...]:
    """Lay a step's parts out: cells of neighbouring marks share a row where they fit into one."""
    out: list[Laid] = []
    held: list[Cell] = []

    def close() -> None:
        out.extend(pack(held, columns) if held else ())
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
            out.append(part)
    close()
    return tuple(out)


def beside(found: Iterable[Part]) -> tuple[With, ...]:
    """The column beside a step's text; a material put on several parts by several marks is named once."""
    out: dict[tuple[str, str], With] = {}
    for part in found:
        if isinstance(part, With):
            same = out.get((part.label, part.name))
            note = ", ".join(dict.fromkeys(filter(None, (same.note if same else "", part.note))))
            out[part.label, part.name] = With(part.label, capital(part.name), note, part.boxed)
    return tuple(out.values())
