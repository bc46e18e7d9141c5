"""Join the branches of a log after two people filed apart."""

from __future__ import annotations

from typing import Any

import click

from docgen.cli import _options as option
from docgen.cli.frame import Session
from docgen.desk.corrections import join_logs


@option.command(
    "Join what was filed apart.",
    "docgen join", 'docgen join 017 --note "filed on two computers"', "docgen join --twice strike", writes=True,
)  # fmt: skip
@option.engines
@option.day("The day of joining.")
@click.option("--note", help="Why there were two.")
@click.option("--twice", type=click.Choice(["strike", "keep"]), default=None,
              help="What becomes of the second of what was filed twice.  [default: ask]")  # fmt: skip
@option.by
@option.yes()
def command(session: Session, **given: Any) -> None:
    """Join the ends of the logs of ENGINES (or of all) where two people filed apart, as after a git merge.

    Every event stays as it is, and counts. What joins them is an event of its own that names every end. Where both
    entered the same thing, or moved the same component to two engines, it asks which stands.
    """
    join_logs(session, session.read, **given)
