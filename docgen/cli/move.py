"""Move a numbered component."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

import click

from docgen.cli import _options as option
from docgen.cli._filing import confirm, filed_line, say_filed
from docgen.cli._saying import stop
from docgen.cli.frame import Session
from docgen.club.folder import Folder
from docgen.desk.choosing import engines_named, sound
from docgen.desk.clock import today
from docgen.job import wording
from docgen.job.components import Component, components
from docgen.returns.checks import said_of_day
from docgen.returns.diagnostic import Refused
from docgen.returns.moving import SHELF, Move, file_move, finish, planned
from docgen.returns.report import said_lines
from docgen.trade.quantity import QuantityError, parse_quantity


@option.command("Move a numbered component.", writes=True)
@click.argument("number", required=False)
@click.argument("where", required=False, shell_complete=option.engine_names)
@click.option("--swap", is_flag=True, help="What it takes the place of goes where it came from, not to the shelf.")
@click.option("--part", help="What it is, as in carburettor; needed for one from the shelf.")
@click.option("--hours", default="", help="What one that is new to the record had run before, as in 3.5 h; new: 0 h.")
@option.day("The day it was moved.", "--on", "day")
@click.option("--note", help="Anything else.")
@option.by
@click.option("--finish", "finishing", is_flag=True, help="Write what is missing of moves that were cut off.")
@option.accept
@option.yes
def command(
    session: Session, number: str | None, where: str | None, swap: bool, part: str | None, hours: str, day: date,
    note: str | None, by: str | None, finishing: bool, accepted: tuple[str, ...], yes: bool,
) -> None:  # fmt: skip
    """Move component NUMBER to engine WHERE, or to the shelf.

    \b
    docgen move LC-2231 042                  what is on 042 goes to the shelf
    docgen move LC-2231 042 --swap           what is on 042 goes where LC-2231 came from
    docgen move LC-2231 shelf                it comes off
    docgen move LC-2300 042 --part carburettor --hours "0 h"

    A move between two engines is written into both logs. Where it is, and its hours: docgen components
    """
    folder = session.read()
    if finishing:
        if number or where:
            raise click.UsageError("--finish stands alone")
        _finish(session, folder)
        return
    if cut_off := [p for p in folder.problems if p.name == "unfinished-move"]:
        stop(cut_off)
    if number is None or where is None:
        raise click.UsageError("say which component goes where, as in: docgen move LC-2231 042")
    where = SHELF if where.casefold() == SHELF else where
    if where != SHELF:
        engines_named(folder, [where])
    move = planned(folder, number, where, day, part=part, swap=swap, by=by, note=note, before=_hours(hours))
    for leg in move.legs:
        sound(folder, leg.engine)
    said = tuple(s for leg in move.legs for s in said_of_day(folder.engines[leg.engine], day, today()))
    click.echo("\n".join((*_shown(folder, move), *said_lines(said))))
    confirm(said, accepted, yes)
    say_filed(session.root, *file_move(session.root, folder, move))


def _finish(session: Session, folder: Folder) -> None:
    if unread := [p for p in folder.blocking(None, ()) if p.name not in ("unfinished-move", "component-twice")]:
        stop(unread)
    done = finish(session.root, folder)
    click.echo("\n".join(filed_line(session.root, filed) for filed in done) or "No move was cut off.")


def _hours(text: str) -> str | None:
    if not text:
        return None
    try:
        return str(parse_quantity(text, "time"))
    except QuantityError as error:
        hint = f"write it after the figure, as in {text} h" if error.name == "no-unit" else error.hint
        raise Refused(error.name, error.message, hint) from None


def _shown(folder: Folder, move: Move) -> Iterator[str]:
    known = components(folder, move.day)
    yield f"On {move.day}:"
    for leg in move.legs:
        if leg.fitted:
            came = f" from engine {leg.came_from}" if leg.came_from else ""
            age = _age(known.get((move.part, leg.fitted)), move.before)
            yield f"  {move.part} {leg.fitted} ({age}) goes on engine {leg.engine}{came}"
        if leg.removed and not leg.to:
            age = _age(known.get((move.part, leg.removed)), None)
            yield f"  {move.part} {leg.removed} ({age}) comes off engine {leg.engine} and goes to the shelf"


def _age(component: Component | None, before: str | None) -> str:
    if component is None:
        return f"{before} when it came" if before else "its hours are not known"
    since = component.life.since_new
    return wording.hours(since) if since is not None else f"{wording.hours(component.life.recorded)} in this record"
