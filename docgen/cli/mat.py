"""The layout mat of a job, and the same for a parts box."""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

import click

from docgen.cli import _options as option
from docgen.cli._saying import counted, stop
from docgen.cli._wanted import Wanted, wanted_jobs
from docgen.cli.frame import Session
from docgen.club.folder import Folder
from docgen.club.schema.club import Club
from docgen.job.figures import Figures
from docgen.job.job import Instructions
from docgen.job.keywords import instructions_mark
from docgen.job.resolve import resolve
from docgen.job.state import state_of
from docgen.plan.laydown import Laydown, laydown, without_size

if TYPE_CHECKING:
    from docgen.sheets.mat import Mat
    from docgen.sheets.page import Page

Maker = Callable[[Laydown, Instructions], "tuple[Page, str]"]
"""A page, and what is said of it once it is printed."""


@option.command(
    "A numbered place for each piece that comes off.",
    "docgen mat 017 --job CAR",
    "docgen mat 017 --job CAR --paper A4",
    "docgen mat 017 --job CAR --box 4x6",
)
@option.engine
@option.jobs
@click.option("--paper", help="A4 or A3.  [default: A4 where that holds all places at full size, else A3]")
@click.option("--box", "grid", help="For a parts box instead: compartments across by down, as in 4x6.")
@click.option("--compartment", help="Size of a compartment in mm, as in 45x35.  [default: they fill the paper]")
@option.on
@option.language
@option.out()
def command(
    session: Session, engine: str, jobs: tuple[str, ...], paper: str | None, grid: str | None, compartment: str | None,
    on: date, out: Path | None,
) -> None:  # fmt: skip
    """Print the mat for the jobs of ENGINE (all that is due, or those named with --job).

    A place bears the number of the leaf's row. Read backwards, the mat is the order in which the pieces go back. It is
    one sheet: where not all places fit, outlines are drawn smaller, then the largest pieces lie beside it.
    """
    from docgen.cli._pages import Wish, print_pages
    from docgen.press.orders import plain_order
    from docgen.sheets.box import BoxError

    folder = session.read()
    club = folder.club.value
    make = _boxed(club, paper, grid, compartment) if grid or compartment else _flat(club, paper)
    wanted = wanted_jobs(folder, (engine,), jobs, False, on)
    if not wanted:
        click.echo(f"Nothing is due on engine {engine} on {on.isoformat()}: name a job with --job.")
        return
    found = [laid_down(folder, want, on) for want in wanted]
    model = wanted[0].record.engine.model
    if not grid and (problems := sorted({p for one in found for p in without_size(folder, model, one)})):
        stop(problems)
    wishes = []
    for want, laid in zip(wanted, found, strict=True):
        if not laid.pieces:
            click.echo(f"Nothing comes off in {want.procedure.value.code}: it needs no mat.")
            continue
        told = resolve(folder, want.record, want.procedure, on).instructions
        try:
            page, said = make(laid, told)
        except BoxError as error:
            raise click.UsageError(str(error)) from None
        order = plain_order(said, page, club.club, on, (engine, told.code, told.model, instructions_mark(told)))
        name = f"{engine}-{told.code}-{'box' if grid else 'mat'}.pdf"
        wishes.append(Wish(order, (out or folder.root / "out") / engine / name))
    print_pages(wishes)


def laid_down(folder: Folder, want: Wanted, on: date) -> Laydown:
    """What comes off in a job, and in which order."""
    model = folder.models[want.record.engine.model].value
    return laydown(folder, want.procedure, Figures(folder.club.value, model, state_of(want.record, on)))


def said_of(made: Mat, laid: Laydown, club: Club, code: str, asked: str | None) -> str:
    """What a mat has come to: its paper where that is not the club's, its outlines, what lies beside it."""
    places = counted(len(laid.pieces), "place")
    words = [f"Mat for {code}"]
    if made.paper.name != club.paper:
        words[0] += f" on {made.paper.name}"
        words[0] += "" if asked else f" ({club.paper} does not hold its {places} at full size)"
    words += [f"outlines at {round(100 * made.factor)} %"] if made.factor < 1 else []
    words += [f"{counted(made.beside, 'large piece')} beside it"] if made.beside else []
    words += [f"split by stages ({places} are too many for one sheet)"] if made.sheets > 1 else []
    return ", ".join(words)


def mat_papers(club: Club, paper: str | None) -> None:
    """Errors: click.UsageError where no mat is printed on the paper that was asked for."""
    from docgen.sheets.mat import papers

    if paper and paper not in papers(club):
        known = " or ".join(papers(club))
        raise click.UsageError(f'a mat is not printed on "{paper}"; this club can print it on {known}')


def _flat(club: Club, paper: str | None) -> Maker:
    from docgen.sheets.mat import mat

    mat_papers(club, paper)

    def make(laid: Laydown, told: Instructions) -> tuple[Page, str]:
        made = mat(laid, told, club, paper or "")
        return made.page, said_of(made, laid, club, told.code, paper)

    return make


def _boxed(club: Club, paper: str | None, grid: str | None, compartment: str | None) -> Maker:
    from docgen.sheets.box import Compartments, box

    if paper and paper != club.paper:
        raise click.UsageError(f"a box is printed on {club.paper}: leave --paper out")
    if not grid:
        raise click.UsageError("--compartment goes with --box: say how many there are, as in --box 4x6")
    columns, rows = _pair(grid, "--box", 1, 20, "4x6")
    width, height = _pair(compartment, "--compartment", 10, 400, "45x35") if compartment else (None, None)
    made = Compartments(columns, rows, width, height)
    return lambda laid, told: (box(laid, told, club, made), f"Box for {told.code}")


def _pair(text: str, option: str, least: int, most: int, example: str) -> tuple[int, int]:
    match = re.fullmatch(r"(\d{1,3}) ?[x×] ?(\d{1,3})", text.strip())
    pair = (int(match[1]), int(match[2])) if match else (0, 0)
    if not all(least <= one <= most for one in pair):
        wanted = f"two numbers from {least} to {most}, as in {example}"
        raise click.UsageError(f'{option} "{text}" is not understood: {wanted}')
    return pair
