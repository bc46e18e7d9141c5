"""What is due on an engine, as plain data that holds until its record changes: later it makes the lines of that day.

Of what :mod:`docgen.plan.due` finds, three things follow from the day: how much of an interval of months is used up,
which rounds are still to come, and how long nothing was entered. These are worked out anew; all else is kept.
"""

from collections.abc import Iterable, Iterator
from datetime import date
from fractions import Fraction
from typing import Any

from docgen.club.folder import EngineRecord, Folder
from docgen.club.schema.event import Run
from docgen.club.words import Words
from docgen.plan.due import DueLine, Heading, Quiet, line_of, quiet_since
from docgen.plan.reasons import Dated, Reason, Scale, by_date
from docgen.plan.season import ahead, coming_rounds


def outlook(folder: Folder, record: EngineRecord, lines: list[DueLine], on: date) -> Any:
    """What is due on an engine, and from which day on that holds; None where its record goes on after the day."""
    if any(event.date > on for _, event in record.log.happened) or record.engine.received > on:
        return None
    rounds = coming_rounds(folder.club.value, on)
    runs = [event.date for event in record.log.of(Run)]
    told = [
        [[getattr(line, name) for name in Heading._fields], [_plain(one, rounds) for one in line.every]]
        for line in lines
    ]
    return {"on": f"{on}", "since": f"{max(runs, default=record.engine.received)}", "ever": bool(runs), "lines": told}


def _plain(reason: Reason, rounds: list[Any]) -> list[Any]:
    if reason.dated is not None:
        return [f"{reason.dated.day}", reason.dated.months, reason.dated.by_then]
    before = rounds.index(reason.before) if reason.before is not None else None
    return [reason.state, reason.text, reason.share, before, reason.scale is not None]


def lines_on(folder: Folder, kept: Iterable[Any], on: date) -> Iterator[DueLine]:
    """The lines of outlooks on a day on which they hold. For bars (`every.scale`) they are not good enough."""
    before, w = ahead(folder.club.value, on, None), Words.speaking(folder.club.value.language)
    no_bar = Scale("hours", None, Fraction(0), before)
    for told in kept:
        for heading, reasons in told["lines"]:
            found = []
            for one in reasons:
                if len(one) == len(Dated._fields):
                    found.append(by_date(Dated(date.fromisoformat(one[0]), one[1], one[2]), before, w))
                else:
                    state, text, share, place, bar = one
                    round_ = before.at(place) if place is not None else None
                    found.append(Reason(state, text, share, round_, no_bar if bar else None))
            yield line_of(Heading(*heading), found)


def quiet_on(folder: Folder, number: str, told: Any, on: date) -> Iterator[Quiet]:
    """The engine of an outlook, where nobody entered any running for months."""
    yield from quiet_since(folder, number, date.fromisoformat(told["since"]), told["ever"], on)
