"""The kinds of labels: pieces that came off, old ones, kept spares, fuel cans, engines that must not be started."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from docgen.job import wording
from docgen.job.components import Component
from docgen.job.job import Instructions
from docgen.plan.laydown import Laydown, Piece
from docgen.plan.stopped import Open
from docgen.sheets.figures import HARD, capital, counted, day, figure
from docgen.sheets.labels import Label
from docgen.sheets.pagewords import PageWords
from docgen.trade.fuel import Mix


def part_labels(laid: Laydown, told: Instructions, on: date, w: PageWords) -> list[Label]:
    """One for each place of the mat: what it is, from which step, in which step it goes back."""
    return [
        Label(
            counted(piece.name, piece.count),
            plate=told.engine,
            mark=piece.mark,
            lines=(w.goes_back.format(step=piece.back) if piece.back else w.goes_nowhere, *_way_round(piece, w)),
            more=(_step(piece, told, w), *_kind(piece, w), w.came_off.format(day=day(on, w))),
        )
        for piece in laid.pieces
    ]


def old_labels(laid: Laydown, told: Instructions, on: date, w: PageWords) -> list[Label]:
    """One for each piece that a new one replaces for sure: it must not find its way back."""
    return [
        Label(
            counted(piece.name, piece.count),
            banner=w.old_banner,
            plate=told.engine,
            mark=told.code,
            lines=(w.old_why.format(step=piece.mark),),
            more=(w.came_off.format(day=day(on, w)), *_kind(piece, w)),
        )
        for piece in laid.pieces
        if piece.fate == "new"
    ]


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
    return Label("", plate=engine, blanks=(w.part_word, w.step))


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
    """The tag that keeps an engine from being started; without a row it is filled in by hand."""
    if stopped is None:
        blanks = (w.stopped_job, w.stopped_step, w.open_items, "", w.person, w.tag_time)
        return Label(w.tag_why, banner=w.tag_banner, warns=True, plate=engine, lines=(w.tag_remove,), blanks=blanks)
    told = stopped.told
    job = w.tag_job.format(title=told.title, code=told.code, revision=told.revision)
    groups = {"off": w.tag_open, "loose": w.tag_loose, "started": w.tag_started}
    lines = []
    for how, word in groups.items():
        names = [_named(one) for one in stopped.open if one.how == how]
        lines += [f"{word}: {', '.join(names)}."] if names else []
    signed = (w.tag_by.format(name=by, day=day(on, w)),) if by else ()
    return Label(
        w.tag_after.format(row=stopped.row),
        banner=w.tag_banner,
        warns=True,
        plate=engine,
        mark=told.code,
        lines=(job, *(lines or [w.tag_whole]), w.tag_why, *signed, w.tag_remove),
        blanks=() if by else (w.person, w.tag_time),
    )


def _named(one: Open) -> str:
    return f"{one.count}{HARD}× {one.name}" if one.count > 1 else one.name


def _step(piece: Piece, told: Instructions, w: PageWords) -> str:
    return w.step_of.format(step=piece.mark, code=told.code, revision=told.revision)


def _way_round(piece: Piece, w: PageWords) -> tuple[str, ...]:
    return (capital(w.faces.format(face=piece.face, towards=piece.towards)),) if piece.face else ()


def _kind(piece: Piece, w: PageWords) -> tuple[str, ...]:
    return (figure(piece.thread or piece.number, w),) if piece.thread or piece.number else ()


def _plain(value: Decimal) -> str:
    text = f"{value:f}"
    return text.rstrip("0").rstrip(".") if "." in text else text
