"""A numbered component goes from engine to engine, or to the shelf.

A move between two engines stands in both logs. The first event says everything, the other engine included; the second
names the first. A kill between them leaves a first event that nobody answers: every command that reads the club says
so, and :func:`finish` writes the answer from what the first one says.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date
from functools import partial
from pathlib import Path
from typing import Any

from docgen.club.folder import EngineRecord, Folder
from docgen.club.log import Entry, Log
from docgen.club.moves import fitted_at_last, unfinished_moves, unfinished_strikes
from docgen.club.problem import close_name, did_you_mean
from docgen.club.schema.event import ComponentMoved, Correction
from docgen.club.store import StoreError
from docgen.job.components import components
from docgen.job.state import state_of
from docgen.returns.correcting import correction_in
from docgen.returns.diagnostic import Refused
from docgen.returns.filing import Filed, append_to, event_of, file_event, fit_or_refuse, in_both, whole_log

SHELF = "shelf"


@dataclass(frozen=True)
class Leg:
    """What changes on one engine: ``removed`` comes off (and goes ``to`` an engine), ``fitted`` goes on; each with the
    seal on it."""

    engine: str
    removed: str | None = None
    to: str | None = None
    fitted: str | None = None
    came_from: str | None = None
    removed_seal: str | None = None
    fitted_seal: str | None = None


@dataclass(frozen=True)
class Move:
    """One move of a component of the kind `part`: one or two legs, the one that gets it first."""

    part: str
    day: date
    legs: tuple[Leg, ...]
    by: str | None = None
    note: str | None = None
    before: str | None = None

    def event(self, leg: Leg, counterpart: str | None = None) -> dict[str, Any]:
        """The event of one leg as plain data."""
        return event_of(
            "component", self.day, by=self.by, component=self.part, removed=leg.removed, removed_seal=leg.removed_seal,
            to=leg.to, fitted=leg.fitted, fitted_seal=leg.fitted_seal, came_from=leg.came_from,
            before=self.before if leg.fitted and not leg.came_from else None, counterpart=counterpart, note=self.note,
        )  # fmt: skip


def places_of(folder: Folder, number: str) -> list[tuple[str, str]]:
    """Part and engine of each place where a component with this number is now."""
    return [
        (part, engine)
        for engine, record in sorted(folder.engines.items())
        for part, name in fitted_at_last(record).items()
        if name == number
    ]


def planned(
    folder: Folder, number: str, where: str, day: date, *, part: str | None = None, swap: bool = False,
    by: str | None = None, note: str | None = None, before: str | None = None,
) -> Move:  # fmt: skip
    """The move of component `number` to engine `where`, or to the shelf.

    part   : what it is (``carburettor``), needed when it is on no engine
    swap   : what it takes the place of goes where it came from, instead of to the shelf
    before : hours that a component new to the record had run before, as ``3.5 h``
    Errors: Refused ``unknown-component``, ``which-part``, ``there-already``, ``not-on-an-engine``, ``nothing-to-swap``,
    ``not-on-this-model``, ``hours-known``, ``moved-later``.
    """
    places = [place for place in places_of(folder, number) if part in (None, place[0])]
    if len(places) > 1:
        both = " and of ".join(f"the {kind} on engine {engine}" for kind, engine in places)
        raise Refused("which-part", f"{number} is the number of {both}", "say which one with --part")
    part, source = places[0] if places else (part or _known_as(folder, number), None)
    if before is not None and (part, number) in components(folder, date.max):
        raise Refused("hours-known", f"the record knows the hours of {part} {number}: they follow from what it ran",
                      "leave --hours out; docgen components shows them")  # fmt: skip
    if where == SHELF:
        if source is None:
            raise Refused("not-on-an-engine", f"{part} {number} is on no engine")
        legs: tuple[Leg, ...] = (Leg(source, removed=number),)
    else:
        legs = _between(folder, part, number, source, where, swap)
    move = Move(part, day, tuple(_with_seals(folder, part, leg) for leg in legs), by, note, before)
    for leg in legs:
        _no_later_move(folder.engines[leg.engine], part, day)
    return move


def _with_seals(folder: Folder, part: str, leg: Leg) -> Leg:
    """A leg with the seals on what comes off and on what goes on, as far as the record knows them."""
    off = _seal_on(folder, part, leg.engine) if leg.removed else None
    fitted = _seal_on(folder, part, leg.came_from) if leg.came_from else _seal_kept(folder, part, leg.fitted)
    return replace(leg, removed_seal=off, fitted_seal=fitted if leg.fitted else None)


def _seal_on(folder: Folder, part: str, engine: str) -> str | None:
    return state_of(folder.engines[engine], date.max).seals.get(part) if engine in folder.engines else None


def _seal_kept(folder: Folder, part: str, number: str | None) -> str | None:
    """The seal with which a component went to the shelf the last time."""
    events = [one for record in folder.engines.values() for one in record.log.of(ComponentMoved)]
    off = [one for one in events if one.component == part and one.removed == number and not one.to]
    return max(off, key=lambda one: one.date).removed_seal if number and off else None


def _known_as(folder: Folder, number: str) -> str:
    """What a component on the shelf is, from where it has been."""
    known = list(components(folder, date.max))
    parts = sorted({part for part, name in known if name == number})
    if len(parts) > 1:
        raise Refused("which-part", f"{number} has been a {' and a '.join(parts)}", "say which one with --part")
    if not parts:
        close = close_name(number, [name for _, name in known])
        hint = f'did you mean "{close}"?' if close else "for a new one say what it is: --part carburettor"
        raise Refused("unknown-component", f"the record knows no component {number}", hint)
    return parts[0]


def _between(
    folder: Folder, part: str, number: str, source: str | None, where: str, swap: bool
) -> tuple[Leg, ...]:  # fmt: skip
    record = folder.engines[where]
    model = folder.models.get(record.engine.model)
    if model is not None and part not in model.value.parts:
        raise Refused("not-on-this-model", f"{model.value.title} has no part called {part}",
                      did_you_mean(part, model.value.parts))  # fmt: skip
    if source == where:
        raise Refused("there-already", f"{part} {number} is on engine {where} already")
    off = fitted_at_last(record).get(part)
    if swap and (off is None or source is None):
        what = f"engine {where} has no numbered {part}" if off is None else f"{part} {number} is on no engine"
        raise Refused("nothing-to-swap", f"{what}, so nothing can be swapped", "leave --swap out")
    back = source if swap else None
    first = Leg(where, removed=off, to=back, fitted=number, came_from=source)
    if source is None:
        return (first,)
    second = Leg(source, removed=number, to=where, fitted=off if back else None, came_from=where if back else None)
    return first, second


def _no_later_move(record: EngineRecord, part: str, day: date) -> None:
    for _, event in record.log.happened:
        if isinstance(event, ComponentMoved) and event.component == part and event.date > day:
            raise Refused("moved-later", f"on {event.date} the {part} of engine {record.engine.engine} was moved again",
                          "a move is entered before the ones that came after it")  # fmt: skip


def file_move(root: Path, folder: Folder, move: Move) -> list[Filed]:
    """Write the events of a move, one in each engine's log.

    Errors: StoreError as :func:`docgen.returns.filing.file_event`, and ``moved-meanwhile`` when one of the engines no
    longer carries what the plan found on it; nothing is written then. ``half-written`` when the second log could not be
    written after the first.
    """
    for leg in move.legs:
        fit_or_refuse(leg.engine, move.event(leg))

    def halves() -> Iterator[Filed]:
        for leg in move.legs:
            _still_there(root, folder.engines[leg.engine], move.part, leg)
        first: Filed | None = None
        for leg in move.legs:
            filed = append_to(root, leg.engine, move.event(leg, first.digest if first else None))
            first = first or filed
            yield filed

    return in_both(root, [leg.engine for leg in move.legs], halves, "move", f" of the {move.part}")


def _still_there(root: Path, record: EngineRecord, part: str, leg: Leg) -> None:
    log = whole_log(root, leg.engine)
    if fitted_at_last(EngineRecord(record.engine, record.document, log)).get(part) != leg.removed:
        raise StoreError("moved-meanwhile", f"somebody has just moved the {part} of engine {leg.engine}",
                         "look where it is: docgen components")  # fmt: skip


def finish(root: Path, folder: Folder) -> list[Filed]:
    """Write the missing half of every move, or strike of one, that was cut off.

    Errors: as :func:`docgen.returns.filing.file_event`.
    """
    moves = [
        file_event(root, str(event.other), _missing_half(number, entry, event), partial(_answered, entry.digest))
        for number, entry, event in list(unfinished_moves(folder))
    ]
    return moves + [_struck(root, folder, entry, event) for entry, event in list(unfinished_strikes(folder))]


def _struck(root: Path, folder: Folder, entry: Entry, event: ComponentMoved) -> Filed:
    """Strike the second half of a move out, in the words in which the first half was."""
    there = folder.engines[str(event.other)].log.held
    struck = (one for one in there if one.event is None and one.entry.digest.startswith(str(event.counterpart)))
    by = next(one.correction for one in struck)
    assert by is not None
    assert isinstance(by.event, Correction)
    number, why = entry.document.path.split("/")[1], by.event.why
    gone = event_of("correction", by.event.date, by=by.event.by, corrects=entry.digest, why=why)
    return file_event(root, number, gone, partial(correction_in, event=gone))


def _missing_half(number: str, entry: Entry, event: ComponentMoved) -> dict[str, Any]:
    """What the other engine of a move should have in its log, from what engine `number` has."""
    other = str(event.other)
    leg = Leg(other)
    if event.came_from == other:
        leg = replace(leg, removed=event.fitted, to=number, removed_seal=event.fitted_seal)
    if event.to == other:
        leg = replace(leg, fitted=event.removed, came_from=number, fitted_seal=event.removed_seal)
    return Move(event.component, event.date, (leg,), event.by, event.note).event(leg, entry.digest)


def _answered(first: str, log: Log) -> Entry | None:
    for held in log.held:
        event = held.event
        if isinstance(event, ComponentMoved) and event.counterpart and first.startswith(event.counterpart):
            return held.entry
    return None
