"""What was filed wrongly is put right by a new event that names it, or struck out; the wrong one stays where it is.

A move between two engines is struck out in both logs.
"""

import copy
import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from functools import partial
from pathlib import Path
from typing import Any

from docgen.club.folder import Folder
from docgen.club.log import Entry, Held, Log
from docgen.club.moves import fitted_at_last
from docgen.club.problem import did_you_mean
from docgen.club.schema.event import KINDS, ComponentMoved, Correction, Joined
from docgen.job.job import Check
from docgen.returns.diagnostic import Refused
from docgen.returns.filing import Filed, append_to, event_of, file_event, in_both
from docgen.returns.writing import read_date

LEAST = 4
"""Fewest digits of a digest that name an event."""
AFTER_RUN = "checks after the first run"
READINGS = ("readings", "readings_before")


def event_named(log: Log, name: str, *, striking: bool = False) -> Held:
    """The event with this file name, or whose digest begins so; one that corrects another means that other.

    striking : whether it is to be struck out: only so a move between two engines is put right, in both logs at once
    Errors: Refused ``unknown-event``, ``too-short``, ``which-event``, ``not-to-correct``.
    """
    wanted = name.rpartition("/")[2].removesuffix(".yaml").rpartition("-")[2].lower()
    if len(wanted) < LEAST:
        raise Refused("too-short", f'"{name}" is too short to name an event', f"give at least {LEAST} of its digits")
    found = [held for held in log.held if held.entry.digest.startswith(wanted)]
    if not found:
        raise Refused("unknown-event", f'no event of this log is called "{name}"',
                      "docgen correct with the engine alone lists them")  # fmt: skip
    if len(found) > 1:
        files = " or ".join(held.entry.file for held in found)
        raise Refused("which-event", f'"{name}" may be {files}', "give more digits")
    held = found[0]
    if isinstance(held.entry.event, Correction):
        return event_named(log, held.entry.event.corrects, striking=striking)
    if isinstance(held.entry.event, Joined):
        raise Refused("not-to-correct", "an event that joins two branches says nothing that could be wrong")
    moved = held.entry.event if isinstance(held.entry.event, ComponentMoved) else None
    if moved is not None and (moved.other or moved.counterpart) and not striking:
        raise Refused("not-to-correct", "a move between two engines stands in both logs",
                      "strike it out with --strike, or move the component back with docgen move")  # fmt: skip
    return held


def plain(held: Held) -> dict[str, Any]:
    """What holds of an event now, as plain data; empty where it was struck out."""
    if held.event is None:
        return {}
    source = held.entry.document.data
    if held.correction is not None and isinstance(held.correction.document.data, dict):
        source = held.correction.document.data.get("instead")
    assert isinstance(source, dict)
    return {key: copy.deepcopy(value) for key, value in source.items() if key != "parents"}


def corrected(
    held: Held, changes: Mapping[str, str] | None, why: str, day: date, by: str | None = None
) -> dict[str, Any]:
    """The correction as plain data.

    changes : what is to hold instead, by key (``hours``, ``readings.plug-gap``; an empty value takes a key away;
              readings of several places are parted by a stroke); None when the event never was
    Errors: Refused ``nothing-changed``, ``struck-out``, ``unknown-key``, ``not-a-value``.
    """
    before, instead = plain(held), None
    if not before:
        raise Refused("struck-out", "this event was struck out before: nothing of it holds",
                      "file what is true as a new event")  # fmt: skip
    if changes is not None:
        instead = copy.deepcopy(before)
        for key, value in changes.items():
            _change(instead, key, value)
        if instead == before:
            raise Refused("nothing-changed", "that is what the record says already")
    return event_of("correction", day, by=by, corrects=held.entry.digest, why=why, instead=instead)


_FIGURE = re.compile(r"(-?\d+),(\d+)( .+)")


def _plain(value: str) -> str:
    """A date or a figure as the record writes it, from what a member writes."""
    if found := _FIGURE.fullmatch(value):
        return f"{found[1]}.{found[2]}{found[3]}"
    if re.fullmatch(r"\d{1,2}\.\s?\d{1,2}\.\s?(\d{4}|\d{2})", value):
        return str(read_date(value)[0])
    return value


def _change(data: dict[str, Any], key: str, value: str) -> None:
    first, _, rest = key.partition(".")
    kind = KINDS[data["event"]]
    known = [field.alias or name for name, field in kind.model_fields.items() if name not in ("event", "parents")]
    if first not in known:
        raise Refused("unknown-key", f'a {data["event"]} has no "{first}"', did_you_mean(first, known))
    if not rest:
        _set(data, first, _plain(value))
        return
    inner = data.setdefault(first, {})
    if not isinstance(inner, dict) or "." in rest:
        raise Refused("not-a-value", f'"{key}" is no place for a value', f"write {first}=..., or {first}.NAME=...")
    several = first in READINGS and "/" in value
    _set(inner, rest, [_plain(one.strip()) for one in value.split("/")] if several else _plain(value))
    if not inner:
        del data[first]


