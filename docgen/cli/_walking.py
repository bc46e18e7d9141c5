"""Going through a sheet box by box in a terminal, with a draft kept after each, and filing what was typed."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import click

from docgen.cli._settle import Settled, Wishes, settle
from docgen.club.folder import Folder
from docgen.club.store import StoreError
from docgen.desk.filing import Paper
from docgen.returns.diagnostic import Refused
from docgen.returns.identity import Sheet
from docgen.returns.prompts import Prompt, prompts
from docgen.returns.walk import Walk, done_with, save_draft

WORDS = """\
  Enter   leave the box blank, or keep what stands in [ ]
  -       empty a box that was filled
  back    go to the box before
  ?       show these words again
  stop    keep what was typed, and go on another day"""


class Stopped(Exception):
    """Somebody goes on another day."""


def ask(walk: Walk, path: Path, only: bool = False) -> None:
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
        except (Stopped, click.Abort):
            save_draft(path, walk)
            raise
        if moved:
            save_draft(path, walk)
        if moved and only:
            return


def typed_in(text: str, kept: str = "") -> str:
    """What is typed behind a question; what stands there already where nothing is."""
    return str(click.prompt(text, kept, show_default=bool(kept), prompt_suffix=": ")).strip()


def _box(walk: Walk, prompt: Prompt) -> bool:
    """Ask for one box; whether the walk moved on."""
    typed = typed_in(prompt.asks, prompt.shown(walk.answers))
    word = typed.casefold()
    if word == "stop":
        raise Stopped
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
    while typed := typed_in(f"    {'next line' if lines else 'one finding a line; an empty line ends'}"):
        if typed.casefold() == "stop":
            raise Stopped
        if typed.casefold() == "back":
            walk.back()
            return True
        lines = [] if typed == "-" else [*lines, typed]
        walk.answers[prompt.field] = "\n".join(lines)
    walk.on()
    return True


def _put_away(draft: Path, walk: Walk, still_open: str) -> None:
    """Take the draft of a sheet away that is filed; one that stays does no harm, since the sheet is known as filed."""
    try:
        done_with(draft, walk, still_open)
        if still_open:
            click.echo("What was typed is kept for the jobs that stay open: the same command goes on from here.")
    except (StoreError, OSError) as error:
        why = error.message if isinstance(error, StoreError) else error.strerror
        click.echo(f"Its draft could not be put away ({why}): delete {draft}", err=True)


def file_typed(
    folder: Folder, sheet: Sheet, walk: Walk, path: Path, wishes: Wishes, papers: Sequence[Paper] = ()
) -> Settled:
    """File what was typed; what is refused is asked for again, as long as somebody wants to."""
    while True:
        click.echo()
        settled = settle(folder, sheet, walk.answers, wishes, papers)
        if settled.state != "not filed":
            _put_away(path, walk, settled.still_open)
            return settled
        field = next((one.field for one in settled.said if one.weight == "refused" and one.field), "")
        walk = next((one for one in (walk, _whole(sheet, walk)) if one.go(field)), walk) if field else walk
        if not field or walk.current is None or walk.current.field != field:
            break
        if not click.confirm(f"Go back to: {walk.current.row.name}?", default=True):
            break
        ask(walk, path, only=True)
        walk.at = len(walk.prompts)
        save_draft(path, walk)
    click.echo("What was typed is kept: the same command goes on from here.")
    return settled


def _whole(sheet: Sheet, walk: Walk) -> Walk:
    """A walk through every box, with the same answers."""
    return Walk(prompts(sheet.job), walk.answers)
