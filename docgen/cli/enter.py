"""Type a sign-off sheet in that was filled in by pen."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import click

from docgen.cli._enter_taken import ask_taken, file_after_run
from docgen.cli._filing import ISSUE, by_option, issue_option
from docgen.cli._settle import Wishes, settle
from docgen.cli.frame import Day, Session, examples, today
from docgen.club.folder import Folder
from docgen.club.log import SHORT, Held
from docgen.club.schema.event import Service
from docgen.club.store import StoreError
from docgen.job.number import SheetNumber
from docgen.returns.again import filed_as
from docgen.returns.brief import brief
from docgen.returns.prompts import Prompt, prompts
from docgen.returns.refill import refilled
from docgen.returns.said import Refused
from docgen.returns.shown import said_lines
from docgen.returns.walk import Walk, draft_path, load_draft, save_draft
from docgen.returns.which import Sheet, sheet_numbered, typed_number

WORDS = """\
  Enter   leave the box blank, or keep what stands in [ ]
  -       empty a box that was filled
  back    go to the box before
  ?       show these words again
  stop    keep what was typed, and go on another day"""


class _Stopped(Exception):
    """Somebody goes on another day."""


@click.command(
    short_help="Type in a sign-off sheet that was filled in by pen.",
    epilog=examples(
        "docgen enter 017-CLU-04-003-S1-2",
        "docgen enter 017-CLU-04-003-S1-2 --after-run",
        'docgen enter 017-CLU-04-003-S1-2 --correct "drum bore misread"',
    ),
)
@click.argument("number")
@click.option("--accept", "accepted", multiple=True, metavar="NAME", help="A doubt that somebody has looked into.")
@click.option("--correct", metavar="WHY", default="", help="Put right what was filed, from what was filed on.")
@click.option("--after-run", "after_run", is_flag=True, help="Add the checks after the first run.")
@click.option("--every", is_flag=True, help="Ask for every box, in the order of the paper.")
@by_option
@issue_option
@click.option("--on", type=Day(), default=today, show_default="today", help="The day of filing.")
@click.pass_obj
def command(
    session: Session, number: str, accepted: tuple[str, ...], correct: str, after_run: bool, every: bool,
    by: str | None, issue: str, on: date,
) -> None:  # fmt: skip
    """Type in the sign-off sheet NUMBER, and file it.

    The number stands at the foot of every page, as in 017-CLU-04-003-S1-2. What all went as the sheet asks for is
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
        path = draft_path(folder.root, sheet.number)
        walk = _begun(folder, sheet, held, path, every, by, on)
        _ask(walk, path)
        _file(folder, sheet, walk, path, Wishes(on, accepted=accepted, correct=correct))
    except (_Stopped, click.Abort) as stopped:
        click.echo("\nKept. The same command goes on from here.")
        raise click.exceptions.Exit(0 if isinstance(stopped, _Stopped) else 1) from None
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
    while not ISSUE.fullmatch(typed := _typed('Digits behind "issue" at the foot of the paper').lower()):
        if typed == "stop":
            raise _Stopped
    return sheet_numbered(number, folder, issue=typed)


def _begun(
    folder: Folder, sheet: Sheet, held: Held | None, path: Path, every: bool, by: str | None, on: date
) -> Walk:
    """The walk through the sheet, where it stood; a new one begins with what is taken, or with what was filed."""
    told = sheet.job.instructions
    click.echo(f"{sheet.text}  {told.title}, engine {told.engine}")
    click.echo(f"printed on {sheet.job.issue.on}, issue {sheet.job.issue_digest[:SHORT]}, as at the foot of the paper")
    whole = Walk(prompts(sheet.job))
    try:
        drafted = load_draft(path, whole)
    except ValueError as error:
        raise Refused("draft-unreadable", f"{path} cannot be read: {error}", "delete it, and begin anew") from None
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


def _ask(walk: Walk, path: Path, only: bool = False) -> None:
    """Ask until the end, or one question only; after each the draft is kept."""
    section = row = ""
    while (prompt := walk.current) is not None:
        if prompt.section.key != section:
            click.echo(f"\n{prompt.section.title}" + (f"  ({prompt.section.note})" if prompt.section.note else ""))
        if prompt.row.key != row and not prompt.alone:
            name = f"{prompt.row.label}  {prompt.row.name}" if prompt.row.label else prompt.row.name
            click.echo("\n".join((f"  {name}", *(f"      {text}" for text in prompt.row.told))))
        section, row = prompt.section.key, prompt.row.key
        try:
            moved = _lines(walk, prompt) if prompt.kind == "lines" else _box(walk, prompt)
        except (_Stopped, click.Abort):
            save_draft(path, walk)
            raise
        if moved:
            save_draft(path, walk)
        if moved and only:
            return


def _typed(text: str, kept: str = "") -> str:
    return str(click.prompt(text, kept, show_default=bool(kept), prompt_suffix=": ")).strip()


def _box(walk: Walk, prompt: Prompt) -> bool:
    """Ask for one box; whether the walk moved on."""
    typed = _typed(prompt.asks, prompt.shown(walk.answers))
    word = typed.casefold()
    if word == "stop":
        raise _Stopped
    if word in ("?", "help"):
        click.echo(WORDS)
        return False
    if word == "back":
        walk.back()
        return True
    try:
        said = walk.answer("" if typed == "-" else typed)
    except Refused as refused:
        click.echo(f"      {refused.said.message}" + (f": {refused.said.hint}" if refused.said.hint else ""))
        return False
    if said:
        click.echo(f"      {said}")
    return True


def _lines(walk: Walk, prompt: Prompt) -> bool:
    """Ask for the findings, a line each; an empty line ends."""
    lines = [line for line in walk.answers.get(prompt.field, "").split("\n") if line]
    for line in lines:
        click.echo(f"      {line}")
    while typed := _typed(f"    {'next line' if lines else 'one finding a line; an empty line ends'}"):
        if typed.casefold() == "stop":
            raise _Stopped
        if typed.casefold() == "back":
            walk.back()
            return True
        lines = [] if typed == "-" else [*lines, typed]
        walk.answers[prompt.field] = "\n".join(lines)
    walk.on()
    return True


def _done_with(draft: Path) -> None:
    """Take the draft of a sheet away that is filed; one that stays does no harm, since the sheet is known as filed."""
    try:
        draft.unlink(missing_ok=True)
    except OSError as error:
        click.echo(f"Its draft could not be taken away ({error.strerror}): delete {draft}", err=True)


def _file(folder: Folder, sheet: Sheet, walk: Walk, path: Path, wishes: Wishes) -> None:
    """File what was typed; what is refused is asked for again, as long as somebody wants to."""
    while True:
        click.echo()
        settled = settle(folder, sheet, walk.answers, wishes)
        if settled.state != "not filed":
            _done_with(path)
            return
        field = next((one.field for one in settled.said if one.weight == "refused" and one.field), "")
        walk = next((one for one in (walk, _whole(sheet, walk)) if one.go(field)), walk) if field else walk
        if not field or walk.current is None or walk.current.field != field:
            break
        if not click.confirm(f"Go back to: {walk.current.row.name}?", default=True):
            break
        _ask(walk, path, only=True)
        walk.at = len(walk.prompts)
        save_draft(path, walk)
    click.echo("What was typed is kept: the same command goes on from here.")
    raise click.exceptions.Exit(1)


def _whole(sheet: Sheet, walk: Walk) -> Walk:
    """A walk through every box, with the same answers."""
    return Walk(prompts(sheet.job), walk.answers)
