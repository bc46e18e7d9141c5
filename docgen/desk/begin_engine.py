"""An engine's record begun: who keeps it, how long it has run, what was done before."""

from collections.abc import Iterator, Mapping
from datetime import date
from pathlib import Path

from docgen.club.files import bounded
from docgen.club.folder import Folder
from docgen.club.read import read_club
from docgen.club.schema.base import Text, Time
from docgen.club.schema.engine import Before, EngineNumber
from docgen.club.schema.model import Model
from docgen.desk.asking import Asks, Unwritten, answer
from docgen.desk.beginning import Typed, decimal_point, filled, fits, one_of, refuse_existing, write_new
from docgen.desk.choosing import Unclear
from docgen.desk.system import short_path
from docgen.returns.diagnostic import Refused
from docgen.returns.past import EXAMPLE, read_past, table_text

NEW = "new"


def begin_engine(
    who: Asks, folder: Folder, number: str, received: date, table: Path | None = None, **given: str | None
) -> None:
    """Write ``engines/NUMBER/engine.yaml``; what is not given is asked.

    table : what was done before, as a file
    given : model, keeper, serial, hours (how long it has run, or ``new``), before (what was done before, in words)
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
    name = answer(who, given, "model", question, one_of(known, "engine type"), only)
    kind = folder.models[name].value
    serial_number = "Serial number (empty: not known)"
    ran = "Hours that it has run, as 12 h, or new (empty: not known)"
    said = {
        "keeper": Typed(answer(who, given, "keeper", "Who looks after it", fits(Text))),
        "serial": Typed(answer(who, given, "serial", serial_number, fits(Text, blank=True), "")),
        "hours": answer(who, given, "hours", ran, _hours, ""),
    }
    if table is not None:
        given["before"] = _from_table(table)
    if said["hours"] == NEW and given.get("before") is None:
        given["before"] = ""
    past = _before(who, given, folder, kind, received)
    day = received.isoformat()
    write_new(folder.root, {
        path: filled("engine", engine=number, model=name, received=day, before=past, **said, **_parts(kind))
    })  # fmt: skip
    for problem in read_club(folder.root).problems:
        if problem.path.startswith(f"engines/{number}/"):
            who.warn(f"{problem}\n")
    who.say(f"Engine {number}, {kind.title}: {short_path(folder.root / path)}")
    who.say(f"Next:  docgen due {number}   then   docgen print {number}")


def _hours(text: str) -> str:
    return NEW if text.strip().casefold() == NEW else fits(Time, blank=True)(decimal_point(text))


def _from_table(table: Path) -> str:
    try:
        return table_text(bounded(table))
    except Refused as refused:
        raise Unclear(f"--before-from: {refused.said.message}: {refused.said.hint}") from None


def _before(
    who: Asks, given: Mapping[str, str | None], folder: Folder, model: Model, received: date
) -> dict[str, str]:
    """What was done before the record began, each as it stands in the file."""

    def check(text: str) -> str:
        try:
            read_past(text, folder, model, received)
        except Refused as refused:
            raise Unclear(f"{refused.said.message}: {refused.said.hint}") from None
        return text

    question = f"Done or renewed before, {EXAMPLE} (empty: not known)"
    found = read_past(answer(who, given, "before", question, check, ""), folder, model, received)
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
