"""A day's running as members say it: ``3 x 12 min``, ``36``, ``12+10+11``, ``1.2 h``."""

import re
from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Any

from docgen.club.problem import close_name
from docgen.club.schema.club import Club
from docgen.returns.diagnostic import Refused
from docgen.trade.quantity import Quantity, QuantityError, parse_quantity

FACTS = ("meeting", "peak_speed", "peak_temperature", "air", "needles", "fuel", "batch", "note", "by")
"""What may be said of a day's running besides how long it was."""
_DIMENSIONS = {"peak_speed": ("speed", "km/h"), "peak_temperature": ("temperature", "degC")}
_NUMBER = r"\d{1,4}(?:[.,]\d{1,4})?"
_TIMES = re.compile(rf"(?P<count>\d{{1,2}})\s*[x×*]\s*(?P<each>{_NUMBER})\s*(?:min|m)?", re.I | re.A)
_SUM = re.compile(rf"(?P<sum>{_NUMBER}(?:\s*\+\s*{_NUMBER})+)\s*(?:min|m)?", re.I | re.A)
_HOURS = re.compile(rf"(?P<hours>{_NUMBER})\s*(?:h|hours?)(?:\s*(?P<and>\d{{1,2}})\s*min)?", re.I | re.A)
_MINUTES = re.compile(rf"(?P<minutes>{_NUMBER})\s*(?:min|minutes?)", re.I | re.A)
_BARE = re.compile(r"(?P<minutes>[1-9]\d{0,2})", re.A)
EXAMPLE = "write how long, in minutes, as in 3 x 12, 36 or 12+10+11; hours as in 1.2 h"


@dataclass(frozen=True)
class Ran:
    """How long an engine ran, and in which sessions where there were several."""

    hours: Quantity
    sessions: str = ""

    def __str__(self) -> str:
        return f"{self.hours} ({self.sessions})" if self.sessions else str(self.hours)


def read_time(text: str) -> Ran:
    """How long, from what a member writes; a comma counts as the decimal point where a unit stands.

    Errors: Refused ``not-a-time``, ``decimal-comma``, ``no-running``.

    >>> print(read_time("3x12"), "|", read_time("12+10+11 min"), "|", read_time("1 h 5 min"), "|", read_time("36"))
    36 min (3 x 12 min) | 33 min (12 + 10 + 11 min) | 65 min | 36 min
    """
    for form in (_TIMES, _SUM, _HOURS, _MINUTES, _BARE):
        match = form.fullmatch(text.strip())
        if match:
            ran = _ran(match.groupdict())
            if not ran.hours.value > 0:
                raise Refused("no-running", "the engine did not run", EXAMPLE)
            return ran
    if re.search(r"\d\s*,\s*\d", text):
        hint = "write sessions as in 12+10+11, and the unit behind a decimal figure, as in 1,2 h"
        raise Refused("decimal-comma", f'"{text}" may be a decimal figure or two sessions', hint)
    raise Refused("not-a-time", f'"{text}" is no time that an engine ran', EXAMPLE)


def _ran(given: Mapping[str, str | None]) -> Ran:
    found = {key: text.replace(",", ".") if text else text for key, text in given.items()}
    if count := found.get("count"):
        each = str(found["each"])
        return Ran(Quantity(Decimal(count) * Decimal(each), "min"), f"{count} x {each} min" if count != "1" else "")
    if terms := found.get("sum"):
        each_one = [term.strip() for term in terms.split("+")]
        return Ran(Quantity(sum(map(Decimal, each_one), Decimal(0)), "min"), f"{' + '.join(each_one)} min")
    if hours := found.get("hours"):
        more = found.get("and")
        return Ran(Quantity(Decimal(hours) * 60 + Decimal(more), "min") if more else Quantity(Decimal(hours), "h"))
    return Ran(Quantity(Decimal(str(found["minutes"])), "min"))


def read_words(words: str, engines: Collection[str]) -> list[tuple[str, Ran]]:
    """Engines and times as typed in one line: each time is for the engines before it, back to the time before.

    Errors: Refused ``no-engine``, ``no-time``, ``twice``, ``unknown-engine`` and those of :func:`read_time`.

    >>> [(engine, str(ran)) for engine, ran in read_words("017 021 3 x 12 min 12 36", {"017", "021", "12"})]
    [('017', '36 min (3 x 12 min)'), ('021', '36 min (3 x 12 min)'), ('12', '36 min')]
    """
    found: list[tuple[str, Ran]] = []
    waiting: list[str] = []
    for word in _words(words, engines):
        if word in engines:
            if word in waiting or any(word == engine for engine, _ in found):
                raise Refused("twice", f"engine {word} is named twice", "add its sessions up, as in 12+10+11")
            waiting.append(word)
        elif not waiting:
            close = close_name(word, engines)
            hint = f"did you mean engine {close}?" if close else "write the engine first: 017 3 x 12"
            raise Refused("no-engine", f'"{word}" stands before any engine', hint)
        else:
            ran = read_time(word)
            found += [(engine, ran) for engine in waiting]
            waiting = []
    if waiting or not found:
        last = f"how long did engine {waiting[-1]} run?" if waiting else "nothing was said"
        raise Refused("no-time", last, EXAMPLE)
    return found


def _words(text: str, engines: Collection[str]) -> Iterator[str]:
    """The engines and times in a line. A time that says what it is comes first, then engines, then bare minutes."""
    text = text.strip()
    while text:
        found = (re.match(rf"(?:{one.pattern})(?=\s|$)", text, re.I | re.A) for one in (_TIMES, _SUM, _HOURS, _MINUTES))
        match = next(filter(None, found), None)
        word = match.group() if match else text.split()[0]
        if match is None and word not in engines and not _BARE.fullmatch(word):
            if re.fullmatch(r"[A-Za-z0-9]{1,6}", word):
                close = close_name(word, engines)
                hint = f"did you mean engine {close}?" if close else EXAMPLE
                raise Refused("unknown-engine", f'"{word}" is neither an engine nor a time', hint)
            read_time(word)
        yield word
        text = text[len(word) :].strip()


def run_event(day: date, ran: Ran, facts: Mapping[str, str]) -> dict[str, Any]:
    """The running of one engine on one day as an event; facts that are empty are left out.

    Errors: Refused with the name of the unit's fault, ``field`` naming the fact.
    """
    event: dict[str, Any] = {"event": "run", "date": day.isoformat(), "hours": str(ran.hours)}
    if ran.sessions:
        event["sessions"] = ran.sessions
    for key in FACTS:
        value = " ".join(facts.get(key, "").split())
        if value:
            event[key] = _in_unit(key, value) if key in _DIMENSIONS else value
    return event


def _in_unit(key: str, value: str) -> str:
    dimension, usual = _DIMENSIONS[key]
    try:
        return str(parse_quantity(re.sub(r"(?<=\d),(?=\d)", ".", value), dimension))
    except QuantityError as error:
        hint = f"write it after the figure, as in {value} {usual}" if error.name == "no-unit" else error.hint
        raise Refused(error.name, error.message, hint, key) from None


def meeting_on(club: Club, day: date) -> str:
    """The round of the season that is on this day, empty where there is none or more than one."""
    rounds = [round_.round for round_ in club.season if round_.date == day]
    return rounds[0] if len(rounds) == 1 else ""
