"""Striking out what was filed twice, or what never was; a move between two engines in both logs."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from functools import partial
from pathlib import Path

from docgen.club.folder import Folder
from docgen.club.log import Held
from docgen.club.moves import fitted_at_last
from docgen.club.schema.event import ComponentMoved
from docgen.returns.correcting import corrected, correction_in
from docgen.returns.filing import Filed, append_to, file_event, in_both


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
