"""Type a sign-off sheet in that was filled in by pen."""

from __future__ import annotations

from datetime import date
from typing import Any

import click

from docgen.cli import _options as option
from docgen.cli._page import has_page, on_page
from docgen.cli.frame import Session
from docgen.club.store import StoreError
from docgen.desk.asking import Unanswered
from docgen.desk.entering import add_checks, enter
from docgen.desk.walking import KEPT, Stopped
from docgen.returns.diagnostic import Refused


@option.command(
    "Type in a sign-off sheet that was filled in by pen.",
    "docgen enter 017-CLU-04-003-S1-2", "docgen enter 017-CLU-04-003-S1-2 --after-run",
    'docgen enter 017-CLU-04-003-S1-2 --correct "drum bore misread"',
)  # fmt: skip
@click.argument("number")
@option.accept
@click.option("--correct", metavar="WHY", default="", help="Put right what was filed, from what was filed on.")
@click.option("--after-run", "after_run", is_flag=True, help="Add the checks after the first run.")
@click.option("--every", is_flag=True, help="Ask for every box, in the order of the paper.")
@option.by
@option.issue
@option.filed_on
@option.terminal
def command(
    session: Session, number: str, correct: str, after_run: bool, every: bool, on: date, terminal: bool, **given: Any
) -> None:
    """Type in the sign-off sheet NUMBER, and file it: on a page that opens in the browser, or here.

    The number stands at the foot of every page, as in 017-CLU-04-003-S1-2. Here, what all went as the sheet asks for is
    taken at once; asked are the readings, what was not so, and the findings. With --every, each box is asked for.
    What was typed is kept after every box: the same command goes on where it stopped.
    """
    folder = session.read()
    try:
        if after_run:
            add_checks(session, folder, number, on, **given)
            return
        page = on_page if has_page(terminal or every or bool(correct)) else None
        filed = enter(session, folder, number, on, correct=correct, every=every, page=page, **given)
    except (Stopped, Unanswered) as stopped:
        click.echo(KEPT)
        raise click.exceptions.Exit(0 if isinstance(stopped, Stopped) else 1) from None
    except (Refused, StoreError) as error:
        raise click.ClickException(str(error)) from None
    except OSError as error:
        raise click.ClickException(f"it could not be kept: {error.strerror}") from None
    if not filed:
        raise click.exceptions.Exit(1)
