"""Type a sign-off sheet in that was filled in by pen."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import click

from docgen.cli import _options as option
from docgen.cli._enter_taken import ask_taken, file_after_run
from docgen.cli._page import has_page, on_page
from docgen.cli._settle import Wishes
from docgen.cli._walking import WORDS, Stopped, ask, file_typed, typed_in
from docgen.cli.frame import Session
from docgen.club.folder import Folder
from docgen.club.log import SHORT, Held
from docgen.club.schema.event import Service
from docgen.club.store import StoreError
from docgen.job.number import SheetNumber
from docgen.returns.brief import brief
from docgen.returns.diagnostic import Refused
from docgen.returns.identity import Sheet, sheet_numbered, typed_number
from docgen.returns.prompts import prompts
from docgen.returns.refiling import filed_as
from docgen.returns.refill import refilled
from docgen.returns.report import said_lines
from docgen.returns.walk import Walk, draft_path, load_draft, save_draft


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
    session: Session, number: str, accepted: tuple[str, ...], correct: str, after_run: bool, every: bool,
    by: str | None, issue: str, on: date, terminal: bool,
) -> None:  # fmt: skip
    """Type in the sign-off sheet NUMBER, and file it: on a page that opens in the browser, or here.

    The number stands at the foot of every page, as in 017-CLU-04-003-S1-2. Here, what all went as the sheet asks for is
    taken at once; asked are the readings, what was not so, and the findings. With --every, each box is asked for.
    What was typed is kept after every box: the same command goes on where it stopped.
    """
    folder = session.read()
    try:
        sheet = _sheet(typed_number(number), folder, issue)
        held = filed_as(sheet)
        if after_run:
            file_after_run(folder, sheet, held, by, on)
            return
        if held is not None and not correct:
            raise Refused(
                "already-filed",
                f"{sheet.text} is already filed, as {held.entry.file}",
                'to put another reading of the paper in its place: --correct "WHY"; '
                "to add the checks after the first run: --after-run",
            )
        if has_page(terminal or every or bool(correct)):
            from docgen.desk.entry import Entry

            entry = Entry(folder, sheet, on)
            filed = on_page(entry)
            click.echo(entry.text)
            raise click.exceptions.Exit(0 if filed else 1)
        path = draft_path(folder.root, sheet.number)
        walk = _begun(folder, sheet, held, path, every, by, on)
        ask(walk, path)
        settled = file_typed(folder, sheet, walk, path, Wishes(on, accepted=accepted, correct=correct))
        if settled.state == "not filed":
            raise click.exceptions.Exit(1)
    except (Stopped, click.Abort) as stopped:
        click.echo("\nKept. The same command goes on from here.")
        raise click.exceptions.Exit(0 if isinstance(stopped, Stopped) else 1) from None
    except (Refused, StoreError) as error:
        raise click.ClickException(str(error)) from None
    except OSError as error:
        raise click.ClickException(f"it could not be kept: {error.strerror}") from None


def _sheet(number: SheetNumber, folder: Folder, issue: str) -> Sheet:
    """The sheet of a number; where several prints bear it, the one that the paper says."""
    try:
        return sheet_numbered(number, folder, issue=issue)
    except Refused as refused:
        if refused.said.name != "two-prints":
            raise
        click.echo("\n".join(said_lines((refused.said,))))
    while not option.ISSUE.fullmatch(typed := typed_in('Digits behind "issue" at the foot of the paper').lower()):
        if typed == "stop":
            raise Stopped
    return sheet_numbered(number, folder, issue=typed)


def _begun(
    folder: Folder, sheet: Sheet, held: Held | None, path: Path, every: bool, by: str | None, on: date
) -> Walk:
    """The walk through the sheet, where it stood; a new one begins with what is taken, or with what was filed."""
    told = sheet.job.instructions
    click.echo(f"{sheet.text}  {told.title}, engine {told.engine}")
    click.echo(f"printed on {sheet.job.issue.on}, issue {sheet.job.issue_digest[:SHORT]}, as at the foot of the paper")
    whole = Walk(prompts(sheet.job))
    drafted = load_draft(path, whole)
    short = Walk(brief(sheet.job), short=True)
    if drafted:
        if whole.short:
            load_draft(path, short)
            short.answers = whole.answers
            whole = short
        click.echo(WORDS)
        if whole.current is not None:
            click.echo(f"Going on at: {whole.current.row.name}")
        return whole
    if held is not None and isinstance(held.event, Service):
        click.echo(f"{WORDS}\nEach box shows what was filed; Enter keeps it.")
        whole.answers = refilled(sheet, held.event)
        return whole
    if every:
        click.echo(WORDS)
        return whole
    answers, well = ask_taken(sheet, by, on)
    walk = short if well else whole
    walk.answers = answers
    click.echo(WORDS)
    save_draft(path, walk)
    return walk
