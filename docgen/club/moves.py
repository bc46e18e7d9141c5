"""Whether the engines' logs agree on where each numbered component is."""

from collections.abc import Iterator

from docgen.club.folder import EngineRecord, Folder
from docgen.club.log import Entry
from docgen.club.problem import Problem
from docgen.club.schema.event import ComponentMoved


def move_problems(folder: Folder) -> list[Problem]:
    """Moves that only one of the two engines knows of, and components that are on two engines at once."""
    problems: list[Problem] = []
    unsure: set[tuple[str, str]] = set()
    for number, entry, event in unfinished_moves(folder):
        unsure |= {(event.component, name) for name in (event.removed, event.fitted) if name}
        other = str(event.other)
        hint = "docgen move --finish writes what is missing"
        message = f"this move between engines {number} and {other} was cut off: the log of {other} does not know of it"
        problems.append(entry.document.problem((), "unfinished-move", message, hint))
        message = f"a move between engines {number} and {other} was cut off: {entry.document.path} is its one half"
        problems.append(Problem(f"engines/{other}/log", 0, 0, "unfinished-move", message, hint))
    for entry, event in unfinished_strikes(folder):
        unsure |= {(event.component, name) for name in (event.removed, event.fitted) if name}
        message = f"the move that this event answers was struck out in the log of {event.other}, and here it was not"
        hint = "docgen move --finish strikes it out too"
        problems.append(entry.document.problem((), "unfinished-move", message, hint))
    places: dict[tuple[str, str], list[EngineRecord]] = {}
    for _, record in sorted(folder.engines.items()):
        for part, name in fitted_at_last(record).items():
            places.setdefault((part, name), []).append(record)
    for (part, name), records in sorted(places.items()):
        if len(records) > 1 and (part, name) not in unsure:
            problems += _twice(part, name, records)
    return problems


def unfinished_moves(folder: Folder) -> Iterator[tuple[str, Entry, ComponentMoved]]:
    """Engine, entry and event of each move between two engines that stands in one of their logs only."""
    for number, record in sorted(folder.engines.items()):
        for held in record.log.held:
            event = held.event
            if not isinstance(event, ComponentMoved) or event.counterpart or not event.other:
                continue
            there = folder.engines.get(event.other)
            if there is not None and not any(
                isinstance(e, ComponentMoved) and e.counterpart and held.entry.digest.startswith(e.counterpart)
                for e in there.log.events
            ):
                yield number, held.entry, event


def unfinished_strikes(folder: Folder) -> Iterator[tuple[Entry, ComponentMoved]]:
    """Entry and event of each half of a move of which the other half was struck out."""
    for _, record in sorted(folder.engines.items()):
        for held in record.log.held:
            event = held.event
            if not isinstance(event, ComponentMoved) or not event.counterpart or event.other not in folder.engines:
                continue
            there = folder.engines[event.other].log.held
            if any(one.event is None and one.entry.digest.startswith(event.counterpart) for one in there):
                yield held.entry, event


def fitted_at_last(record: EngineRecord) -> dict[str, str]:
    """The numbered components on an engine after everything in its log."""
    fitted = dict(record.engine.components)
    for _, event in record.log.happened:
        if not isinstance(event, ComponentMoved):
            continue
        if event.fitted:
            fitted[event.component] = event.fitted
        else:
            fitted.pop(event.component, None)
    return fitted


def _twice(part: str, name: str, records: list[EngineRecord]) -> Iterator[Problem]:
    numbers = " and ".join(record.engine.engine for record in records)
    message = f"{part} {name} is on engines {numbers} at once"
    hint = "docgen join asks which move stands; two that bear the same number need numbers of their own"
    for record in records:
        known = ("components", part) if part in record.engine.components else ()
        yield record.document.problem(known, "component-twice", message, hint)
