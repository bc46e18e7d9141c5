"""The due board for the wall."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import click

from docgen.cli import _options as option
from docgen.cli._saying import say_json, stop
from docgen.cli.frame import Session
from docgen.job.keywords import record_mark
from docgen.plan.board import Bar, Board, board


@option.command(
    "The due board for the wall: all engines, what comes first first.",
    "docgen board",
    "docgen board --paper A4 --on 2027-04-01",
)
@click.option("--paper", help="A4 or A3, lying on its long side.  [default: A3, or Letter]")
@option.on
@option.language
@option.out()
@option.json
def command(session: Session, paper: str | None, on: date, out: Path | None, as_json: bool) -> None:
    """Print the board: for every engine a bar for each interval and each part with a limited life, used over allowed.

    A large club's board goes on over more pages, since its type never becomes smaller than can be read.
    """
    from docgen.cli._pages import Wish, print_pages
    from docgen.press.orders import plain_order
    from docgen.sheets.board import board_page
    from docgen.sheets.paper import PAPERS

    folder = session.read()
    if stopped := folder.blocking(jobs=()):
        stop(sorted(stopped))
    club = folder.club.value
    known = {"A4": ("A3", "A4"), "Letter": ("Letter",)}[club.paper]
    chosen = paper or known[0]
    if chosen not in known:
        raise click.UsageError(f'a board is not printed on "{chosen}"; this club can print it on {", ".join(known)}')
    found = board(folder, on)
    if as_json:
        say_json(_plain(found))
        return
    if not found.engines:
        click.echo("There are no engines: there is nothing to put on a board.")
        return
    page = board_page(found, club, PAPERS[chosen])
    name = "board" if chosen == known[0] else f"board-{chosen}"
    numbers = sorted(one.engine for one in found.engines)
    order = plain_order("Due board", page, club.club, on, ("board", *numbers, record_mark(folder, numbers)))
    print_pages([Wish(order, (out or folder.root / "out") / f"{name}.pdf")])


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
