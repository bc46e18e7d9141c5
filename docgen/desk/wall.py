"""What hangs on the wall or lies at hand: board, cards, glossary, safety sheet, the season's chart and calendar."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from pathlib import Path

from docgen.club.beside import GLOSSARY, read_glossary
from docgen.club.folder import Faulty, Folder
from docgen.desk.choosing import Unclear, Unprinted, engines_named, known, sound
from docgen.desk.pages import Wish
from docgen.desk.pressing import ready
from docgen.job.keywords import record_mark
from docgen.plan.board import Board
from docgen.plan.standing import standing
from docgen.press.orders import plain_order
from docgen.returns.verify import verify
from docgen.sheets.board import board_page
from docgen.sheets.card import card
from docgen.sheets.glossary import glossary_page
from docgen.sheets.paper import PAPERS
from docgen.sheets.safety import safety_sheet, unknown_codes
from docgen.sheets.season import season_chart
from docgen.visit.calendar import calendar_of
from docgen.visit.season import Season

BOARDS = {"A4": ("A3", "A4"), "Letter": ("Letter",)}
"""The papers that a club's board can be printed on, by the club's own; the first is the usual one."""


def board_paper(folder: Folder, paper: str | None) -> str:
    """The paper of the board, the usual one where none is named. Errors: Unclear."""
    papers = BOARDS[folder.club.value.paper]
    if paper and paper not in papers:
        raise Unclear(f'a board is not printed on "{paper}"; this club can print it on {", ".join(papers)}')
    return paper or papers[0]


def board_sheet(folder: Folder, found: Board, on: date, paper: str, out: Path) -> Wish:
    """The due board, which goes on over as many pages as it needs."""
    club = folder.club.value
    numbers = sorted(one.engine for one in found.engines)
    marks = ("board", *numbers, record_mark(folder, numbers))
    name = "board" if paper == BOARDS[club.paper][0] else f"board-{paper}"
    order = plain_order("Due board", board_page(found, club, PAPERS[paper]), club.club, on, marks)
    return Wish(order, out / f"{name}.pdf")


def cards(folder: Folder, numbers: Sequence[str], on: date, out: Path) -> list[Wish]:
    """The cards of engines. Errors: Faulty while checking its log finds something in one's record; Unclear."""
    records, club = engines_named(folder, numbers), folder.club.value
    for record in records:
        sound(folder, record.engine.engine)
    if missing := sorted({p for record in records for p in verify(folder.root, record.engine.engine).problems}):
        raise Faulty(missing)
    found = []
    for record in records:
        number = record.engine.engine
        marks = (number, record.engine.model, record_mark(folder, [number]))
        order = plain_order(f"Card of engine {number}", card(standing(folder, record, on), club), club.club, on, marks)
        found.append(Wish(order, out / number / f"{number}-card.pdf"))
    return found


def glossary_sheet(folder: Folder, on: date, out: Path) -> Wish:
    """The club's terms. Errors: Faulty; Unprinted where it has none."""
    read, problems = read_glossary(folder)
    if problems:
        raise Faulty(problems)
    if read is None or not read.value.terms:
        raise Unprinted([f"There are no terms to print: write them into {GLOSSARY} in the club's folder."])
    club = folder.club.value
    page = glossary_page(read.value, club, on)
    return Wish(plain_order("Glossary", page, club.club, on, ("glossary",)), out / "glossary.pdf")


def safety_of(folder: Folder, names: Sequence[str], on: date, out: Path) -> Wish:
    """The safety sheet of some materials, or of all. Errors: Faulty for a code that the table has not; Unclear."""
    club = folder.club.value
    materials = tuple(dict.fromkeys(known(name, club.materials, "material", where=" in club.yaml") for name in names))
    if problems := unknown_codes(folder.club, materials):
        raise Faulty(problems)
    page = safety_sheet(club, materials, on)
    suffix = "".join(f"-{name}" for name in materials)[:80]
    return Wish(plain_order("Safety sheet", page, club.club, on, ("safety", *materials)), out / f"safety{suffix}.pdf")


def season_sheet(folder: Folder, plan: Season, out: Path) -> tuple[Wish, dict[Path, bytes]]:
    """The season's wall chart, and the calendar beside it, by its file. Errors: OSError."""
    ready(out)
    chart = season_chart(plan, folder)
    order = plain_order("Season", chart, folder.club.value.club, plan.on, ("season", *plan.engines))
    return Wish(order, out / "season.pdf"), {out / "season.ics": calendar_of(plan, folder)}
