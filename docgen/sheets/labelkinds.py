"""The kinds of labels: bags of what came off, old parts, kept spares, fuel cans, engines that must not be started."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from itertools import groupby

from docgen.job import wording
from docgen.job.components import Component
from docgen.job.job import Instructions, JobStage
from docgen.plan.laydown import Laydown, Piece, stage_of
from docgen.plan.stopped import Open
from docgen.sheets.figures import HARD, capital, day, figure
from docgen.sheets.labels import Label
from docgen.sheets.pagewords import PageWords
from docgen.trade.fuel import Mix


def bag_labels(laid: Laydown, told: Instructions, on: date, w: PageWords) -> list[Label]:
    """One for the bag of each stage in which pieces come off, and one for the job's old parts together."""
    stages = [stage for stage in told.stages if stage.rows]
    bags = [(stages[n], list(pieces)) for n, pieces in groupby(laid.pieces, lambda piece: stage_of(piece, told))]
    return [*(_bag(stage, pieces, told, on, w) for stage, pieces in bags), *old_labels(laid, told, on, w)]


def _bag(stage: JobStage, pieces: Sequence[Piece], told: Instructions, on: date, w: PageWords) -> Label:
    first, last = stage.rows[0].number, stage.rows[-1].number
    rows = (w.bag_rows if first != last else w.bag_row).format(first=first, last=last)
    fates = {
        w.bag_back: [one for one in pieces if one.back and one.fate == "same"],
        w.fate_checked: [one for one in pieces if one.back and one.fate == "checked"],
        w.bag_old: [one for one in pieces if one.fate == "new"],
        capital(w.stays_off): [one for one in pieces if not one.back and one.fate != "new"],
    }
    return Label(
        capital(stage.title),
        plate=told.engine,
        mark=f"{told.code} {first}" + (f"–{last}" if first != last else ""),
        lines=(
            _of_job(rows, told, w),
            *(f"{word}: {', '.join(_piece(one) for one in some)}." for word, some in fates.items() if some),
        ),
        more=(w.came_off.format(day=day(on, w)),),
    )


def _piece(piece: Piece, number: str = "") -> str:
    """A piece with the mark of its place on the mat, and its part number."""
    return f"{_times(piece.count, piece.name)}{HARD}({', '.join(filter(None, (piece.mark, number)))})"


def old_labels(laid: Laydown, told: Instructions, on: date, w: PageWords) -> list[Label]:
    """One for all pieces that new ones replace for sure: they must not find their way back."""
    old = [piece for piece in laid.pieces if piece.fate == "new"]
    if not old:
        return []
    lines = (", ".join(_piece(one, figure(one.number, w)) for one in old),)
    off = w.came_off.format(day=day(on, w))
    return [Label(w.old_why, banner=w.old_banner, plate=told.engine, mark=told.code, lines=lines, more=(off,))]


def spare_labels(shelf: Iterable[tuple[str, Component]], w: PageWords) -> list[Label]:
    """One for each numbered component on the shelf, with its hours; the name that its engine type gives it first."""
    labels = []
    for name, one in shelf:
        life, last = one.life, one.stints[-1]
        hours = (w.spare_hours, life.since_new) if life.since_new is not None else (w.spare_recorded, life.recorded)
        off = w.spare_from.format(engine=last.engine, day=day(last.until, w)) if last.until else ""
        said = hours[0].format(hours=figure(wording.hours(hours[1], w), w))
        labels.append(Label(capital(name), banner=w.spare_banner, plate=one.number, lines=(said, off)))
    return labels


def to_write_on(kind: str, engine: str, w: PageWords) -> Label:
    """A label of one of these kinds, parts, old or spares, to be filled in by hand."""
    if kind == "spares":
        return Label("", banner=w.spare_banner, blanks=(w.part_word, w.part_number, w.hours_run))
    if kind == "old":
        return Label("", banner=w.old_banner, blanks=(w.engine, w.part_word, w.why_kept))
    return Label("", plate=engine, blanks=(w.stopped_job, w.rows_word, w.part_word, ""))


def fuel_label(mix: Mix | None, on: date, by: str, w: PageWords) -> Label:
    """A can of fuel and oil; what is not given is left to the pen."""
    if mix is None:
        blanks = (w.petrol_litres, w.oil_millilitres, w.ratio_word, w.made_on, w.mixed_by)
        return Label(w.fuel_danger, banner=w.fuel_banner, warns=True, blanks=blanks)
    amounts = w.fuel_amounts.format(litres=w.number(_plain(mix.litres)), oil=w.number(_plain(mix.oil_ml)))
    made = w.fuel_made.format(day=day(on, w)) + (f" · {w.mixed_by} {by}" if by else "")
    lines = (w.fuel_ratio.format(parts=w.number(_plain(mix.ratio))), made, w.fuel_danger)
    return Label(amounts, banner=w.fuel_banner, warns=True, lines=lines)


@dataclass(frozen=True)
class Stopped:
    """Where work stopped: the job, the row, what is open then."""

    told: Instructions
    row: str
    open: tuple[Open, ...]


def tag(engine: str, stopped: Stopped | None, on: date, by: str, w: PageWords) -> Label:
    """The tag that keeps an engine from being started; without a row it is filled in by hand.

    Where something in the job cures or cools, it has room for the time before which the engine is not run.
    """
    if stopped is None:
        blanks = (w.stopped_job, w.stopped_row, w.open_items, "", w.tag_not_before, w.person, w.tag_time)
        return Label(w.tag_why, banner=w.tag_banner, warns=True, plate=engine, lines=(w.tag_remove,), blanks=blanks)
    told = stopped.told
    job = _of_job(told.title, told, w)
    groups = {"off": w.tag_open, "loose": w.tag_loose, "started": w.tag_started}
    lines = []
    for how, word in groups.items():
        names = [_times(one.count, one.name) for one in stopped.open if one.how == how]
        lines += [f"{word}: {', '.join(names)}."] if names else []
    signed = (w.tag_by.format(name=by, day=day(on, w)),) if by else ()
    waits = (w.tag_wait.format(why=told.wait_governs),) if told.wait_governs else ()
    return Label(
        w.tag_after.format(row=stopped.row),
        banner=w.tag_banner,
        warns=True,
        plate=engine,
        mark=told.code,
        lines=(job, *([*lines, w.tag_why] if lines else [w.tag_whole]), *signed, w.tag_remove, *waits),
        blanks=(*((w.tag_not_before,) if told.wait_minutes else ()), *(() if by else (w.person, w.tag_time))),
    )


def _of_job(what: str, told: Instructions, w: PageWords) -> str:
    return HARD.join(w.tag_job.format(title=what, code=told.code, revision=told.revision).rsplit(" ", 1))


def _times(count: int, name: str) -> str:
    return f"{count}{HARD}×{HARD}{name}" if count > 1 else name


def _plain(value: Decimal) -> str:
    text = f"{value:f}"
    return text.rstrip("0").rstrip(".") if "." in text else text
