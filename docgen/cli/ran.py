"""Enter a day's running."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path

import click

from docgen.cli import _options as option
from docgen.cli._filing import asked, say_filed, settled
from docgen.cli._saying import give_up, report
from docgen.cli.frame import Session
from docgen.club.folder import Folder
from docgen.club.log import Entry
from docgen.club.problem import Problem, counted
from docgen.club.schema.event import Run
from docgen.club.store import StoreError
from docgen.desk.choosing import sound
from docgen.desk.clock import today
from docgen.desk.filing import not_written
from docgen.desk.system import given_file
from docgen.job import wording
from docgen.job.state import state_of
from docgen.returns.checks import said_of_day, said_of_running
from docgen.returns.diagnostic import Said
from docgen.returns.filing import file_event, fit_or_refuse, never, running_in
from docgen.returns.report import said_lines
from docgen.returns.running import meeting_on, read_words, run_event
from docgen.returns.table import MAX_BYTES, Row, read_table


@dataclass(frozen=True)
class Wanted:
    """One engine's running, what is said against it, and where it stands already."""

    row: Row
    run: Run
    said: tuple[Said, ...]
    there: Entry | None


@option.command("Enter a day's running.", writes=True)
@click.argument("words", nargs=-1, shell_complete=option.engine_names)
@click.option("--from", "table", type=click.Path(path_type=Path), help="A table in CSV instead of words.")
@option.day("The day it ran.", "--on", "day")
@click.option("--meeting", default="", help="Where.  [default: the season's round of that day]")
@click.option("--peak-speed", default="", help="With its unit, as in 104 km/h.")
@click.option("--peak-temperature", default="", help="With its unit, as in 182 degC.")
@click.option("--air", default="", help="The air, as in: 14 degC, dry.")
@click.option("--needles", default="", help="Needle settings, as in: L 1.50, H 0.25.")
@click.option("--fuel", default="", help="Fuel to oil, as in 25:1.")
@click.option("--batch", default="", help="The batch of the fuel.")
@click.option("--note", default="", help="Anything else.")
@option.by
@click.option("--again", is_flag=True, help="Enter the same time again: it ran twice as long that day.")
@option.accept
@option.yes
def command(
    session: Session, /, words: tuple[str, ...], table: Path | None, day: date, again: bool, accepted: tuple[str, ...],
    yes: bool, **facts: str | None,
) -> None:  # fmt: skip
    """Enter how long engines ran: an engine or several, then the time.

    \b
    docgen ran 017 3 x 12              three sessions of 12 minutes
    docgen ran 017 021 36 023 12+10    two engines 36 minutes each, a third 22
    docgen ran --from sunday.csv       a table with the columns engine, date, ran, and any of
                                       meeting, peak_speed, peak_temperature, air, needles,
                                       fuel, batch, note, by

    It shows what it understood before anything is written.
    """
    if words and table is not None:
        raise click.UsageError("give words or a table, not both: docgen ran 017 3 x 12, or docgen ran --from TABLE")
    if not words and table is None:
        raise click.UsageError("say which engines ran and how long, as in: docgen ran 017 3 x 12; or --from a table")
    folder = session.read(None if table is not None else " ".join(words).split())
    told = {key: value or "" for key, value in facts.items()}
    rows, problems = _typed(folder, words, day, told) if table is None else _tabled(folder, table, day, told)
    for number in sorted({row.engine for row in rows}):
        sound(folder, number)
    wanted = [_wanted(folder, row, again) for row in rows]
    for one in wanted:
        click.echo("\n".join(_lines(folder, one)))
    report(problems)
    good = [one for one in wanted if not any(said.weight == "refused" for said in one.said)]
    faulty = len(wanted) - len(good) + len({(p.path, p.line) for p in problems})
    if faulty and not (yes and table is not None and good):
        give_up(_faulty(faulty, table is not None and bool(good)))
    new = [one for one in good if one.there is None]
    if not new:
        click.echo("Nothing was written.")
    elif not _agreed(new, accepted, yes):
        give_up("Nothing was written.")
    failed = [one for one in new if not _file(session.root, one, again)]
    if failed and len(failed) == len(new):
        click.echo("Nothing was written.")
    if faulty or failed:
        raise click.exceptions.Exit(1)


def _faulty(rows: int, others: bool) -> str:
    if not others:
        return "Nothing was written."
    return f"Nothing was written: mend the {counted(rows, 'faulty row')}, or file the others with --yes."


def _agreed(new: list[Wanted], accepted: Sequence[str], yes: bool) -> bool:
    question = f"Write {'this' if len(new) == 1 else f'these {len(new)}'} into the record?"
    return settled([said for one in new for said in one.said], accepted, yes) and (yes or asked(question))


def _typed(folder: Folder, words: Sequence[str], day: date, facts: dict[str, str]) -> tuple[list[Row], list[Problem]]:
    facts["meeting"] = facts["meeting"] or meeting_on(folder.club.value, day)
    found = read_words(" ".join(words), {*folder.engines, *folder.unread})
    return [Row(engine, day, run_event(day, ran, facts)) for engine, ran in found], []


def _tabled(folder: Folder, table: Path, day: date, facts: dict[str, str]) -> tuple[list[Row], list[Problem]]:
    return read_table(str(table), given_file(table, MAX_BYTES), folder, day, facts)


def _wanted(folder: Folder, row: Row, again: bool) -> Wanted:
    record = folder.engines[row.engine]
    run = fit_or_refuse(row.engine, row.event).event
    assert isinstance(run, Run)
    said = (*said_of_day(record, row.day, today()), *said_of_running(record, run.hours, row.day))
    return Wanted(row, run, said, None if again else running_in(record.log, run))


def _lines(folder: Folder, one: Wanted) -> Iterator[str]:
    run = one.run
    ran = wording.quantity(run.hours) + (f" ({run.sessions})" if run.sessions else "")
    line = f", line {one.row.line}" if one.row.line else ""
    yield f"{one.row.engine}  {run.date}  ran {ran}" + (f" at {run.meeting}" if run.meeting else "") + line
    if one.there is not None:
        yield f"  already filed, as {one.there.file}; --again enters it a second time"
        return
    state = state_of(folder.engines[one.row.engine], run.date)
    after = wording.hours(state.hours + run.hours.exactly("h"))
    if state.hours_known:
        yield f"  {wording.hours(state.hours)} before, {after} after"
    else:
        yield f"  {after} since the record began; what it ran before is not known"
    facts = [f"{key.replace('_', ' ')} {_fact(run, key)}" for key in _SHOWN if getattr(run, key)]
    if facts:
        yield f"  {'; '.join(facts)}"
    yield from said_lines(one.said)


_SHOWN = ("peak_speed", "peak_temperature", "air", "needles", "fuel", "batch", "note", "by")


def _fact(run: Run, key: str) -> str:
    value = getattr(run, key)
    return value if isinstance(value, str) else wording.quantity(value)


def _file(root: Path, one: Wanted, again: bool) -> bool:
    already = never if again else lambda log: running_in(log, one.run)
    try:
        say_filed(root, file_event(root, one.row.engine, one.row.event, already))
    except StoreError as error:
        click.echo("\n".join(said_lines((not_written(error),))))
        return False
    return True

