"""What happened to an engine away from a sheet, noted in its record: findings, changes, its keeper, a rebuild."""

from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from datetime import date
from typing import Any, NamedTuple

from docgen.club.folder import EngineRecord, Folder
from docgen.club.schema.event import REBUILT
from docgen.club.schema.model import Model
from docgen.desk.asking import Asks, Unwritten, confirm, tell
from docgen.desk.choosing import engines_named, sound
from docgen.desk.clock import today
from docgen.job import wording
from docgen.job.state import EngineState, state_of
from docgen.plan.standing import standing
from docgen.returns import noting
from docgen.returns.checks import said_again, said_of_day
from docgen.returns.diagnostic import Refused, Said
from docgen.returns.filing import Filed, file_event, names_unknown
from docgen.returns.report import said_lines

DIGITS = 8
"""Of a digest, shown where events are listed."""


class Subject(NamedTuple):
    """What is noted of: an engine, as it stands."""

    folder: Folder
    record: EngineRecord
    model: Model
    state: EngineState


KINDS: Mapping[str, Callable[..., dict[str, Any]]] = {
    "finding": lambda of, text, part=None, calls=None: noting.found(of.folder, of.model, text, part, calls),
    "dealt-with": lambda of, which, how: noting.dealt_with(of.state, _full(which, of.state), how),
    "deviation": lambda of, item, what, why=None, now={}, left_out=False: (
        noting.deviates(of.model, item, what or "", why, now, left_out)
    ),
    "as-model": lambda of, which, how: noting.as_model_again(noting.deviations_of(of.record), which, how),
    "setting": lambda of, name, value: noting.set_to(of.model, name, value),
    "keeper": lambda of, keeper: noting.kept_by(of.state, keeper),
    "interval": lambda of, job, hours=None, months=None, meetings=None, why=None: (
        noting.every(of.folder, job, {"hours": hours, "months": months, "meetings": meetings}, why)
    ),
}
"""How the event of each kind is made, of the engine and what is given with it."""


def note(who: Asks, folder: Folder, kind: str, engine: str, on: date, by: str | None = None, **given: Any) -> Filed:
    """Write into an engine's record what somebody found or changed on a day.

    kind : of `KINDS`, which take what is given
    Errors: Unclear; Faulty, where the files that it needs have errors; Refused; Unwritten; StoreError.
    """
    (record,) = engines_named(folder, [engine])
    sound(folder, engine)
    model = folder.models[record.engine.model].value
    event = KINDS[kind](Subject(folder, record, model, state_of(record, date.max)), **given)
    event |= {"date": on.isoformat()} | ({"by": by} if by else {})
    refuse_unknown(folder, engine, event)
    said = [*said_of_day(record, on, today()), *said_again(record.log, event)]
    rows = (f"  {key}: {value}" for key, value in flat(event, ("event", "date")))
    confirm(who, (f"engine {engine}, {on}: {event['event']}", *rows), said)
    return tell(who, folder.root, [file_event(folder.root, engine, event)])[0]


def refuse_unknown(folder: Folder, engine: str, event: Mapping[str, Any]) -> None:
    """See that an event names what the engine's model has. Errors: Refused, StoreError."""
    if unknown := names_unknown(folder, engine, event):
        raise Refused(unknown[0].name, unknown[0].message, unknown[0].hint)


def flat(data: Mapping[str, Any], without: Collection[str] = (), under: str = "") -> Iterator[tuple[str, str]]:
    """Keys and values of plain data as they are shown, inner keys behind a point."""
    for key, value in data.items():
        if isinstance(value, dict):
            yield from flat(value, without, f"{under}{key}.")
        elif key not in without:
            yield f"{under}{key}", " / ".join(map(str, value)) if isinstance(value, list) else str(value)


def open_findings(folder: Folder, engine: str) -> list[str]:
    """The findings that are open, a line each, with the digits that name it first. Errors: Faulty, Unclear."""
    (record,) = engines_named(folder, [engine])
    return [
        f"{f.digest[:DIGITS] + f.digest[64:]}  {f.day}  {f.text}" + (f"  (calls for {f.calls})" if f.calls else "")
        for f in state_of(record, date.max).findings
    ]


def deviations(folder: Folder, engine: str) -> list[str]:
    """The deviations in force, a line each, with the digits that name it first. Errors: Faulty, Unclear."""
    (record,) = engines_named(folder, [engine])
    found = noting.deviations_of(record).items()
    return [f"{digest[:DIGITS]}  {one.date}  {one.item}: {one.what}" for digest, one in found]


def _full(which: str, state: EngineState) -> str:
    """A finding's digest, from its first digits and what stands behind the stroke in the list."""
    digits, stroke, number = which.lower().partition("/")
    meant = {f.digest for f in state.findings if f.digest.startswith(digits) and f.digest[64:] == stroke + number}
    return meant.pop() if len(meant) == 1 and len(digits) >= noting.LEAST else which


def note_rebuilt(
    who: Asks, folder: Folder, engine: str, day: date, on: date, by: str, approved_by: str, sheets: Sequence[str] = ()
) -> Filed:
    """Write that an engine was rebuilt, once every part of that is confirmed.

    day, on : when it was approved, and when that is filed
    sheets  : the numbers of those that show it
    Errors: as :func:`note`.
    """
    (record,) = engines_named(folder, [engine])
    sound(folder, engine)
    event: dict[str, Any] = {"event": "rebuilt", "date": day.isoformat(), "by": by, "approved_by": approved_by}
    event |= dict.fromkeys(REBUILT, "true") | ({"sheets": list(sheets)} if sheets else {})
    again = said_again(record.log, event)
    said = (*said_of_day(record, day, on), *_new_limits(folder, record, day), *again)
    if said:
        who.say("\n".join(said_lines(said)))
    if any(one.weight == "refused" for one in said):
        raise Unwritten
    if again and not who.asked(f"{again[0].name}: write it a second time?"):
        raise Unwritten
    for name, words in REBUILT.items():
        if not who.asked(f"Was it {words}?"):
            raise Unwritten(f"Nothing was written: an engine that was not {words} was not rebuilt ({name}).")
    return tell(who, folder.root, [file_event(folder.root, engine, event)])[0]


def _new_limits(folder: Folder, record: EngineRecord, on: date) -> Iterator[Said]:
    """Readings taken since the engine last ran that are outside the range of new parts."""
    one = standing(folder, record, on)
    for each in one.measured:
        last, new = each.readings[-1], each.limit.new
        if new is None or last.at.hours != one.state.hours or all(map(new.contains, last.values)):
            continue
        values = " / ".join(wording.quantity(value) for value in last.values)
        message = f"{each.name}, {values}, is outside the range of new parts, {wording.band(new)}"
        hint = "an engine is approved as rebuilt only to the limits of a new one"
        yield Said("refused", "not-to-new-limits", message, hint)
