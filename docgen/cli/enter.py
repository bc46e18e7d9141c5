"""Type a sign-off sheet in that was filled in by pen."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import date
from pathlib import Path

import click

from docgen.cli import _options as option
from docgen.cli._asking import answer
from docgen.cli._filing import filed_line
from docgen.cli._page import has_page, on_page
from docgen.cli._settle import Wishes
from docgen.cli._walking import WORDS, Stopped, ask, file_typed, typed_in
from docgen.cli.frame import Session
from docgen.club.folder import Folder
from docgen.club.log import SHORT, Held
from docgen.club.schema.event import Service
from docgen.club.store import StoreError
from docgen.job.number import SheetNumber
from docgen.job.state import state_of
from docgen.returns.brief import Signed, brief, excepted, initials_of, taken
from docgen.returns.correcting import after_run_event
from docgen.returns.diagnostic import Refused
from docgen.returns.filing import file_event
from docgen.returns.identity import Sheet, sheet_numbered, typed_number
from docgen.returns.prompts import prompts
from docgen.returns.refiling import filed_as
from docgen.returns.refill import refilled
from docgen.returns.report import said_lines
from docgen.returns.walk import Walk, draft_path, load_draft, save_draft
from docgen.returns.writing import one_line, read_date, read_hours


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


SO = """\
All so?  y       yes
         n       no: ask for every box
         17b worn; 39a not renewed      yes, but for these rows of the sheet
         date 28.11.2026, hours 12.4, by Jo Ash, initials JA      to change that"""


def ask_taken(sheet: Sheet, by: str | None, on: date) -> tuple[dict[str, str], bool]:
    """What is taken as the sheet asks for, and whether that is right: else every box is asked for."""
    services = sheet.record.log.of(Service)
    wrenches = {item: told.wrench for one in services for item, told in one.torques.items() if told.wrench}
    signed = _signed(sheet, by, on)
    while True:
        all_well = taken(sheet.job, signed, wrenches)
        click.echo("Taken, when all is well:\n" + "\n".join(f"  {line}" for line in all_well.lines))
        typed = one_line(str(click.prompt(f"{SO}\n ", "", prompt_suffix=" ", show_default=False)))
        answers = dict(all_well.answers)
        if typed.casefold() in ("y", "yes"):
            return answers, True
        if typed.casefold() in ("n", "no"):
            return {key: text for key, text in answers.items() if key in ("done-by", "work-completed")}, False
        if re.match(r"\d{1,3}[a-z]{0,2}\b", typed, re.I):
            excepted(sheet.job, typed, answers)
            return answers, True
        try:
            signed = _changed(signed, typed)
        except Refused as refused:
            click.echo(f"  {refused.said.message}" + (f": {refused.said.hint}" if refused.said.hint else ""))


def _signed(sheet: Sheet, by: str | None, on: date) -> Signed:
    """Who did it, as far as somebody says so; the day and the engine's hours as they stand today."""
    state = state_of(sheet.record, on)
    usual = by or next((one.by for one in reversed(list(sheet.record.log.of(Service))) if one.by), None)
    name = one_line(answer("--by", "Work done and released by (name)", by, one_line, usual))
    return Signed(on, f"{float(state.hours):.1f}" if state.hours_known else "", name, initials_of(name))


def _changed(signed: Signed, typed: str) -> Signed:
    word, _, rest = typed.partition(" ")
    if word == "date" and (day := read_date(rest)[0]) is not None:
        return replace(signed, day=day)
    if word == "hours":
        return replace(signed, hours=str(read_hours(rest).quantity).removesuffix(" h"))
    if word == "by" and rest:
        return replace(signed, by=rest, initials=initials_of(rest))
    if word == "initials" and rest:
        return replace(signed, initials=rest)
    raise Refused("not-an-answer", f'"{typed[:40]}" is not understood', "y, n, rows of the sheet, or one of the words")


def file_after_run(folder: Folder, sheet: Sheet, held: Held | None, by: str | None, on: date) -> None:
    """Ask for the checks after the first run of a sheet that was filed, and file them with it. Errors: Refused."""
    if held is None or not isinstance(held.event, Service):
        raise Refused("not-filed", f"{sheet.text} is not filed yet", f"file it first: docgen enter {sheet.text}")
    checks = sheet.job.instructions.after_run
    if not checks:
        raise Refused("no-such-checks", f"{sheet.text} has no checks after the first run", "there is nothing to add")
    for check in checks:
        click.echo(f"  {check.text}" + (f"  ({check.accept})" if check.accept else ""))
    name = one_line(answer("--by", "Checked by (name)", by, one_line, held.event.by))
    ran = one_line(answer("", "How long it ran (empty: not noted)", None, one_line, ""))
    if not click.confirm(f"All {len(checks)} made on {on.isoformat()}, and good?"):
        raise Refused("not-all-good", "what is not good is a finding", f"docgen note finding {sheet.number.engine} ...")
    event = after_run_event(held, checks, on, name, ran)
    click.echo(filed_line(folder.root, file_event(folder.root, sheet.number.engine, event)))
