"""An engine's record begun: who keeps it, how long it has run, what was done before."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from pathlib import Path

from docgen.club.files import bounded
from docgen.club.folder import Folder
from docgen.club.read import read_club
from docgen.club.schema.base import Text, Time
from docgen.club.schema.engine import Before, EngineNumber
from docgen.club.schema.model import Model
from docgen.desk.answers import answer, decimal_point, fits, one_of
from docgen.desk.asking import Asks, Unwritten
from docgen.desk.beginning import Typed, filled, refuse_existing, write_new
from docgen.desk.choosing import Unclear
from docgen.desk.system import shown
from docgen.returns.diagnostic import Refused
from docgen.returns.past import EXAMPLE, read_past, table_text

NEW = "new"


def begin_engine(
    who: Asks, folder: Folder, number: str, received: date, *, model: str | None = None, keeper: str | None = None,
    serial: str | None = None, hours: str | None = None, before: str | None = None, table: Path | None = None,
) -> None:  # fmt: skip
    """Write ``engines/NUMBER/engine.yaml``; what is not given is asked.

    hours  : how long it has run, or ``new``
    before : what was done before, in words; `table` the same as a file
    Errors: Unclear, Unwritten.
    """
    number = fits(EngineNumber)(number)
    path = f"engines/{number}/engine.yaml"
    refuse_existing(folder.root, path)
    known = sorted(folder.models)
    if not known:
        raise Unwritten("The club has no engine type yet. First:  docgen new model NAME")
    only = known[0] if len(known) == 1 else None
    question = f"Which engine type ({', '.join(known)})"
    name = answer(who, "--model", question, model, one_of(known, "engine type"), only)
    kind = folder.models[name].value
    serial_number = "Serial number (empty: not known)"
    ran = "Hours that it has run, as 12 h, or new (empty: not known)"
    said = {
        "keeper": Typed(answer(who, "--keeper", "Who looks after it", keeper, fits(Text))),
        "serial": Typed(answer(who, "--serial", serial_number, serial, fits(Text, blank=True), "")),
        "hours": answer(who, "--hours", ran, hours, _hours, ""),
    }
    past = _before(who, folder, kind, received, table, before, new=said["hours"] == NEW)
    day = received.isoformat()
    write_new(folder.root, {
        path: filled("engine", engine=number, model=name, received=day, before=past, **said, **_parts(kind))
    })  # fmt: skip
    for problem in read_club(folder.root).problems:
        if problem.path.startswith(f"engines/{number}/"):
            who.warn(f"{problem}\n")
    who.say(f"Engine {number}, {kind.title}: {shown(folder.root / path)}")
    who.say(f"Next:  docgen due {number}   then   docgen print {number}")


def _hours(text: str) -> str:
    return NEW if text.strip().casefold() == NEW else fits(Time, blank=True)(decimal_point(text))


def _before(
    who: Asks, folder: Folder, model: Model, received: date, table: Path | None, given: str | None, *, new: bool
) -> dict[str, str]:
    """What was done before the record began, each as it stands in the file."""

    def check(text: str) -> str:
        try:
            read_past(text, folder, model, received)
        except Refused as refused:
            raise Unclear(f"{refused.said.message}: {refused.said.hint}") from None
        return text

    if table is not None:
        try:
            given = table_text(bounded(table))
        except Refused as refused:
            raise Unclear(f"--before-from: {refused.said.message}: {refused.said.hint}") from None
    question = f"Done or renewed before, {EXAMPLE} (empty: not known)"
    text = "" if new and given is None else answer(who, "--before", question, given, check, "")
    found = read_past(text, folder, model, received)
    return {name: ", ".join(_told(one)) for name, one in found.items()}


def _told(one: Before) -> Iterator[str]:
    if one.on is not None:
        yield f"on: {one.on.isoformat()}"
    if one.ago is not None:
        yield f"ago: {one.ago}"


def _parts(model: Model) -> dict[str, list[str]]:
    """The parts that may carry a seal, and those that other parts sit in, which are what carries a number."""
    whole = {part.part_of for part in model.parts.values() if part.part_of}
    return {
        "sealable": [name for name, part in model.parts.items() if part.sealable],
        "numbered": [name for name in model.parts if name in whole] or list(model.parts)[:1],
    }
