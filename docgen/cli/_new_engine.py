"""Begin an engine's record."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from pathlib import Path

import click

from docgen.cli import _options as option
from docgen.cli._asking import answer, decimal_point, fits, one_of
from docgen.cli._new_files import Typed, filled, refuse_existing, schemas, write_new
from docgen.cli._saying import give_up
from docgen.cli.frame import Session
from docgen.club.files import bounded
from docgen.club.folder import Folder
from docgen.club.read import read_club
from docgen.club.schema.base import Text, Time
from docgen.club.schema.engine import Before, EngineNumber
from docgen.club.schema.model import Model
from docgen.desk.system import shown
from docgen.returns.diagnostic import Refused
from docgen.returns.past import EXAMPLE, read_past, table_text

NEW = "new"


@option.command("Begin an engine's record.", 'docgen new engine 7 --keeper "Jo Ash" --hours "12 h"')
@click.argument("number")
@click.option("--model", help="The engine type, by its name in models/.")
@click.option("--keeper", help="Whose engine it is, or who looks after it.")
@click.option("--serial", help="The maker's serial number.")
@click.option("--hours", help="How long it has run, as in '12 h', or 'new'; left out where nobody knows.")
@click.option("--before", help="What was done before, as in 'chain 6 h; clutch-hub new in September, 3 h ago'.")
@click.option(
    "--before-from", "table", type=click.Path(path_type=Path, exists=True, dir_okay=False),
    help="The same from a table in CSV, with the columns what, when, hours.",
)
@option.day("The day on which the record begins.", "--received")
@option.quiet
def engine(
    session: Session, number: str, model: str | None, keeper: str | None, serial: str | None, hours: str | None,
    before: str | None, table: Path | None, received: date, quiet: bool,
) -> None:  # fmt: skip
    """Begin the record of engine NUMBER: engines/NUMBER/engine.yaml."""
    number = fits(EngineNumber)(number)
    path = f"engines/{number}/engine.yaml"
    folder = session.read()
    refuse_existing(session.root, path)
    known = sorted(folder.models)
    if not known:
        give_up("The club has no engine type yet. First:  docgen new model NAME")
    only = known[0] if len(known) == 1 else None
    question = f"Which engine type ({', '.join(known)})"
    name = answer("--model", question, model, one_of(known, "engine type"), only, quiet=quiet)
    kind = folder.models[name].value
    ran = "Hours that it has run, as 12 h, or new (empty: not known)"
    number_of_maker = "Serial number (empty: not known)"
    said = {
        "keeper": Typed(answer("--keeper", "Who looks after it", keeper, fits(Text), quiet=quiet)),
        "serial": Typed(answer("--serial", number_of_maker, serial, fits(Text, blank=True), "", quiet=quiet)),
        "hours": answer("--hours", ran, hours, _hours, "", quiet=quiet),
    }
    past = _before(folder, kind, received, table, before, quiet or said["hours"] == NEW)
    day = received.isoformat()
    data = filled("engine", engine=number, model=name, received=day, before=past, **said, **_parts(kind))
    write_new(session.root, {**schemas(session.root), path: data})
    made = read_club(session.root)
    for problem in made.problems:
        if problem.path.startswith(f"engines/{number}/"):
            click.echo(f"{problem}\n", err=True)
    click.echo(f"Engine {number}, {kind.title}: {shown(session.root / path)}")
    click.echo(f"Next:  docgen due {number}   then   docgen print {number}")


def _hours(text: str) -> str:
    return NEW if text.strip().casefold() == NEW else fits(Time, blank=True)(decimal_point(text))


def _before(
    folder: Folder, model: Model, received: date, table: Path | None, given: str | None, quiet: bool
) -> dict[str, str]:
    """What was done before the record began, each as it stands in the file."""

    def check(text: str) -> str:
        try:
            read_past(text, folder, model, received)
        except Refused as refused:
            raise click.UsageError(f"{refused.said.message}: {refused.said.hint}") from None
        return text

    if table is not None:
        try:
            given = table_text(bounded(table))
        except Refused as refused:
            raise click.UsageError(f"--before-from: {refused.said.message}: {refused.said.hint}") from None
    question = f"Done or renewed before, {EXAMPLE} (empty: not known)"
    text = answer("--before", question, given, check, "", quiet=quiet)
    found = read_past(text, folder, model, received)
    return {name: ", ".join(_told(one)) for name, one in found.items()}


def _told(one: Before) -> Iterator[str]:
    if one.on is not None:
        yield f"on: {one.on.isoformat()}"
    if one.ago is not None:
        yield f"ago: {one.ago}"


def _parts(model: Model) -> dict[str, list[str]]:
    """The parts that may carry a seal, and those that other parts sit in, which are what carries a number."""
    whole = {part.part_of for part in model.parts.values() if part.part_of}
    return {
        "sealable": [name for name, part in model.parts.items() if part.sealable],
        "numbered": [name for name in model.parts if name in whole] or list(model.parts)[:1],
    }
