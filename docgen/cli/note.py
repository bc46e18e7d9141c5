"""Note what happened to an engine away from a sheet."""

from collections.abc import Callable
from typing import Any

import click

from docgen.cli import _options as option
from docgen.cli.frame import Session
from docgen.desk.asking import changes_of
from docgen.desk.notes import deviations, note, open_findings


@click.group(short_help="Note what was found or changed away from a sheet.")
def command() -> None:
    """Note what happened to an engine away from a sheet. Each is one event of its record.

    \b
    docgen note finding 017 "Weeps oil at a crank seal" --part crank-seals --calls bottom-end-check
    docgen note finding 017                              lists what is open
    docgen note dealt-with 004 8937c9f5 "Shoes deglazed"
    docgen note deviation 023 earth-strap-screw "Re-tapped to M6x1" --now thread=M6x1
    docgen note as-model 023 ce26182a "Threaded bush fitted, M5 again"
    docgen note setting 017 low-speed-turns "1 3/8 turn"
    docgen note keeper 017 "Ada Fenn"
    docgen note interval 017 clutch-service --hours "8 h" --why "Wet track all season"
    """


def _note_of(says: str, *typed: str) -> Callable[[option.Function], click.Command]:
    made = option.command(says, *typed, under=command, writes=True)
    return lambda function: made(option.engine(function))


_event = option.together(option.day("The day it happened."), option.by, option.accept, option.yes())


@_note_of(
    "Something that is not as it should be; alone: what is open.",
    "docgen note finding 017",
    'docgen note finding 017 "Weeps oil at a crank seal" --part crank-seals --calls bottom-end-check',
)  # fmt: skip
@click.argument("text", required=False)
@click.option("--part", help="The part or fastener that it is about.")
@click.option("--calls", help="The job that it calls for; it is due until signed.", shell_complete=option.job_names)
@_event
def finding(session: Session, engine: str, text: str | None, **given: Any) -> None:
    """Note that TEXT was found on ENGINE, open until it is dealt with."""
    if text is None:
        click.echo("\n".join(open_findings(session.read(), engine)) or "Nothing is open.")
    else:
        _note(session, "finding", engine, text=text, **given)


@_note_of(
    "An open finding needs nothing more.",
    "docgen note finding 004", 'docgen note dealt-with 004 8937c9f5 "Shoes deglazed"',
)  # fmt: skip
@click.argument("which")
@click.argument("how")
@_event
def dealt_with(session: Session, engine: str, **given: Any) -> None:
    """Note that the open finding WHICH of ENGINE was dealt with, and HOW."""
    _note(session, "dealt-with", engine, **given)


@_note_of(
    "Not as its model any more; alone: the deviations in force.",
    "docgen note deviation 023", 'docgen note deviation 023 earth-strap-screw "Re-tapped to M6x1" --now thread=M6x1',
)  # fmt: skip
@click.argument("item", required=False)
@click.argument("what", required=False)
@click.option("--why", help="How it came to that.")
@click.option("--now", "now", multiple=True, metavar="KEY=VALUE", help="What holds instead, as in thread=M6x1.")
@click.option("--left-out", is_flag=True, help="The engine runs without it.")
@_event
def deviation(session: Session, engine: str, item: str | None, now: tuple[str, ...], **given: Any) -> None:
    """Note that ITEM of ENGINE is not as its model says: WHAT is different."""
    if item is None:
        click.echo("\n".join(deviations(session.read(), engine)) or "It is as its model.")
    else:
        _note(session, "deviation", engine, item=item, now=changes_of(now, "--now thread=M6x1"), **given)


@_note_of(
    "A deviation is no more.",
    "docgen note deviation 023", 'docgen note as-model 023 ce26182a "Threaded bush fitted, M5 again"',
)  # fmt: skip
@click.argument("which")
@click.argument("how")
@_event
def as_model(session: Session, engine: str, **given: Any) -> None:
    """Note that ENGINE is as its model again where deviation WHICH was, and HOW that was done."""
    _note(session, "as-model", engine, **given)


@_note_of(
    "A setting changed away from a service.",
    'docgen note setting 017 low-speed-turns "1 3/8 turn"',
)  # fmt: skip
@click.argument("name")
@click.argument("value")
@_event
def setting(session: Session, engine: str, **given: Any) -> None:
    """Note that setting NAME of ENGINE is VALUE now."""
    _note(session, "setting", engine, **given)


@_note_of("Another keeper.", 'docgen note keeper 017 "Ada Fenn"')
@click.argument("keeper")
@_event
def keeper(session: Session, engine: str, **given: Any) -> None:
    """Note that ENGINE is kept by KEEPER from now on."""
    _note(session, "keeper", engine, **given)


@_note_of(
    "This engine's own interval for a job.",
    'docgen note interval 017 clutch-service --hours "8 h" --why "Wet track all season"',
)  # fmt: skip
@click.argument("job", shell_complete=option.job_names)
@click.option("--hours", help='As in "8 h".')
@click.option("--months", help="Calendar months.")
@click.option("--meetings", help="Race meetings.")
@click.option("--why", help="Why it differs from its model's.")
@_event
def interval(session: Session, engine: str, **given: Any) -> None:
    """Note that JOB is due on ENGINE after so many hours, months or meetings, whichever comes first."""
    _note(session, "interval", engine, **given)


def _note(session: Session, kind: str, engine: str, **given: Any) -> None:
    note(session, session.read([engine]), kind, engine, **given)