def _set(data: dict[str, Any], key: str, value: str | list[str]) -> None:
    if value:
        data[key] = value
    else:
        data.pop(key, None)


def correction_in(log: Log, event: Mapping[str, Any]) -> Entry | None:
    """The correction in the log that holds of the same event and says the same."""
    for held in log.held:
        by = held.correction
        if by is None or held.entry.digest != event["corrects"] or not isinstance(by.document.data, dict):
            continue
        if by.document.data.get("instead") == event.get("instead"):
            return by
    return None


def after_run_event(held: Held, checks: Iterable[Check], day: date, by: str, ran: str) -> dict[str, Any]:
    """The event that adds them: what was filed, with the checks done, on this day, by whom, after what running."""
    instead: dict[str, Any] = copy.deepcopy(plain(held))
    keys = [check.after_run_box for check in checks]
    instead["checked"] = {**instead.get("checked", {}), **dict.fromkeys(keys, "done")}
    told = {"on": day.isoformat(), "time": ran, "by": by}
    instead["first_run"] = {part: text for part, text in told.items() if text}
    blank = [row for row in instead.get("blank", []) if row not in keys]
    instead = {**instead, "blank": blank} if blank else {key: one for key, one in instead.items() if key != "blank"}
    return event_of("correction", day, corrects=held.entry.digest, why=AFTER_RUN, by=by, instead=instead)


def strike(root: Path, folder: Folder, number: str, held: Held, why: str, day: date, by: str | None) -> list[Filed]:
    """Say in the log of engine `number` that an event never was; of a move between two engines, in both logs.

    Errors: StoreError as :func:`docgen.returns.filing.file_event`; ``half-written`` where the second log could not be
    written after the first. Refused ``struck-out`` where it was struck out before.
    """
    said = corrected(held, None, why, day, by)
    halves = _halves(folder, number, held)
    if len(halves) < 2:
        return [file_event(root, number, said, partial(correction_in, event=said))]

    def struck() -> Iterator[Filed]:
        for engine, half in halves:
            gone = corrected(half, None, why, day, by)
            yield append_to(root, engine, gone, partial(correction_in, event=gone))

    return in_both(root, [engine for engine, _ in halves], struck, "correction")


def _halves(folder: Folder, number: str, held: Held) -> list[tuple[str, Held]]:
    """The events of a move that hold, with their engines: the one that says everything, then those that answer.

    Two copies of a folder may have written the very same first half, and an answer each: then one answer goes alone.
    """
    event = held.event
    if not isinstance(event, ComponentMoved) or not event.other or event.other not in folder.engines:
        return [(number, held)]
    others = folder.engines[event.other].log.held
    if not event.counterpart:
        return [(number, held), *((event.other, one) for one in _answers(others, held.entry.digest))]
    first = next((one for one in others if one.entry.digest.startswith(event.counterpart) and one.event), None)
    own = folder.engines[number].log.held
    if first is None or len(_answers(own, first.entry.digest)) > 1:
        return [(number, held)]
    return [(event.other, first), (number, held)]


def _answers(log: Sequence[Held], first: str) -> list[Held]:
    """The events that hold and answer the first half of a move."""
    moved = ((one, one.event) for one in log if isinstance(one.event, ComponentMoved))
    return [one for one, event in moved if isinstance(event, ComponentMoved) and event.counterpart
            and first.startswith(event.counterpart)]  # fmt: skip


@dataclass(frozen=True)
class Claim:
    """The move by which an engine came to bear a component that another one bears too."""

    part: str
    name: str
    engine: str
    held: Held


def claims(folder: Folder) -> Iterator[list[Claim]]:
    """For each component that is on several engines at once, the moves that put it there, where those are several."""
    places: dict[tuple[str, str], list[str]] = {}
    for engine, record in sorted(folder.engines.items()):
        for part, name in fitted_at_last(record).items():
            places.setdefault((part, name), []).append(engine)
    for (part, name), engines in sorted(places.items()):
        found = [claim for engine in engines if (claim := _claim(folder, part, name, engine)) is not None]
        if len(engines) > 1 and len(found) > 1:
            yield found


def _claim(folder: Folder, part: str, name: str, engine: str) -> Claim | None:
    log = folder.engines[engine].log
    last = next((digest for digest, event in reversed(log.happened) if isinstance(event, ComponentMoved)
                 and event.component == part and event.fitted == name), None)  # fmt: skip
    held = next((one for one in log.held if one.entry.digest == last), None)
    return Claim(part, name, engine, held) if held is not None else None
