"""The tables of the engine card."""

from __future__ import annotations

import math
from datetime import date

from markupsafe import Markup

from docgen.club.words import Words
from docgen.job import wording
from docgen.job.readings import in_short
from docgen.plan.history import Line
from docgen.plan.lives import PartLife
from docgen.plan.standing import Measured, Standing
from docgen.sheets.card_plots import reading_plot
from docgen.sheets.drawings.plot import bar
from docgen.sheets.figures import HARD, capital, figure
from docgen.sheets.figures import day as unbroken_day
from docgen.sheets.tables import Table, Told, table_of
from docgen.trade.limits import Verdict

Cell = tuple[str, str, str]
"""A labelled value of the card's head, and a note on it."""


def day(when: date, w: Words) -> str:
    """A date that may break between its words: columns are narrow here."""
    return unbroken_day(when, w).replace(HARD, " ")


def identity(one: Standing, w: Words) -> tuple[Cell, ...]:
    """What the engine is and whose."""
    engine, model = one.record.engine, one.figures.model
    cells = (
        (w("Model"), model.title),
        (capital(w("serial")), engine.serial or ""),
        (w("Displacement"), figure(wording.quantity(model.displacement, w), w) if model.displacement else ""),
        (w("Keeper"), one.state.keeper),
        (w("In the record since"), day(engine.received, w)),
        (w("Maker’s manual"), model.manual),
    )
    return tuple((label, text, "") for label, text in cells if text)


def totals(one: Standing, w: Words) -> tuple[Cell, ...]:
    """The hours that a buyer asks for first."""
    state, engine = one.state, one.record.engine
    received = day(engine.received, w)
    before = w("since the record began on {day}; hours before are not known", day=received)
    if state.hours_known and engine.hours is not None:
        hours = figure(wording.quantity(engine.hours, w), w)
        before = w("{hours} when it was received on {day}; the rest follows from the log", hours=hours, day=received)
    rebuilt, by = w("no rebuild on record"), ""
    if one.since_rebuilt is not None:
        rebuilt = figure(wording.hours(one.since_rebuilt, w), w)
    if one.rebuilt:
        by = w("on {day}, approved by {by}", day=day(one.rebuilt[0].day, w), by=one.rebuilt[1].approved_by)
    last, met = w("no run on record"), ""
    if state.runs:
        last, met = day(state.runs[-1][0].day, w), state.runs[-1][1].meeting or ""
    return (
        (w("Total hours"), figure(wording.hours(state.hours, w), w), before),
        (w("Hours since it was rebuilt"), rebuilt, by),
        (w("Last run"), last, met),
    )


def tables(one: Standing, w: Words) -> tuple[Table, ...]:
    """Every table but the record itself, in the order of the card."""
    return tuple(made(one, w) for made in (deviations, findings, lives, components, readings, due))


def deviations(one: Standing, w: Words) -> Table:
    """Where the engine is not as its model."""
    rows = (
        (
            Told(day(d.date, w)),
            Told(capital(one.figures.name(d.item)), bold=True),
            Told(figure(d.what, w), (d.why,) if d.why else ()),
        )
        for d in one.state.deviations
    )
    heads = ((w("Date"), 35), (w("Part"), 45), (w("What"), 100))
    return table_of("deviations", w("This engine is not as its model"), heads, rows)


def findings(one: Standing, w: Words) -> Table:
    """What was found and is not closed."""
    rows = ((Told(day(f.day, w)), Told(figure(f.text, w))) for f in one.state.findings)
    return table_of("open-findings", w("Open findings"), ((w("Date"), 35), (w("Finding"), 145)), rows)


def lives(one: Standing, w: Words) -> Table:
    """Parts with a limited life."""
    rows = (
        (
            Told(capital(life.name), bold=True),
            Told(figure(life.number, w)),
            Told(day(life.fitted, w) if life.fitted else w("as received")),
            Told(figure(wording.hours(life.used, w), w) if life.used is not None else w("not known")),
            Told(figure(wording.hours(life.allowed, w), w)),
            _left(life, w),
        )
        for life in one.lives
    )
    heads = ((w("Part"), 50), (w("Part number"), 34), (w("Fitted on"), 30), (w("Run since"), 20))
    return table_of("lives", w("Parts with a limited life"), (*heads, (w("Allowed"), 18), (w("Left"), 28)), rows)


def _left(life: PartLife, w: Words) -> Told:
    if life.left is None:
        return Told(w("age not known"), bold=True)
    past = life.left < 0
    said = f"{w('over by')} {wording.hours(-life.left, w)}" if past else wording.hours(life.left, w)
    return Told(Markup(bar(life.share, f"{life.share:.0%}")), (figure(said, w),), bold=past)


