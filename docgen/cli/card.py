"""Print the engine card."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import click

from docgen.cli import _options as option
from docgen.cli._saying import counted, stop
from docgen.cli._system import put, shown
from docgen.cli.frame import Session
from docgen.desk.choosing import engines_named
from docgen.job.keywords import record_mark
from docgen.plan.standing import standing
from docgen.returns.verify import verify


@option.command("Print the engine card, for a buyer or a scrutineer.", "docgen card 017")
@click.argument("engines", nargs=-1, required=True, shell_complete=option.engine_names)
@option.on
@option.language
@option.out("Where the PDFs go.")
def command(session: Session, engines: tuple[str, ...], on: date, out: Path | None) -> None:
    """Print the card of each of ENGINES: identity, hours, parts with a limited life, readings, findings, whole record.

    None is printed while docgen verify finds something in its record. The same on the screen: docgen engine
    """
    from docgen.desk.whereabouts import with_place
    from docgen.press.orders import plain_order
    from docgen.press.workers import press_all
    from docgen.sheets.card import card

    folder = session.read()
    records = engines_named(folder, engines)
    if blocking := sorted({p for record in records for p in folder.blocking(record.engine.engine, ())}):
        stop(blocking)
    if missing := sorted({p for record in records for p in verify(folder.root, record.engine.engine).problems}):
        stop(missing)
    club = folder.club.value
    orders = [
        plain_order(
            record.engine.engine,
            card(standing(folder, record, on), club),
            club.club,
            on,
            (record.engine.engine, record.engine.model, record_mark(folder, [record.engine.engine])),
        )
        for record in records
    ]
    faults: list[str] = []
    for outcome in press_all(orders):
        if outcome.pressed is None:
            said = (f"card of engine {outcome.key}: {fault}" for fault in outcome.faults)
            faults += [with_place(folder.root, fault, outcome.key) for fault in said]
            continue
        path = (out or folder.root / "out") / outcome.key / f"{outcome.key}-card.pdf"
        put(path, outcome.pressed.pdf)
        click.echo(f"Card of engine {outcome.key}, {counted(outcome.pressed.pages, 'page')}: {shown(path)}")
    for fault in faults:
        click.echo(fault, err=True)
    if faults:
        raise click.exceptions.Exit(1)
