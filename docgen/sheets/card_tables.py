"""The tables of the engine card."""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import date

from markupsafe import Markup

from docgen.job import wording
from docgen.job.readings import in_short
from docgen.plan.history import Line
from docgen.plan.lives import PartLife
from docgen.plan.standing import Measured, Standing
from docgen.sheets.card_plots import reading_plot
from docgen.sheets.drawings.plot import bar
from docgen.sheets.figures import HARD, capital, figure
from docgen.sheets.figures import day as unbroken_day
from docgen.sheets.tables import Column, Table, Told
from docgen.sheets.words import Words
from docgen.trade.limits import Verdict


@dataclass(frozen=True)
class Cell:
    """A labelled value of the card's head."""

    label: str
    text: str
    note: str = ""


def day(when: date, w: Words) -> str:
    """A date that may break between its words: columns are narrow here."""
    return unbroken_day(when, w).replace(HARD, " ")


def identity(one: Standing, w: Words) -> tuple[Cell, ...]:
    """What the engine is and whose."""
    engine, model = one.record.engine, one.figures.model
    cells = (
        Cell(w.model, model.title),
        Cell(capital(w.serial), engine.serial or ""),
        Cell(w.displacement, figure(wording.quantity(model.displacement, w), w) if model.displacement else ""),
        Cell(w.keeper, one.state.keeper),
        Cell(w.since_record, day(engine.received, w)),
        Cell(w.manual, model.manual),
    )
    return tuple(cell for cell in cells if cell.text)


def totals(one: Standing, w: Words) -> tuple[Cell, ...]:
    """The hours that a buyer asks for first."""
    state, engine = one.state, one.record.engine
    received = day(engine.received, w)
    if state.hours_known and engine.hours is not None:
        before = w.hours_before.format(hours=figure(wording.quantity(engine.hours, w), w), day=received)
    else:
        before = w.hours_unknown.format(day=received)
    last = state.runs[-1] if state.runs else None
    rebuilt = one.since_rebuilt
    return (
        Cell(w.total_hours, figure(wording.hours(state.hours, w), w), before),
        Cell(
            w.hours_since_rebuilt,
            figure(wording.hours(rebuilt, w), w) if rebuilt is not None else w.no_rebuild,
            w.rebuilt_note.format(day=day(one.rebuilt[0].day, w), by=one.rebuilt[1].approved_by) if one.rebuilt else "",
        ),
        Cell(w.last_run, day(last[0].day, w) if last else w.never_run, (last[1].meeting or "") if last else ""),
    )


def tables(one: Standing, w: Words) -> tuple[Table, ...]:
    """Every table but the record itself, in the order of the card."""
    return (
        deviations(one, w),
        findings(one, w),
        lives(one, w),
        components(one, w),
        readings(one, w),
        due(one, w),
    )


def deviations(one: Standing, w: Words) -> Table:
    """Where the engine is not as its model."""
    rows = tuple(
        (Told(day(d.date, w)), Told(capital(one.figures.name(d.item)), bold=True), Told(figure(d.what, w), _why(d.why)))
        for d in one.state.deviations
    )
    return Table("deviations", w.differs, (Column(w.date, 35), Column(w.part, 45), Column(w.what, 100)), rows)


def _why(text: str | None) -> tuple[str, ...]:
    return (text,) if text else ()


def findings(one: Standing, w: Words) -> Table:
    """What was found and is not closed."""
    rows = tuple((Told(day(f.day, w)), Told(figure(f.text, w))) for f in one.state.findings)
    return Table("open-findings", w.open_findings, (Column(w.date, 35), Column(w.finding, 145)), rows)


def lives(one: Standing, w: Words) -> Table:
    """Parts with a limited life."""
    rows = tuple(
        (
            Told(capital(life.name), bold=True),
            Told(figure(life.number, w)),
            Told(day(life.fitted, w) if life.fitted else w.original),
            Told(figure(wording.hours(life.used, w), w) if life.used is not None else w.not_known),
            Told(figure(wording.hours(life.allowed, w), w)),
            _left(life, w),
        )
        for life in one.lives
    )
    columns = (Column(w.part, 50), Column(w.part_number, 34), Column(w.fitted_on, 30), Column(w.run_since, 20))
    return Table("lives", w.life_limited, (*columns, Column(w.allowed_life, 18), Column(w.hours_left, 28)), rows)


def _left(life: PartLife, w: Words) -> Told:
    if life.left is None:
        return Told(w.age_unknown, bold=True)
    past = life.left < 0
    said = f"{w.over_by} {wording.hours(-life.left, w)}" if past else wording.hours(life.left, w)
    return Told(Markup(bar(life.share, f"{life.share:.0%}")), (figure(said, w),), bold=past)


