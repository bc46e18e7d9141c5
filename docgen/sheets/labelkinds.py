"""The kinds of labels: bags of what came off, old parts, kept spares, fuel cans, engines that must not be started."""

from collections.abc import Iterable, Sequence
from datetime import date
from decimal import Decimal
from itertools import groupby
from typing import NamedTuple

from docgen.club.words import Words, message
from docgen.job import wording
from docgen.job.components import Component
from docgen.job.job import Instructions, JobStage
from docgen.plan.laydown import Laydown, Piece, stage_of
from docgen.plan.stoppage import Open
from docgen.sheets.figures import HARD, capital, day, figure
from docgen.sheets.labels import Label
from docgen.trade.fuel import Mix

_FLAMMABLE = message("Extremely flammable. Keep from flame and spark, closed, in the open air. Not to be swallowed.")
_LOOSE = message("Parts are off or loose. It would be wrecked, and may hurt whoever stands by.")
_REMOVE = message("Only who put this tag on takes it off, after the last row and the closing checks.")


def bag_labels(laid: Laydown, told: Instructions, on: date, w: Words) -> list[Label]:
    """One for the bag of each stage in which pieces come off, and one for the job's old parts together."""
    stages = [stage for stage in told.stages if stage.rows]
    bags = [(stages[n], list(pieces)) for n, pieces in groupby(laid.pieces, lambda piece: stage_of(piece, told))]
    return [*(_bag(stage, pieces, told, on, w) for stage, pieces in bags), *old_labels(laid, told, on, w)]


def _bag(stage: JobStage, pieces: Sequence[Piece], told: Instructions, on: date, w: Words) -> Label:
    first, last = stage.rows[0].number, stage.rows[-1].number
    rows = (w("Rows {first} to {last}") if first != last else w("Row {first}")).format(first=first, last=last)
    fates = {
        w("Goes back"): [one for one in pieces if one.back and one.fate == "same"],
        w("New if its check fails"): [one for one in pieces if one.back and one.fate == "checked"],
        w("Old, a new one goes back"): [one for one in pieces if one.fate == "new"],
        capital(w("stays off")): [one for one in pieces if not one.back and one.fate != "new"],
    }
    lines = (f"{word}: {', '.join(map(_piece, some))}." for word, some in fates.items() if some)
    mark = f"{told.code} {first}" + (f"–{last}" if first != last else "")
    off = w("Came off {day}", day=day(on, w))
    return Label(capital(stage.title), told.engine, mark, lines=(_of_job(rows, told, w), *lines), more=(off,))


def _piece(piece: Piece, number: str = "") -> str:
    """A piece with the row in which it comes off, and its part number."""
    return f"{_times(piece.count, piece.name)}{HARD}({', '.join(filter(None, (str(piece.off), number)))})"


def old_labels(laid: Laydown, told: Instructions, on: date, w: Words) -> list[Label]:
    """One for all pieces that new ones replace for sure: they must not find their way back."""
    old = [piece for piece in laid.pieces if piece.fate == "new"]
    if not old:
        return []
    lines = (", ".join(_piece(one, figure(one.number, w)) for one in old),)
    off = w("Came off {day}", day=day(on, w))
    why, banner = w("Old parts: new ones were fitted"), w("DO NOT REFIT")
    return [Label(why, banner=banner, plate=told.engine, mark=told.code, lines=lines, more=(off,))]


def spare_labels(shelf: Iterable[tuple[str, Component]], w: Words) -> list[Label]:
    """One for each numbered component on the shelf, with its hours; the name that its engine type gives it first."""
    labels = []
    for name, one in shelf:
        life, last = one.life, one.stints[-1]
        new = life.since_new
        known = message("{hours} since new" if new is not None else "{hours} in the record; not known before")
        off = w("Off engine {engine}, {day}", engine=last.engine, day=day(last.until, w)) if last.until else ""
        said = w(known, hours=figure(wording.hours(life.recorded if new is None else new, w), w))
        labels.append(Label(capital(name), banner=w("KEPT SPARE"), plate=one.number, lines=(said, off)))
    return labels


def to_write_on(kind: str, engine: str, w: Words) -> Label:
    """A label of one of these kinds, parts, old or spares, to be filled in by hand."""
    if kind == "spares":
        return Label("", banner=w("KEPT SPARE"), blanks=(w("What"), w("Part number"), w("Hours run")))
    if kind == "old":
        return Label("", banner=w("DO NOT REFIT"), blanks=(w("Engine"), w("What"), w("Why")))
    return Label("", plate=engine, blanks=(w("Job"), w("Rows"), w("What"), ""))


def fuel_label(mix: Mix | None, on: date, by: str, w: Words) -> Label:
    """A can of fuel and oil; what is not given is left to the pen."""
    if mix is None:
        blanks = (w("Petrol, litres"), w("Oil, ml"), w("Ratio"), w("Mixed on"), w("By"))
        return Label(w(_FLAMMABLE), banner=w("FUEL MIX"), warns=True, blanks=blanks)
    litres, oil = w.number(_plain(mix.litres)), w.number(_plain(mix.oil_ml))
    amounts = w("{litres} l petrol + {oil} ml oil", litres=litres, oil=oil)
    made = w("Mixed {day}", day=day(on, w)) + (f" · {w('By')} {by}" if by else "")
    lines = (w("{parts} : 1, parts of petrol to one of oil", parts=w.number(_plain(mix.ratio))), made, w(_FLAMMABLE))
    return Label(amounts, banner=w("FUEL MIX"), warns=True, lines=lines)


class Stopped(NamedTuple):
    """Where work stopped: the job, the row, what is open then."""

    told: Instructions
    row: str
    open: tuple[Open, ...]


def tag(engine: str, stopped: Stopped | None, on: date, by: str, w: Words) -> Label:
    """The tag that keeps an engine from being started; without a row it is filled in by hand.

    Where something in the job cures or cools, it has room for the time before which the engine is not run.
    """
    banner, before, signing = w("DO NOT START"), w("Not before (day, time)"), (w("By"), w("Day and time"))
    if stopped is None:
        blanks = (w("Job"), w("Stopped after row"), w("Off or loose"), "", before, *signing)
        return Label(w(_LOOSE), banner=banner, warns=True, plate=engine, lines=(w(_REMOVE),), blanks=blanks)
    told = stopped.told
    job = _of_job(told.title, told, w)
    groups = {"off": w("Off"), "loose": w("Loose"), "started": w("Started, not tight")}
    lines = []
    for how, word in groups.items():
        if names := ", ".join(_times(one.count, one.name) for one in stopped.open if one.how == how):
            lines.append(f"{word}: {names}.")
    lines += [w(_LOOSE) if lines else w("Nothing is off or loose; the job is not done.")]
    lines += [w("By {name}, {day}", name=by, day=day(on, w))] if by else []
    lines += [w(_REMOVE)]
    lines += [w("Not before the time written here: {why}.", why=told.wait_governs)] if told.wait_governs else []
    blanks = (*((before,) if told.wait_minutes else ()), *(() if by else signing))
    title = w("Stopped after row {row}", row=stopped.row)
    return Label(title, engine, told.code, banner, warns=True, lines=(job, *lines), blanks=blanks)


def _of_job(what: str, told: Instructions, w: Words) -> str:
    said = w("{title}, {code} revision {revision}", title=what, code=told.code, revision=told.revision)
    return HARD.join(said.rsplit(" ", 1))


def _times(count: int, name: str) -> str:
    return f"{count}{HARD}×{HARD}{name}" if count > 1 else name


def _plain(value: Decimal) -> str:
    return f"{value.normalize():f}"
