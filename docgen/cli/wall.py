"""Pages for the wall and the desk, without a number: the board, cards, terms, readings, safety; the index of all."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

import click

from docgen.cli import _options as option
from docgen.cli._saying import say_json, warn
from docgen.cli.frame import Session
from docgen.club.problem import counted
from docgen.desk.system import short_path

if TYPE_CHECKING:
    from docgen.plan.board import Bar, Board


@option.command(
    "The due board for the wall: all engines, what comes first first.",
    "docgen board", "docgen board --paper A4 --on 2027-04-01",
)  # fmt: skip
@click.option("--paper", help="A4 or A3, lying on its long side.  [default: A3, or Letter]")
@option.pages()
@option.json
def board(session: Session, paper: str | None, on: date, out: Path, as_json: bool) -> None:
    """Print the board: for every engine a bar for each interval and each part with a limited life, used over allowed.

    A large club's board goes on over more pages, since its type never becomes smaller than can be read.
    """
    from docgen.cli._printing import print_pages
    from docgen.desk.choosing import sound
    from docgen.desk.wall import board_paper, board_sheet
    from docgen.plan.board import board as board_of

    folder = session.read()
    sound(folder)
    paper = board_paper(folder, paper)
    found = board_of(folder, on)
    if as_json:
        say_json(_plain(found))
    elif found.engines:
        print_pages(folder.root, [board_sheet(folder, found, on, paper, out)])
    else:
        click.echo("There are no engines: there is nothing to put on a board.")


def _plain(found: Board) -> dict[str, object]:
    return {
        "on": found.on,
        "rounds": [{"round": one.round, "date": one.date} for one in found.rounds],
        "engines": [
            {"engine": one.engine, "model": one.model, "keeper": one.keeper, "hours": round(float(one.hours), 3),
             "hours_known": one.hours_known, "state": one.state, "bars": [_bar(bar) for bar in one.bars],
             "unrecorded": list(one.unrecorded), "notes": list(one.notes)}
            for one in found.engines
        ],
    }  # fmt: skip


def _bar(bar: Bar) -> dict[str, object]:
    scale = bar.scale
    used = None if scale.used is None else round(float(scale.used), 3)
    return {"job": bar.code, "part": bar.part, "state": bar.state, "unit": scale.unit, "used": used,
            "allowed": round(float(scale.allowed), 3), "until": scale.until, "before_round": bar.first}  # fmt: skip


@option.command("Print the engine card, for a buyer or a scrutineer.", "docgen card 017")
@click.argument("engines", nargs=-1, required=True, shell_complete=option.engine_names)
@option.pages("Where the PDFs go.")
def card(session: Session, engines: tuple[str, ...], on: date, out: Path) -> None:
    """Print the card of each of ENGINES: identity, hours, parts with a limited life, readings, findings, whole record.

    None is printed while docgen verify finds something in its record. The same on the screen: docgen engine
    """
    from docgen.cli._printing import print_pages
    from docgen.desk.wall import cards

    print_pages(session.root, cards(session.read(), engines, on, out))


@option.command("The terms of the trade on one page.", "docgen glossary")
@option.pages()
def glossary(session: Session, on: date, out: Path) -> None:
    """Print the terms of glossary.yaml with what they mean, for the wall or the first page of a binder."""
    from docgen.cli._printing import print_pages
    from docgen.desk.wall import glossary_sheet

    print_pages(session.root, [glossary_sheet(session.read(), on, out)])


@option.command("A page with links to all that was printed, and what still holds.", "docgen index")
@option.pages("Where the PDFs lie.")
def index(session: Session, on: date, out: Path) -> None:
    """Write index.html beside the printed sheets: each by engine and by job, due, current or superseded.

    It needs no network and opens in any browser; run it again after printing or filing.
    """
    folder = session.read()
    if not out.is_dir():
        if out != session.root / "out":
            hint = "name the one that the PDFs were printed into"
            raise click.UsageError(f"there is no folder {short_path(out)}: {hint}")
        click.echo("Nothing has been printed yet: docgen print --due")
        return
    from docgen.desk.index import write_index
    from docgen.sheets.indexpage import SUPERSEDED

    sheets = write_index(folder, out, on, warn)
    old = sum(one.state == SUPERSEDED for one in sheets)
    held = f", {old} of them superseded" if old else ""
    click.echo(f"{counted(len(sheets), 'sheet')}{held}: {short_path(out / 'index.html')}")


@option.command(
    "The whole explanation of a job, for who does it the first time.",
    "docgen reading CLU", "docgen reading CLU --engine 017",
)  # fmt: skip
@click.argument("jobs", nargs=-1, required=True, shell_complete=option.job_names)
@click.option("--engine", shell_complete=option.engine_names, help="For one engine, with what is its own.")
@click.option("--model", help="For one engine type.  [default: each type that the job is for]")
@option.pages("Where the PDFs go.")
def reading(
    session: Session, jobs: tuple[str, ...], engine: str | None, model: str | None, on: date, out: Path
) -> None:
    """Print the reading of JOBS, once for each engine type that they are for.

    It holds every step with its reason, what is good and what to do if not, and the drawings. The bench leaf bears the
    same numbers. A page of the club's own beside a job, procedures/NAME.md, is printed at the front.
    """
    from docgen.cli._printing import print_pages
    from docgen.desk.wall import readings

    print_pages(session.root, readings(session.read(), jobs, on, out, engine=engine, model=model))


@option.command(
    "What each material can do to you, and what to do about it.", "docgen safety", "docgen safety brake-cleaner"
)
@click.argument("materials", nargs=-1)
@option.pages()
def safety(session: Session, materials: tuple[str, ...], on: date, out: Path) -> None:
    """Print the safety sheet for MATERIALS of the register (or all): hazard statements by their codes, what they ask
    for, waste, and room for the numbers to call.

    The product's own safety data sheet and label, and local rules, come first; the sheet says so.
    """
    from docgen.cli._printing import print_pages
    from docgen.desk.wall import safety_of

    print_pages(session.root, [safety_of(session.read(), materials, on, out)])
