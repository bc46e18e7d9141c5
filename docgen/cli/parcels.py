"""Pack procedures into one file for another club, and take in what another club packed."""

from datetime import date
from pathlib import Path

import click

from docgen.cli import _options as option
from docgen.cli.frame import Session
from docgen.desk.parcels import pack_jobs, receive_parcel


@option.command(
    "Pack jobs into one file for another club.",
    "docgen pack CLU -o clutch.parcel", "docgen pack CLU STA --model alder-100r -o both.parcel",
)  # fmt: skip
@click.argument("jobs", nargs=-1, required=True, shell_complete=option.job_names)
@click.option("-o", "--out", type=click.Path(path_type=Path, dir_okay=False), required=True, help="The parcel's file.")
@click.option("--model", "models", multiple=True, help="An engine type to go with them.  [default: all that they fit]")
@click.option(
    "--engine", "engines", multiple=True, shell_complete=option.engine_names,
    help="An engine whose whole record goes with them. None goes unless named.",
)  # fmt: skip
def pack(
    session: Session, jobs: tuple[str, ...], out: Path, models: tuple[str, ...], engines: tuple[str, ...]
) -> None:
    """Pack JOBS with all that they need into one parcel, for another club to take in with: docgen receive

    What they need goes with them: the pages that teach beside them, the sequences that they use, the jobs that they
    call for, the engine types that they fit, and what these name of tools, gauges and materials. Prices, the shelf,
    calibration dates and comments stay at home. The same content gives the same file, byte for byte.
    """
    for line in pack_jobs(session.read(), jobs, out, models, engines):
        click.echo(line)


@option.command(
    "Take in a parcel from another club.",
    "docgen receive clutch.parcel", "docgen receive clutch.parcel --take clutch-service",
)  # fmt: skip
@click.argument("parcel", type=click.Path(path_type=Path))
@option.yes("Take it in without asking. What both changed stays yours all the same.")
@click.option("--keep", multiple=True, metavar="NAME", help="Settled: your own job, sequence or engine type stays.")
@click.option("--take", multiple=True, metavar="NAME", help="Settled: theirs takes the place of yours.")
@option.on
def receive(session: Session, parcel: Path, keep: tuple[str, ...], take: tuple[str, ...], on: date) -> None:
    """Take in PARCEL, a file that another club made with: docgen pack

    First it is shown what would change: new jobs, newer revisions, and in each the steps, torques and limits that are
    not what they were; and what you had changed yourself. Then the whole club is proofed as it would be, on your own
    engine types. Only then it asks, and writes all of it or nothing. What you changed is never written over: where
    both changed the same, yours stays, and theirs is laid beside it.
    """
    receive_parcel(session, session.read(), parcel, on, keep, take)
