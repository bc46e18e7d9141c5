"""Put an event right that was filed wrongly."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import date
from typing import Any

import click

from docgen.cli import _options as option
from docgen.cli._filing import asked, changes_of, say_filed
from docgen.cli._saying import give_up
from docgen.cli.frame import Session
from docgen.club.folder import EngineRecord
from docgen.club.log import Held
from docgen.desk.choosing import engines_named, sound
from docgen.returns.correcting import corrected, correction_in, event_named, plain
from docgen.returns.diagnostic import Refused
from docgen.returns.filing import file_event, names_unknown
from docgen.returns.striking import strike as strike_out

DIGITS = 8
"""Of a digest, shown where events are listed."""


@option.command("Put an event right that was filed wrongly.", writes=True)
@option.engine
@click.argument("event", required=False)
@click.argument("changes", nargs=-1, metavar="[KEY=VALUE]...")
@click.option("--strike", is_flag=True, help="The event never was.")
@click.option("--why", default="", help="What was wrong.")
@option.day("The day of the correction.", "--on", "day")
@option.by
@option.yes
def command(
    session: Session, engine: str, event: str | None, changes: tuple[str, ...], strike: bool, why: str, day: date,
    by: str | None, yes: bool,
) -> None:  # fmt: skip
    """Say what holds instead of EVENT in the log of ENGINE, or list the events when none is named.

    \b
    docgen correct 017                                    lists the events
    docgen correct 017 4cb500fc hours="12 min" --why "hours typed for minutes"
    docgen correct 017 6cd59a38 readings.plug-gap="0.60 mm" --why "misread"
    docgen correct 017 4cb500fc --strike --why "it was engine 021"

    A new event names the wrong one. The wrong one stays where it is, and the record shows both.
    """
    folder = session.read()
    (record,) = engines_named(folder, [engine])
    sound(folder, engine, but="component-twice" if strike else "")
    if event is None:
        click.echo("\n".join(_events(record)) or "There is no event yet.")
        return
    if bool(changes) == strike:
        raise click.UsageError('say what holds instead, as in hours="12 min", or --strike when the event never was')
    if not why.strip() and yes:
        raise click.UsageError('say what was wrong, as in --why "hours typed for minutes"')
    held = event_named(record.log, event, striking=strike)
    said = corrected(held, None if strike else changes_of(changes, 'hours="12 min"'), why.strip(), day, by)
    if "instead" in said and (unknown := names_unknown(folder, engine, said["instead"])):
        raise Refused(unknown[0].name, unknown[0].message, unknown[0].hint)
    click.echo("\n".join(_shown(held, said.get("instead"))))
    if not why.strip():
        said["why"] = _why()
    if not yes and not asked("Write this correction into the record?"):
        give_up("Nothing was written.")
    if strike:
        say_filed(session.root, *strike_out(session.root, folder, engine, held, str(said["why"]), day, by))
    else:
        say_filed(session.root, file_event(session.root, engine, said, lambda log: correction_in(log, said)))


def _why() -> str:
    """What was wrong, asked for until something is said."""
    try:
        return str(click.prompt("What was wrong, as in: hours typed for minutes", value_proc=_said)).strip()
    except click.Abort:
        click.echo()
        give_up("Nothing was written.")


def _said(text: str) -> str:
    if not text.strip():
        raise click.UsageError("say it in a few words")
    return text


def _events(record: EngineRecord) -> Iterator[str]:
    for held in record.log.held:
        entry = held.entry
        state = "" if held.correction is None else ", struck out" if held.event is None else ", corrected"
        yield f"{entry.digest[:DIGITS]}  {entry.event.date}  {_words(entry.document.data)}{state}"


def _words(data: Any) -> str:
    said = {key: value for key, value in _flat(data) if key not in ("date", "parents", "event", "instead")}
    text = ", ".join(f"{key} {value}" for key, value in list(said.items())[:4])
    return f"{data['event']}: {text}" if text else str(data["event"])


def _shown(held: Held, instead: Mapping[str, Any] | None) -> Iterator[str]:
    yield held.entry.file
    if instead is None:
        yield "  is struck out: nothing of it holds"
        return
    before, after = dict(_flat(plain(held))), dict(_flat(instead))
    for key in dict.fromkeys((*before, *after)):
        if before.get(key) != after.get(key):
            yield f"  {key}: {before.get(key, '(nothing)')} -> {after.get(key, '(nothing)')}"


def _flat(data: Mapping[str, Any], under: str = "") -> Iterator[tuple[str, str]]:
    """Keys and values of plain data, inner keys behind a point."""
    for key, value in data.items():
        if isinstance(value, dict):
            yield from _flat(value, f"{under}{key}.")
        elif isinstance(value, list):
            yield f"{under}{key}", " / ".join(map(str, value))
        else:
            yield f"{under}{key}", str(value)