def components(one: Standing, w: Words) -> Table:
    """Numbered components and the hours that they bring along."""
    rows = (
        (
            Told(capital(one.figures.name(c.part)), bold=True),
            Told(c.number),
            Told(day(c.stints[-1].since, w)),
            Told(figure(wording.hours(c.stints[-1].hours, w), w)),
            Told(figure(wording.hours(c.life.since_new, w), w) if c.life.since_new is not None else w("not known")),
        )
        for c in one.components
    )
    seals = (
        (Told(w("Seal on the {name}", name=one.figures.name(part))), Told(number, bold=True), Told(), Told(), Told())
        for part, number in one.state.seals.items()
    )
    heads = ((w("Part"), 60), (w("Number"), 40), (w("Fitted on"), 30), (w("On this engine"), 25), (w("Since new"), 25))
    return table_of("components", w("Numbered components"), heads, (*rows, *seals))


def readings(one: Standing, w: Words) -> Table:
    """Each reading's last value, its limit, and how it went."""
    rows = []
    for each in sorted(one.measured, key=_pressing):
        last = each.readings[-1]
        values = " / ".join(wording.quantity(v, w) for v in last.values)
        allow = wording.band(each.limit.allow, w) if each.limit.allow else ""
        fresh = wording.band(each.limit.new, w) if each.limit.new else ""
        new = (f"{wording.in_text(w('New'), w)} {figure(fresh, w)}",) if fresh else ()
        trend = (figure(_trend(each, w), w),) if each.forecast and len(each.readings) > 1 else ()
        taken = f"{day(last.at.day, w)}, {figure(wording.hours(last.at.hours, w), w)}"
        rows.append(
            (
                Told(capital(figure(each.name, w)), trend, bold=True),
                Told(
                    figure(values, w), (taken,), bold=True, tag=w("outside") if each.verdict is Verdict.REJECT else ""
                ),
                Told(capital(figure(allow, w)), new),
                Told(reading_plot(each, w)),
            )
        )
    heads = ((w("Reading"), 47), (w("Last"), 37), (w("Limit"), 31), (w("Course"), 65))
    note = w(
        "Over engine hours. Heavy line: limit. Grey: range of new parts. Dotted: part"
        " renewed. Dashed: trend, an estimate."
    )
    return table_of("readings", w("Readings"), heads, rows, note)


def _trend(each: Measured, w: Words) -> str:
    band = each.limit.allow
    return in_short(each.forecast, wording.unit(band.unit, w), w) if each.forecast and band else ""


def _pressing(each: Measured) -> tuple[bool, float, str]:
    """Those outside their limit first, then those that reach it soonest."""
    left = each.forecast.left if each.forecast and each.forecast.left is not None else math.inf
    return each.verdict is not Verdict.REJECT, left, each.name


def due(one: Standing, w: Words) -> Table:
    """What is overdue, due or coming."""
    rows = (
        (
            Told(w(line.state), bold=line.state == "overdue"),
            Told(capital(line.title)),
            Told(figure("; ".join(line.reasons), w)),
        )
        for line in one.due
    )
    return table_of("due", w("What is due"), ((w("State"), 20), (w("Job"), 60), (w("Why"), 100)), rows)


def owners(one: Standing, w: Words) -> Table:
    """Who kept it, and since when."""
    rows = ((Told(day(since, w)), Told(keeper)) for since, keeper in one.owners)
    return table_of("owners", w("Kept by"), ((capital(w("since")), 40), (w("Keeper"), 50)), rows)


def running(one: Standing, w: Words) -> Table:
    """The running of each year."""
    rows = (
        (Told(str(season.year)), Told(figure(wording.hours(season.hours, w), w)), Told(str(season.days)))
        for season in one.seasons
    )
    return table_of("running", w("Running"), ((w("Year"), 30), (w("Engine hours"), 30), (w("Days"), 30)), rows)


def record(one: Standing, w: Words) -> Table:
    """Every event but the running, each beside what corrected it."""
    rows = (_entry(line, w) for line in one.lines if not line.run)
    heads = ((w("Date"), 23), (capital(w("Engine hours")), 15), (w("What"), 79), (w("By"), 31))
    note = w("Every event but the running, which is added up above.")
    return table_of("record", w("Record"), (*heads, (w("Sheet, or entry"), 34)), rows, note)


def _entry(line: Line, w: Words) -> tuple[Told, ...]:
    notes = tuple(figure(text, w) for text in line.details)
    tag = ""
    if line.corrected is not None:
        tag, by = w("Corrected"), f", {line.corrected.by}" if line.corrected.by else ""
        why = f"{w('Corrected')} {day(line.corrected.day, w)}{by}: {line.corrected.why}"
        holds = f"{w('holds now')}: {line.corrected.holds}" if line.corrected.holds else w("this entry does not count")
        notes = (*notes, why, figure(holds, w), *(figure(text, w) for text in line.corrected.details))
    hours = figure(wording.hours(line.hours, w), w) if line.hours is not None else ""
    return (Told(line.day.isoformat()), Told(hours), Told(capital(figure(line.what, w)), notes, tag=tag), Told(line.by),
            Told("", (line.sheet or line.digest[:12],)))  # fmt: skip
