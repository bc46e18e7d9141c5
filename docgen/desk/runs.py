"""A day's running, typed in words or from a table, written into the logs of the engines that ran."""

from collections.abc import Iterator, Sequence
from datetime import date
from pathlib import Path
from typing import NamedTuple

from docgen.club.folder import Folder
from docgen.club.log import Entry
from docgen.club.problem import counted, listing
from docgen.club.schema.event import Run
from docgen.club.store import StoreError
from docgen.desk.asking import Asks, Unwritten, settled, tell
from docgen.desk.choosing import sound
from docgen.desk.clock import today
from docgen.desk.filing import not_written
from docgen.desk.system import given_file
from docgen.job import wording
from docgen.job.state import state_of
from docgen.returns.checks import said_of_day, said_of_running
from docgen.returns.diagnostic import Said
from docgen.returns.filing import Filed, file_event, fit_or_refuse, running_in
from docgen.returns.report import said_lines
from docgen.returns.running import meeting_on, read_words, run_event
from docgen.returns.table import MAX_BYTES, TableRow, read_table


class Running(NamedTuple):
    """One engine's running, what is said against it, and where it stands already."""

    row: TableRow
    run: Run
    said: tuple[Said, ...]
    there: Entry | None

    @property
    def refused(self) -> bool:
        """Whether it cannot be filed."""
        return any(one.weight == "refused" for one in self.said)


def enter_running(
    who: Asks, folder: Folder, running: str | Path, on: date, *, again: bool = False, **facts: str | None
) -> list[Filed]:
    """Write how long engines ran.

    running : engines and times in words, as in ``017 3 x 12``, or a table's file
    again   : write the same time once more: it ran twice as long that day
    facts   : meeting, peak_speed, peak_temperature, air, needles, fuel, batch, note, by
    Errors: Faulty, Unclear, Refused; Unwritten where a row is not written, though others may be.
    """
    table = isinstance(running, Path)
    given = {key: value or "" for key, value in facts.items()}
    rows, problems = (
        read_table(str(running), given_file(running, MAX_BYTES), folder, on, given)
        if isinstance(running, Path) else (list(_typed(folder, running, on, given)), [])
    )  # fmt: skip
    for number in sorted({row.engine for row in rows}):
        sound(folder, number)
    found = [_understood(folder, row, again) for row in rows]
    for one in found:
        who.say("\n".join(_lines(folder, one)))
    if problems:
        who.warn(listing(problems))
    good = [one for one in found if not one.refused]
    faulty = len(found) - len(good) + len({(p.path, p.line) for p in problems})
    if faulty and not (who.quiet and table and good):
        others = f": mend the {counted(faulty, 'faulty row')}, or file the others with --yes" if table and good else ""
        raise Unwritten(f"Nothing was written{others}.")
    return _written(who, folder, [one for one in good if one.there is None], again, bool(faulty))


def _written(who: Asks, folder: Folder, new: Sequence[Running], again: bool, faulty: bool) -> list[Filed]:
    if not new:
        who.say("Nothing was written.")
    elif not settled(who, [said for one in new for said in one.said]) or not (
        who.quiet or who.asked(f"Write {'this' if len(new) == 1 else f'these {len(new)}'} into the record?")
    ):
        raise Unwritten
    filed: list[Filed] = []
    for one in new:
        already = None if again else lambda log, run=one.run: running_in(log, run)
        try:
            filed += tell(who, folder.root, [file_event(folder.root, one.row.engine, one.row.event, already)])
        except StoreError as error:
            who.say("\n".join(said_lines((not_written(error),))))
    if new and not filed:
        raise Unwritten
    if faulty or len(filed) < len(new):
        raise Unwritten("")
    return filed


def _typed(folder: Folder, words: str, on: date, facts: dict[str, str]) -> Iterator[TableRow]:
    facts["meeting"] = facts.get("meeting") or meeting_on(folder.club.value, on)
    for engine, time in read_words(words, {*folder.engines, *folder.unread}):
        yield TableRow(engine, on, run_event(on, time, facts))


def _understood(folder: Folder, row: TableRow, again: bool) -> Running:
    record = folder.engines[row.engine]
    run = fit_or_refuse(row.engine, row.event).event
    assert isinstance(run, Run)
    said = (*said_of_day(record, row.day, today()), *said_of_running(record, run.hours, row.day))
    return Running(row, run, said, None if again else running_in(record.log, run))


def _lines(folder: Folder, one: Running) -> Iterator[str]:
    run = one.run
    took = wording.quantity(run.hours) + (f" ({run.sessions})" if run.sessions else "")
    line = f", line {one.row.line}" if one.row.line else ""
    yield f"{one.row.engine}  {run.date}  ran {took}" + (f" at {run.meeting}" if run.meeting else "") + line
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
