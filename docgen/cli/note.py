"""Note what happened to an engine away from a sheet."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from functools import partial
from typing import Any, NamedTuple

import click

from docgen.cli import _options as option
from docgen.cli._filing import changes_of, confirm, say_filed
from docgen.cli.frame import Session
from docgen.club.folder import EngineRecord, Folder
from docgen.club.schema.model import Model
from docgen.desk.choosing import engines_named, sound
from docgen.desk.clock import today
from docgen.job.state import EngineState, state_of
from docgen.returns import noting
from docgen.returns.checks import said_again, said_of_day
from docgen.returns.diagnostic import Refused
from docgen.returns.filing import file_event, names_unknown
from docgen.returns.report import said_lines

DIGITS = 8
"""Of a digest, shown in a list."""


class Subject(NamedTuple):
    """What is noted of: an engine, as it stands."""

    folder: Folder
    record: EngineRecord
    model: Model
    state: EngineState


Made = Callable[[Subject], dict[str, Any]]


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


_note_of = partial(option.command, under=command, writes=True)
_event = option.together(option.day("The day it happened.", "--on", "day"), option.by, option.accept, option.yes)


@_note_of(
    "Something that is not as it should be; alone: what is open.",
    "docgen note finding 017",
    'docgen note finding 017 "Weeps oil at a crank seal" --part crank-seals --calls bottom-end-check',
)  # fmt: skip
@option.engine
@click.argument("text", required=False)
@click.option("--part", help="The part or fastener that it is about.")
@click.option("--calls", help="The job that it calls for; it is due until signed.", shell_complete=option.job_names)
@_event
def finding(session: Session, engine: str, text: str | None, part: str | None, calls: str | None, **rest: Any) -> None:
    """Note that TEXT was found on ENGINE, open until it is dealt with."""
    if text is None:
        _list(session, engine, "Nothing is open.", lambda record, state: [
            f"{f.digest[:DIGITS] + f.digest[64:]}  {f.day}  {f.text}" + (f"  (calls for {f.calls})" if f.calls else "")
            for f in state.findings
        ])  # fmt: skip
        return
    _note(session, engine, lambda of: noting.found(of.folder, of.model, text, part, calls), **rest)


@_note_of(
    "An open finding needs nothing more.",
    "docgen note finding 004", 'docgen note dealt-with 004 8937c9f5 "Shoes deglazed"',
)  # fmt: skip
@option.engine
@click.argument("which")
@click.argument("how")
@_event
def dealt_with(session: Session, engine: str, which: str, how: str, **rest: Any) -> None:
    """Note that the open finding WHICH of ENGINE was dealt with, and HOW."""
    _note(session, engine, lambda of: noting.dealt_with(of.state, _full(which, of.state), how), **rest)


@_note_of(
    "Not as its model any more; alone: the deviations in force.",
    "docgen note deviation 023", 'docgen note deviation 023 earth-strap-screw "Re-tapped to M6x1" --now thread=M6x1',
)  # fmt: skip
@option.engine
@click.argument("item", required=False)
@click.argument("what", required=False)
@click.option("--why", help="How it came to that.")
@click.option("--now", "now", multiple=True, metavar="KEY=VALUE", help="What holds instead, as in thread=M6x1.")
@click.option("--left-out", is_flag=True, help="The engine runs without it.")
@_event
def deviation(
    session: Session, engine: str, item: str | None, what: str | None, why: str | None, now: tuple[str, ...],
    left_out: bool, **rest: Any,
) -> None:  # fmt: skip
    """Note that ITEM of ENGINE is not as its model says: WHAT is different."""
    if item is None:
        _list(session, engine, "It is as its model.", lambda record, _: [
            f"{digest[:DIGITS]}  {one.date}  {one.item}: {one.what}"
            for digest, one in noting.deviations_of(record).items()
        ])  # fmt: skip
        return
    changes = changes_of(now, "--now thread=M6x1")
    _note(session, engine, lambda of: noting.deviates(of.model, item, what or "", why, changes, left_out), **rest)


@_note_of(
    "A deviation is no more.",
    "docgen note deviation 023", 'docgen note as-model 023 ce26182a "Threaded bush fitted, M5 again"',
)  # fmt: skip
@option.engine
@click.argument("which")
@click.argument("how")
@_event
def as_model(session: Session, engine: str, which: str, how: str, **rest: Any) -> None:
    """Note that ENGINE is as its model again where deviation WHICH was, and HOW that was done."""
    _note(session, engine, lambda of: noting.as_model_again(noting.deviations_of(of.record), which, how), **rest)


@_note_of(
    "A setting changed away from a service.",
    'docgen note setting 017 low-speed-turns "1 3/8 turn"',
)  # fmt: skip
@option.engine
@click.argument("name")
@click.argument("value")
@_event
def setting(session: Session, engine: str, name: str, value: str, **rest: Any) -> None:
    """Note that setting NAME of ENGINE is VALUE now."""
    _note(session, engine, lambda of: noting.set_to(of.model, name, value), **rest)


@_note_of("Another keeper.", 'docgen note keeper 017 "Ada Fenn"')
@option.engine
@click.argument("keeper")
@_event
def keeper(session: Session, engine: str, keeper: str, **rest: Any) -> None:
    """Note that ENGINE is kept by KEEPER from now on."""
    _note(session, engine, lambda of: noting.kept_by(of.state, keeper), **rest)


@_note_of(
    "This engine's own interval for a job.",
    'docgen note interval 017 clutch-service --hours "8 h" --why "Wet track all season"',
)  # fmt: skip
@option.engine
@click.argument("job", shell_complete=option.job_names)
@click.option("--hours", help='As in "8 h".')
@click.option("--months", help="Calendar months.")
@click.option("--meetings", help="Race meetings.")
@click.option("--why", help="Why it differs from its model's.")
@_event
def interval(
    session: Session, engine: str, job: str, hours: str | None, months: str | None, meetings: str | None,
    why: str | None, **rest: Any,
) -> None:  # fmt: skip
    """Note that JOB is due on ENGINE after so many hours, months or meetings, whichever comes first."""
    counts = {"hours": hours, "months": months, "meetings": meetings}
    _note(session, engine, lambda of: noting.every(of.folder, job, counts, why), **rest)


def _list(
    session: Session, engine: str, nothing: str, rows: Callable[[EngineRecord, EngineState], list[str]]
) -> None:
    (record,) = engines_named(session.read(), [engine])
    click.echo("\n".join(rows(record, state_of(record, date.max))) or nothing)


def _full(which: str, state: EngineState) -> str:
    """A finding's digest, from its first digits and what stands behind the stroke in the list."""
    digits, stroke, number = which.lower().partition("/")
    meant = {f.digest for f in state.findings if f.digest.startswith(digits) and f.digest[64:] == stroke + number}
    return meant.pop() if len(meant) == 1 and len(digits) >= noting.LEAST else which


def _note(
    session: Session, engine: str, made: Made, day: date, by: str | None, accepted: tuple[str, ...], yes: bool
) -> None:
    folder = session.read([engine])
    (record,) = engines_named(folder, [engine])
    sound(folder, engine)
    model = folder.models[record.engine.model].value
    event = made(Subject(folder, record, model, state_of(record, date.max)))
    event |= {"date": day.isoformat()} | ({"by": by} if by else {})
    if unknown := names_unknown(folder, engine, event):
        raise Refused(unknown[0].name, unknown[0].message, unknown[0].hint)
    said = [*said_of_day(record, day, today()), *said_again(record.log, event)]
    click.echo("\n".join((f"engine {engine}, {day}: {event['event']}", *_lines(event), *said_lines(tuple(said)))))
    confirm(said, accepted, yes)
    say_filed(session.root, file_event(session.root, engine, event))


def _lines(event: dict[str, Any], under: str = "") -> list[str]:
    rows = []
    for key, value in event.items():
        if isinstance(value, dict):
            rows += _lines(value, f"{under}{key}.")
        elif key not in ("event", "date"):
            rows.append(f"  {under}{key}: {value}")
    return rows
