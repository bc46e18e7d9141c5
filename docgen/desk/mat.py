"""The layout mat of a job, and the same for a parts box."""

import re
from collections.abc import Callable, Sequence
from datetime import date
from pathlib import Path

from docgen.club.folder import Faulty, Folder
from docgen.club.problem import counted
from docgen.club.schema.club import Club
from docgen.desk.choosing import Unclear
from docgen.desk.pages import Wish, wish
from docgen.desk.selection import Wanted
from docgen.job.job import Instructions
from docgen.job.keywords import instructions_mark
from docgen.job.resolve import figures_of, resolve
from docgen.plan.laydown import Laydown, laydown, without_size
from docgen.sheets.mat import mat, papers
from docgen.sheets.matpage import BoxError, Compartments, box
from docgen.sheets.page import Page

Maker = Callable[[Laydown, Instructions], tuple[Page, str]]
"""A page, and what is said of it once it is printed."""


def laid_down(folder: Folder, want: Wanted, on: date) -> Laydown:
    """What comes off in a job, and in which order."""
    return laydown(folder, want.procedure, figures_of(folder, want.record, on))


def mats(folder: Folder, wanted: Sequence[Wanted], on: date, out: Path, make: Maker, *, box: bool = False
         ) -> tuple[list[Wish], list[str]]:  # fmt: skip
    """The mat, or the box, of each job of an engine; and the codes of those in which nothing comes off.

    Errors: Faulty where the size of a piece is not stated; Unclear where a box does not hold the pieces.
    """
    found = [laid_down(folder, want, on) for want in wanted]
    model = wanted[0].record.engine.model
    if not box and (problems := sorted({p for one in found for p in without_size(folder, model, one)})):
        raise Faulty(problems)
    wishes = []
    for want, laid in zip(wanted, found, strict=True):
        if laid.pieces:
            told = resolve(folder, want.record, want.procedure, on).instructions
            try:
                page, said = make(laid, told)
            except BoxError as error:
                raise Unclear(str(error)) from None
            wishes.append(mat_wish(folder, told, page, said, on, out, "box" if box else "mat"))
    return wishes, [want.procedure.value.code for want, laid in zip(wanted, found, strict=True) if not laid.pieces]


def mat_wish(folder: Folder, told: Instructions, page: Page, said: str, on: date, out: Path, kind: str) -> Wish:
    """A mat's page with its place."""
    marks = (told.engine, told.code, told.model, instructions_mark(told))
    return wish(folder, said, page, on, marks, out / told.engine / f"{told.engine}-{told.code}-{kind}.pdf")


def flat(club: Club, paper: str | None = None) -> Maker:
    """A mat, on a paper or on the one that it needs. Errors: Unclear where no mat is printed on that paper."""
    if paper and paper not in papers(club):
        known = " or ".join(papers(club))
        raise Unclear(f'a mat is not printed on "{paper}"; this club can print it on {known}')

    def make(laid: Laydown, told: Instructions) -> tuple[Page, str]:
        made = mat(laid, told, club, paper or "")
        places = counted(len(laid.pieces), "place")
        words = [f"Mat for {told.code}"]
        if made.paper.name != club.paper:
            words[0] += f" on {made.paper.name}"
            words[0] += "" if paper else f" ({club.paper} does not hold its {places} at full size)"
        words += [f"outlines at {round(100 * made.factor)} %"] if made.factor < 1 else []
        words += [f"{counted(made.beside, 'large piece')} beside it"] if made.beside else []
        words += [f"split by stages ({places} are too many for one sheet)"] if made.sheets > 1 else []
        return made.page, ", ".join(words)

    return make


def boxed(club: Club, paper: str | None, grid: str | None, compartment: str | None) -> Maker:
    """A sheet for a parts box of `grid` compartments across by down (``4x6``).

    compartment : the size of one in mm (``45x35``); without it they fill the paper
    Errors: Unclear.
    """
    if paper and paper != club.paper:
        raise Unclear(f"a box is printed on {club.paper}: leave --paper out")
    if not grid:
        raise Unclear("--compartment goes with --box: say how many there are, as in --box 4x6")
    columns, rows = _pair(grid, "--box", 1, 20, "4x6")
    width, height = _pair(compartment, "--compartment", 10, 400, "45x35") if compartment else (None, None)
    made = Compartments(columns, rows, width, height)
    return lambda laid, told: (box(laid, told, club, made), f"Box for {told.code}")


def _pair(text: str, option: str, least: int, most: int, example: str) -> tuple[int, int]:
    match = re.fullmatch(r"(\d{1,3}) ?[x×] ?(\d{1,3})", text.strip())
    pair = (int(match[1]), int(match[2])) if match else (0, 0)
    if not all(least <= one <= most for one in pair):
        raise Unclear(f'{option} "{text}" is not understood: two numbers from {least} to {most}, as in {example}')
    return pair