def components(one: Standing, w: Words) -> Table:
    """Numbered components and the hours that they bring along."""
    rows = tuple(
        (
            Told(capital(one.figures.name(c.part)), bold=True),
            Told(c.number),
            Told(day(c.stints[-1].since, w)),
            Told(figure(wording.hours(c.stints[-1].hours, w), w)),
            Told(figure(wording.hours(c.life.since_new, w), w) if c.life.since_new is not None else w.not_known),
        )
        for c in one.components
    )
    columns = (Column(w.part, 60), Column(w.component_number, 40), Column(w.fitted_on, 30))
    seals = tuple(
        (Told(w.seal_of.format(name=one.figures.name(part))), Told(number, bold=True), Told(), Told(), Told())
        for part, number in one.state.seals.items()
    )
    return Table(
        "components", w.components, (*columns, Column(w.on_this_engine, 25), Column(w.since_new, 25)), (*rows, *seals)
    )


def readings(one: Standing, w: Words) -> Table:
    """Each reading's last value, its limit, and how it went."""
    rows = []
    for each in sorted(one.measured, key=_pressing):
        last = each.readings[-1]
        values = " / ".join(wording.quantity(v, w) for v in last.values)
        allow = wording.band(each.limit.allow, w) if each.limit.allow else ""
        fresh = wording.band(each.limit.new, w) if each.limit.new else ""
        new = (f"{wording.in_text(w.new_range, w)} {figure(fresh, w)}",) if fresh else ()
        trend = (figure(_trend(each, w), w),) if each.forecast and len(each.readings) > 1 else ()
        taken = f"{day(last.at.day, w)}, {figure(wording.hours(last.at.hours, w), w)}"
        rows.append(
            (
                Told(capital(figure(each.name, w)), trend, bold=True),
                Told(figure(values, w), (taken,), bold=True, tag=w.outside if each.verdict is Verdict.REJECT else ""),
                Told(capital(figure(allow, w)), new),
                Told(reading_plot(each, w)),
            )
        )
    columns = (Column(w.reading, 47), Column(w.last, 37), Column(w.limit, 31), Column(w.course, 65))
    return Table("readings", w.latest_readings, columns, tuple(rows), w.readings_note)


def _trend(each: Measured, w: Words) -> str:
    band = each.limit.allow
    return in_short(each.forecast, wording.unit(band.unit, w), w) if each.forecast and band else ""


def _pressing(each: Measured) -> tuple[bool, float, str]:
    """Those outside their limit first, then those that reach it soonest."""
    left = each.forecast.left if each.forecast and each.forecast.left is not None else math.inf
    return each.verdict is not Verdict.REJECT, left, each.name


def due(one: Standing, w: Words) -> Table:
    """What is overdue, due or coming."""
    rows = tuple(
        (
            Told(w.states[line.state], bold=line.state == "overdue"),
            Told(capital(line.title)),
            Told(figure("; ".join(line.reasons), w)),
        )
        for line in one.due
    )
    return Table("due", w.due_now, (Column(w.due_state, 20), Column(w.job, 60), Column(w.why, 100)), rows)


def owners(one: Standing, w: Words) -> Table:
    """Who kept it, and since when."""
    rows = tuple((Told(day(since, w)), Told(keeper)) for since, keeper in one.owners)
    return Table("owners", w.owners, (Column(capital(w.since), 40), Column(w.keeper, 50)), rows)


def running(one: Standing, w: Words) -> Table:
    """The running of each year."""
    rows = tuple(
        (Told(str(season.year)), Told(figure(wording.hours(season.hours, w), w)), Told(str(season.days)))
        for season in one.seasons
    )
    return Table("running", w.running, (Column(w.year, 30), Column(w.hours_now, 30), Column(w.days, 30)), rows)


def record(one: Standing, w: Words) -> Table:
    """Every event but the running, each beside what corrected it."""
    rows = tuple(_entry(line, w) for line in one.lines if not line.run)
    columns = (
        Column(w.date, 23),
        Column(capital(w.hours_now), 15),
        Column(w.what_happened, 79),
        Column(w.signed_by, 31),
    )
    return Table("record", w.record, (*columns, Column(w.sheet_number, 34)), rows, w.record_note)


def _entry(line: Line, w: Words) -> tuple[Told, ...]:
    notes = tuple(figure(text, w) for text in line.details)
    tag = ""
    if line.corrected is not None:
        tag, by = w.corrected, f", {line.corrected.by}" if line.corrected.by else ""
        why = f"{w.corrected} {day(line.corrected.day, w)}{by}: {line.corrected.why}"
        holds = f"{w.holds_now}: {line.corrected.holds}" if line.corrected.holds else w.holds_nothing
        notes = (*notes, why, figure(holds, w), *(figure(text, w) for text in line.corrected.details))
    hours = figure(wording.hours(line.hours, w), w) if line.hours is not None else ""
    return (Told(line.day.isoformat()), Told(hours), Told(capital(figure(line.what, w)), notes, tag=tag), Told(line.by),
            Told("", (line.sheet or line.digest[:12],)))  # fmt: skip
