"""The due board for the wall."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import click

from docgen.cli import _options as option
from docgen.cli._saying import say_json
from docgen.cli.frame import Session
from docgen.plan.board import Bar, Board, board


@option.command(
    "The due board for the wall: all engines, what comes first first.",
    "docgen board", "docgen board --paper A4 --on 2027-04-01",
)  # fmt: skip
@click.option("--paper", help="A4 or A3, lying on its long side.  [default: A3, or Letter]")
@option.on
@option.language
@option.out()
@option.json
def command(session: Session, paper: str | None, on: date, out: Path, as_json: bool) -> None:
    """Print the board: for every engine a bar for each interval and each part with a limited life, used over allowed.

    A large club's board goes on over more pages, since its type never becomes smaller than can be read.
    """
    from docgen.cli._pages import print_pages
    from docgen.desk.choosing import sound
    from docgen.desk.wall import board_paper, board_sheet

    folder = session.read()
    sound(folder)
    paper = board_paper(folder, paper)
    found = board(folder, on)
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
