"""Begin: a club, an engine, an engine type, a procedure; each as a file that teaches and is right from the start."""

from datetime import date
from functools import partial
from pathlib import Path
from typing import Any

import click

from docgen.cli import _options as option
from docgen.cli.frame import Session


@click.group(short_help="Begin a club, an engine, an engine type or a procedure.")
def command() -> None:
    """Begin something new: a few questions, then a file with notes that explain it. Nothing is ever written over.

    Each question can be answered by an option, and --yes asks nothing.
    """


_new = partial(option.command, under=command)
_quiet = option.yes("Ask nothing: take the usual answers.", "-y")


@_new("Begin a club's folder.", 'docgen new club marsh-lane --name "Marsh Lane Karters" --take alder-100r')
@click.argument("folder", type=click.Path(path_type=Path, file_okay=False))
@click.option("--name", help="What the club is called.")
@click.option("--paper", help="A4 or Letter.")
@click.option("--language", help="The language of its sheets.  [default: en]")
@click.option("--distance", help="How far away a sheet is read from.  [default: 600 mm]")
@click.option("--hours", help="How long an engine runs at one meeting.  [default: 1 h]")
@click.option(
    "--take", multiple=True, metavar="NAME",
    help="What to take along: an engine type with its jobs, a job, 'all' or 'nothing'; may be repeated.",
)
@click.option(
    "--from", "source", type=click.Path(path_type=Path, exists=True, file_okay=False),
    help="Another club's folder to take it from.  [default: what comes with docgen]",
)
@_quiet
def club(session: Session, folder: Path, **given: Any) -> None:
    """Begin a club in FOLDER, with club.yaml, the schemas for editors, and the jobs and engine types to take along.

    An engine type brings every job that fits it, with what these need: sequences, tools, gauges, materials.
    """
    from docgen.desk.begin_club import begin_club

    begin_club(session, folder, **given)


@_new("Begin an engine's record.", 'docgen new engine 7 --keeper "Jo Ash" --hours "12 h"')
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
@_quiet
def engine(session: Session, number: str, received: date, **given: Any) -> None:
    """Begin the record of engine NUMBER: engines/NUMBER/engine.yaml."""
    from docgen.desk.begin_engine import begin_engine

    begin_engine(session, session.read(), number, received, **given)


@_new(
    "Begin an engine type.",
    "docgen new model rowan-100a --like alder-100r",
    'docgen new model rowan-100a --like alder-100r --without electric-start --differs "clutch-nut catch=clip"',
    'docgen new model birch-90 --title "Birch 90"',
)
@click.argument("name")
@click.option("--title", help="What it is called on the sheets.")
@click.option("--manual", help="The maker's manual, by its title.")
@click.option("--displacement", help="The swept volume, as in '99.8 cm3'.")
@click.option("--like", "other", metavar="MODEL", help="An engine type that it is like: begin with its parts.")
@click.option("--equipment", help="What it has, words with spaces between, as in 'reed-valve electric-start'.")
@click.option("--without", help="With --like: what of that type's equipment it has not.")
@click.option("--figures", help="With --like: torques, limits, part numbers: 'blank' or 'same'.")
@click.option("--differs", multiple=True, metavar="WHAT", help="With --like: as in 'clutch-nut catch=clip'.")
@_quiet
def model(session: Session, name: str, **given: Any) -> None:
    """Begin an engine type: models/NAME.yaml, from one that it is like, or with a few parts as an example.

    At the end it says which of the club's jobs fit the type, and which names the others lack.
    """
    from docgen.desk.begin_model import begin_model

    begin_model(session, session.read(), name, **given)


@_new("Begin a procedure.", 'docgen new procedure intake-wash --title "Intake silencer - wash" --every "3 months"')
@click.argument("name")
@click.option("--title", help="What the job is called.")
@click.option("--code", help="Three capital letters of its own.")
@click.option("--author", help="Who writes it.")
@click.option("--needs", help="Equipment that an engine must have for it, words with spaces between.")
@click.option("--every", help="How often it is due, as in '5 h', '6 months' or '5 h 6 months'.")
@option.day("The day of its first revision.", "--dated")
@_quiet
def procedure(session: Session, name: str, dated: date, **given: Any) -> None:
    """Begin a job: procedures/NAME.yaml, with one step as an example, and the engine's names as notes."""
    from docgen.desk.begin_procedure import begin_procedure

    begin_procedure(session, session.read(), name, dated, **given)
