"""Parts renewed: those that the sheet expected, and what somebody wrote on its blank lines."""

import re
from collections.abc import Mapping

from docgen.club.problem import close_name
from docgen.job import marks as m
from docgen.returns.answers import FormReading
from docgen.sheets.entries import expected
from docgen.sheets.tables import OTHERS

_BETWEEN = re.compile(r"[\s,;:]")
_NUMBER = re.compile(r"(?=\D*\d)[\w./-]{2,40}")
NOT_NOTED = "number not noted"


def renewed(form: FormReading) -> None:
    """Every part renewed, with the number fitted; a number without a tick counts as renewed, and is said."""
    for _, mark in expected(form.job.instructions):
        tick, number = form.tick(mark.renewed_box), form.text(mark.number_box)
        if not tick and not number:
            form.empty(mark.key)
            continue
        if not tick:
            message = f"{mark.name}: number {number} is written, so it counts as renewed"
            form.note("renewed-unticked", message, at=mark.key)
        _put(form, mark.item, mark.name, mark.number, number, mark.key)
    known = _known(form)
    for n in range(1, OTHERS + 1):
        at = f"also-renewed-{n}"
        if text := form.text(at):
            _also(form, text, at, known)


def _known(form: FormReading) -> dict[str, tuple[str, str, str]]:
    """Parts that the job speaks of: item, name and number, by each name that somebody may write."""
    found: dict[str, tuple[str, str, str]] = {}
    told = form.job.instructions
    for one in told.spares:
        found |= dict.fromkeys((one.item.replace("-", " "), one.name.casefold()), (one.item, one.name, one.number))
    for step in told.steps:
        for mark in step.marks:
            if isinstance(mark, m.RenewMark):
                part = (mark.item, mark.name, mark.number)
                names = (mark.item.replace("-", " "), mark.name.casefold(), mark.number.casefold())
                found |= {name: part for name in names if name}
    return found


def _also(form: FormReading, text: str, at: str, known: Mapping[str, tuple[str, str, str]]) -> None:
    """A part written on a blank line; one that the job does not speak of is kept as a remark."""
    name, number = _parted(text)
    exact = known.get(text.casefold()) or known.get(name.casefold()) or known.get(number.casefold())
    head, _, rest = text.partition(",")
    if exact is None and (exact := known.get(head.strip().casefold())):
        number = rest.strip()  # one of several words, as of a screw: M6x16, class 8.8
    if exact is None:
        close = close_name(name, {key.replace(" ", "-") for key in known})
        exact = known.get(close.replace("-", " ")) if close else None
        if exact is not None:
            form.understood.append(f'"{name}" understood as {exact[1]}')
    if exact is None:
        form.also.append(f"Renewed: {text}")
        form.note("renewed-beside", f'"{text}" is no part of this job: it is kept as a remark',
                "a part with a life of its own is noted with docgen note", at)  # fmt: skip
        return
    item, known_name, printed = exact
    _put(form, item, known_name, printed, number, at)


def _parted(text: str) -> tuple[str, str]:
    """What was written as the part and the number behind it; without a number, all of it is the part.

    >>> _parted("outer washer, W-15"), _parted("washer"), _parted("W-15")
    (('outer washer', 'W-15'), ('washer', ''), ('W-15', ''))
    """
    last = _BETWEEN.split(text)[-1]
    if last == text or not _NUMBER.fullmatch(last):
        return text, ""
    return text.removesuffix(last).rstrip(" ,;:\t\n\r\v\f"), last


def _put(form: FormReading, item: str, name: str, printed: str, number: str, key: str) -> None:
    if not number:
        form.empty(f"{key}-number")
    elif printed and number.casefold() != printed.casefold():
        form.note("other-number", f"{name}: number {number} was fitted; the sheet says {printed}", at=key)
    form.put("renewed", item, number or NOT_NOTED)
