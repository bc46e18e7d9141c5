"""What was done before a record begins, as members say it: ``clutch-hub new in September, 3 h ago; chain 6 h``."""

import csv
import io
import re
from collections.abc import Iterator
from datetime import date
from decimal import Decimal

from docgen.club.folder import Folder
from docgen.club.problem import close_name
from docgen.club.schema.engine import Before
from docgen.club.schema.model import Model
from docgen.club.uses import applies
from docgen.returns.diagnostic import Refused
from docgen.returns.writing import month_named, read_date
from docgen.trade.quantity import Quantity

EXAMPLE = "as in  chain 6 h; clutch-hub new in September, 3 h ago; POP October 2026"
_AGO = re.compile(r"(?<![\w.,])(\d{1,4}(?:[.,]\d{1,3})?)\s*(h|hours?|min|minutes?)\b(?:\s+ago)?", re.I | re.A)
_FILLING = frozenset({"new", "renewed", "last", "done", "in", "on", "at", "the", "ago", "since", "it", "was", "ran"})
_DAY = re.compile(r"\d{4}-\d{1,2}-\d{1,2}|\d{1,2}[./-]\s?\d{1,2}[./-]\s?\d{2,4}")
_MONTH = re.compile(r"(?P<year>\d{4})[-/.](?P<month>\d{1,2})|(?P<first>\d{1,2})[/.](?P<then>\d{4})")


def read_past(text: str, folder: Folder, model: Model, received: date) -> dict[str, Before]:
    """Jobs, parts and fasteners by name, with the day and the hours since.

    A month stands for its first day; one without a year is the last before `received`.

    Errors: Refused ``unknown-name``, ``several-names``, ``no-time``, ``twice``, and those of a date.
    """
    found: dict[str, Before] = {}
    for part in filter(None, (one.strip() for one in re.split(r";|\n", text))):
        name, before = _one(part, folder, model, received)
        if name in found:
            raise Refused("twice", f"{name} is named twice", "say once when it was")
        found[name] = before
    return found


def table_text(data: bytes) -> str:
    """The rows of a table with the columns what, when, hours, as :func:`read_past` takes them.

    Errors: Refused ``not-a-table``.
    """
    text = data.decode("utf-8-sig", "replace").replace("\r\n", "\n")
    mark = max(",;\t", key=text.partition("\n")[0].count)
    rows = [[cell.strip() for cell in row] for row in csv.reader(io.StringIO(text), delimiter=mark) if any(row)]
    if not rows or [head.lower() for head in rows[0]] != ["what", "when", "hours"]:
        raise Refused("not-a-table", "the first line has other heads", "write the columns what, when, hours")
    told = ([*row, "", ""][:3] for row in rows[1:])
    bare = re.compile(r"[0-9.,]+")
    return "; ".join(f"{what} {when} {ran}{' h' if bare.fullmatch(ran) else ''}".strip() for what, when, ran in told)


def _one(text: str, folder: Folder, model: Model, received: date) -> tuple[str, Before]:
    rest, ago = text, None
    if match := _AGO.search(rest):
        unit = "h" if match[2].lower().startswith("h") else "min"
        ago = Quantity(Decimal(match[1].replace(",", ".")), unit)
        rest = rest[: match.start()] + " " + rest[match.end() :]
    day, words = _day_in(rest, received)
    named = "-".join(word for word in words if word.casefold() not in _FILLING).strip("-")
    if day is None and ago is None:
        hint = f"write how long it has run since, or when that was, {EXAMPLE}"
        raise Refused("no-time", f'"{text}" does not say when', hint)
    return _name(text, named, folder, model), Before(on=day, ago=ago)


def _day_in(text: str, received: date) -> tuple[date | None, list[str]]:
    """The day that a text names, and its other words."""
    if match := _DAY.search(text):
        return read_date(match[0])[0], _words(text[: match.start()] + " " + text[match.end() :])
    if match := _MONTH.search(text):
        year, month = match["year"] or match["then"], match["month"] or match["first"]
        rest = _words(text[: match.start()] + " " + text[match.end() :])
        return read_date(f"{year}-{month}-1")[0], rest
    words = _words(text)
    for at, word in enumerate(words):
        month_ = month_named(word)
        if month_ is None:
            continue
        given = at + 1 < len(words) and re.fullmatch(r"\d{4}", words[at + 1])
        later = (month_ > received.month) if not given else False
        year_ = int(words[at + 1]) if given else received.year - later
        return date(year_, month_, 1), words[:at] + words[at + (2 if given else 1) :]
    return None, words


def _words(text: str) -> list[str]:
    return re.sub(r"[,:]", " ", text).split()


def _name(text: str, named: str, folder: Folder, model: Model) -> str:
    """The job, part or fastener that is meant: by its name, its code, or the words that it has alone."""
    plain = named.casefold()
    if named.upper() in folder.codes:
        return folder.codes[named.upper()]
    jobs = [name for name, read in folder.procedures.items() if applies(read.value, model)]
    items = [*model.parts, *model.fasteners]
    for known in (items, jobs, [*items, *jobs]):
        if plain in known:
            return plain
    renewed = re.search(r"\b(new|renewed)\b", text, re.I)
    known = items if renewed else [*jobs, *items]
    holding = list(_holding(plain, known))
    if len(holding) == 1:
        return holding[0]
    if holding:
        raise Refused("several-names", f'"{named}" may be {", ".join(holding[:8])}', "write one of them")
    if plain and (close := close_name(plain, known)):
        raise Refused("unknown-name", f'there is no job and no part "{named}"', f"did you mean {close}?")
    raise Refused("unknown-name", f'"{text}" names no job and no part', f"write a name first, {EXAMPLE}")


def _holding(plain: str, known: list[str]) -> Iterator[str]:
    wanted = set(plain.split("-")) - {""}
    return (name for name in known if wanted and wanted <= set(name.split("-")))
