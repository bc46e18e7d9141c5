"""Begin an engine type."""

from __future__ import annotations

import click

from docgen.cli._asking import answer, fits, yes_option
from docgen.cli._new_files import Typed, filled, refuse_existing, schemas, shown, write_new
from docgen.cli.frame import Session, counted, examples, stop
from docgen.club.read import read_club
from docgen.club.schema.base import AnyQuantity, Name, Text


@click.command(short_help="Begin an engine type.", epilog=examples('docgen new model birch-90 --title "Birch 90"'))
@click.argument("name")
@click.option("--title", help="What it is called on the sheets.")
@click.option("--manual", help="The maker's manual, by its title.")
@click.option("--displacement", help="The swept volume, as in '99.8 cm3'.")
@click.option("--equipment", help="What it has, words with spaces between, as in 'reed-valve electric-start'.")
@yes_option
@click.pass_obj
def model(
    session: Session, name: str, title: str | None, manual: str | None, displacement: str | None,
    equipment: str | None, quiet: bool,
) -> None:  # fmt: skip
    """Begin an engine type: models/NAME.yaml, with a few parts and fasteners as an example to go on from."""
    fits(Name)(name)
    path = f"models/{name}.yaml"
    folder = session.read()
    refuse_existing(session.root, path)
    usual = name.replace("-", " ").capitalize()
    known = sorted({word for read in folder.models.values() for word in read.value.equipment})
    question = f"What it has, in words that jobs ask for (other types: {', '.join(known) or 'none yet'})"
    called = answer("--title", "What it is called", title, fits(Text), usual, quiet=quiet)
    said = {
        "title": Typed(called),
        "manual": Typed(answer("--manual", "The maker's manual", manual, fits(Text), f"{called} manual", quiet=quiet)),
        "displacement": answer("--displacement", "Swept volume, as 99.8 cm3 (empty: not known)", displacement,
                               fits(AnyQuantity, blank=True), "", quiet=quiet),
        "equipment": answer("--equipment", question, equipment, words, name, quiet=quiet).split(),
    }  # fmt: skip
    data = filled("model", model=name, **said)
    made = read_club(session.root, instead={path: data})
    new = [problem for problem in made.problems if problem not in folder.problems]
    if found := [problem for problem in new if problem.path == path]:
        stop(found)
    write_new(session.root, {**schemas(session.root), path: data})
    click.echo(f"Engine type {called}: {shown(session.root / path)}")
    if new:
        asked = ", ".join(said["equipment"])
        lacks = counted(len(new), "thing")
        click.echo(f"Jobs that ask for {asked} name {lacks} that it has not yet: docgen proof lists them.")
    click.echo("Next: write its parts and fasteners, then  docgen proof   and   docgen new engine NUMBER")


def words(text: str) -> str:
    """Names with spaces between."""
    for one in text.split():
        fits(Name)(one)
    if not text.split():
        raise click.UsageError("name at least one thing that it has")
    return text
