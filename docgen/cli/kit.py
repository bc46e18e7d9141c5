"""The kit list: tools, materials and spares for any set of jobs, and what to order."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

import click

from docgen.cli import _options as option
from docgen.cli._saying import say_json, warn
from docgen.cli.frame import Session
from docgen.desk.system import shown

if TYPE_CHECKING:
    from docgen.club.folder import Folder
    from docgen.desk.kit import LaidReady


@option.command(
    "What to lay ready for the jobs, and what to order.", "docgen kit 017 --due", "docgen kit 017 --job PRE"
)
@option.engines
@option.jobs
@option.due
@option.on
@option.language
@option.out()
@click.option("--no-cost", is_flag=True, help="Leave prices and cost out.")
@option.json
def command(
    session: Session, engines: tuple[str, ...], jobs: tuple[str, ...], only_due: bool, on: date, out: Path,
    no_cost: bool, as_json: bool,
) -> None:  # fmt: skip
    """Add up what the jobs of ENGINES (or all) need: those named with --job, or all that is due.

    Tools to lay out, materials in whole containers, spares needed for sure and spares to have at hand. What the shelf
    (stock.yaml) does not hold is short; the order is also written as a table for a spreadsheet.
    """
    from docgen.desk.kit import kit_for
    from docgen.desk.wanted import wanted_jobs
    from docgen.plan.kit import to_json

    folder = session.read()
    wanted = wanted_jobs(folder, engines, jobs, on, only_due=only_due, say=warn)
    found = kit_for(folder, wanted, on, costs=not no_cost)
    if not found.kit.jobs:
        click.echo(f"Nothing is due on {on.isoformat()}: there is nothing to lay ready.")
    elif as_json:
        say_json(to_json(found.kit))
    else:
        print_kit(folder, found, on, out, _suffix(engines, jobs))


def print_kit(folder: Folder, found: LaidReady, on: date, out: Path, suffix: str) -> None:
    """Print the kit list, write the order beside it, and say so."""
    from docgen.cli._pages import print_pages

    wish, table = found.page(folder, on, out, suffix)
    print_pages(folder.root, [wish], table)
    kit = found.kit
    total = f", {kit.currency} {kit.total:.2f}" if kit.total is not None else ""
    for path in table:
        click.echo(f"Order, {len(kit.order)} lines{total}: {shown(path)}")


def _suffix(engines: Sequence[str], jobs: Sequence[str]) -> str:
    """What sets a list for some engines or jobs apart from that for all."""
    words = [*engines, *(job if job.isupper() else job.lower() for job in jobs)]
    return "".join(f"-{word}" for word in words)[:80]
