"""A numbered component moved from one engine to another, or to the shelf; and moves that were cut off made whole."""

from collections.abc import Iterator, Sequence
from datetime import date

from docgen.club.folder import Faulty, Folder
from docgen.desk.asking import Asks, confirm, tell
from docgen.desk.choosing import engines_named, sound
from docgen.desk.clock import today
from docgen.job import wording
from docgen.job.components import Component, components
from docgen.returns.checks import said_of_day
from docgen.returns.diagnostic import Refused
from docgen.returns.filing import Filed
from docgen.returns.moving import SHELF, Move, file_move, finish, planned
from docgen.trade.quantity import QuantityError, parse_quantity

CUT_OFF = "unfinished-move"


def move_component(
    who: Asks, folder: Folder, number: str, where: str, on: date, *, part: str | None = None, swap: bool = False,
    hours: str = "", note: str | None = None, by: str | None = None,
) -> Sequence[Filed]:  # fmt: skip
    """Write that a component went to an engine, or to the shelf, into the logs of all engines that it concerns.

    part  : what it is (``carburettor``), needed when it is on no engine
    swap  : what it takes the place of goes where it came from, and not to the shelf
    hours : what one that is new to the record had run before (``3.5 h``)
    Errors: Faulty, Unclear, Refused, Unwritten, StoreError.
    """
    if cut_off := [p for p in folder.problems if p.name == CUT_OFF]:
        raise Faulty(cut_off)
    where = SHELF if where.casefold() == SHELF else where
    if where != SHELF:
        engines_named(folder, [where])
    way = planned(folder, number, where, on, part=part, swap=swap, by=by, note=note, before=_hours(hours))
    for leg in way.legs:
        sound(folder, leg.engine)
    said = [s for leg in way.legs for s in said_of_day(folder.engines[leg.engine], on, today())]
    confirm(who, _shown(folder, way), said)
    return tell(who, folder.root, file_move(folder.root, folder, way))


def finish_moves(who: Asks, folder: Folder) -> Sequence[Filed]:
    """Write what is missing of moves that were cut off. Errors: Faulty, StoreError."""
    if unread := [p for p in folder.blocking(None, ()) if p.name not in (CUT_OFF, "component-twice")]:
        raise Faulty(unread)
    return tell(who, folder.root, finish(folder.root, folder))


def _hours(text: str) -> str | None:
    if not text:
        return None
    try:
        return str(parse_quantity(text, "time"))
    except QuantityError as error:
        hint = f"write it after the figure, as in {text} h" if error.name == "no-unit" else error.hint
        raise Refused(error.name, error.message, hint) from None


def _shown(folder: Folder, move: Move) -> Iterator[str]:
    known = components(folder, move.day)
    yield f"On {move.day}:"
    for leg in move.legs:
        if leg.fitted:
            came = f" from engine {leg.came_from}" if leg.came_from else ""
            age = _age(known.get((move.part, leg.fitted)), move.before)
            yield f"  {move.part} {leg.fitted} ({age}) goes on engine {leg.engine}{came}"
        if leg.removed and not leg.to:
            age = _age(known.get((move.part, leg.removed)), None)
            yield f"  {move.part} {leg.removed} ({age}) comes off engine {leg.engine} and goes to the shelf"


def _age(component: Component | None, before: str | None) -> str:
    if component is None:
        return f"{before} when it came" if before else "its hours are not known"
    since = component.life.since_new
    return wording.hours(since) if since is not None else f"{wording.hours(component.life.recorded)} in this record"
