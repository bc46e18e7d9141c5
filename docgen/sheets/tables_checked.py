"""The sign-off sheet's tables of what was looked at, held, waited for, renewed, sealed and checked."""

from __future__ import annotations

from docgen.job import marks as m
from docgen.job.job import Check
from docgen.sheets.entries import Entries, keyed
from docgen.sheets.figures import capital, figure
from docgen.sheets.tables import Column, Entry, Field, Table, Told


def findings_open(on: Entries) -> Table:
    """Findings that the log still holds open."""
    w = on.w
    rows = tuple(
        (
            Told(text),
            Field(f"open-finding-{n}_done", f"{w.dealt_with}: {text}", "checkbox"),
            Field(f"open-finding-{n}_how", f"{w.how}: {text}"),
        )
        for n, text in enumerate(on.issue.open_findings, 1)
    )
    return Table(
        "open-findings",
        w.open_findings,
        (Column(w.finding, 80), Column(w.dealt_with, 18, True), Column(w.how, 84)),
        rows,
    )


def checked(on: Entries) -> Table:
    """What was looked at, and which way round parts went in, in the order of the steps."""
    w = on.w
    rows: list[tuple[Entry, ...]] = []
    for step, mark, key in keyed(on.told.steps):
        if isinstance(mark, m.OrientationMark):
            what, good = capital(mark.name), w.face_towards.format(face=mark.face, towards=mark.towards)
        elif isinstance(mark, m.LookMark):
            what, good = step.text, mark.accept
        else:
            continue
        rows.append(
            (
                on.void_of(key, what),
                on.number(step),
                Told(what),
                Told(figure(good, w)),
                Field(f"{key}_good", f"{w.good}: {what}", "checkbox"),
                Field(f"{key}_not", f"{w.not_good}: {what}", "checkbox"),
            )
        )
    return Table(
        "checked",
        w.checked,
        (
            on.void,
            on.step,
            Column(w.what, 68),
            Column(w.good_when, 72),
            Column(w.good, 11, True),
            Column(w.not_good, 11, True),
        ),
        tuple(rows),
        w.checked_note,
    )


def holds(on: Entries) -> Table:
    """Hold points: a second person, or the preparer's own later re-check."""
    w = on.w
    rows = tuple(
        (
            on.number(step),
            Told(mark.why),
            Field(f"{mark.key}_own", f"{w.own_recheck}: {mark.why}", "checkbox"),
            Field(f"{mark.key}_time", f"{w.date_time}: {mark.why}"),
            Field(f"{mark.key}_second", f"{w.second_person}: {mark.why}"),
            on.initials_of(mark.key, mark.why),
        )
        for step, mark in on.marks(m.HoldMark)
    )
    return Table(
        "holds",
        w.holds,
        (
            on.step,
            Column(w.hold_point, 66),
            Column(w.own_recheck, 15, True),
            Column(w.date_time, 34),
            Column(w.second_person, 44),
            on.initials,
        ),
        rows,
        w.holds_note,
    )


def waits(on: Entries) -> Table:
    """Times that had to pass."""
    w = on.w
    rows = tuple(
        (
            on.number(step),
            Told(figure(mark.time, w), (mark.why,) if mark.why else (), bold=True),
            Field(f"{mark.key}_start", f"{w.wait_start}: {mark.time}"),
            Field(f"{mark.key}_finish", f"{w.wait_finish}: {mark.time}"),
        )
        for step, mark in on.marks(m.WaitMark)
    )
    return Table(
        "waits", w.waits, (on.step, Column(w.wait, 82), Column(w.wait_start, 45), Column(w.wait_finish, 45)), rows
    )


def renewed(on: Entries) -> Table:
    """Parts renewed, with the number that was really fitted."""
    w = on.w
    rows = tuple(
        (
            on.void_of(mark.key, mark.name),
            on.number(step),
            Told(capital(mark.name) + (f", {w.if_needed}" if mark.if_needed else "")),
            Told(mark.number),
            Field(f"{mark.key}_renewed", f"{w.renewed}: {mark.name}", "checkbox"),
            Field(f"{mark.key}_number", f"{w.number_fitted}: {mark.name}"),
        )
        for step, mark in on.marks(m.RenewMark)
    )
    return Table(
        "renewed",
        w.parts_renewed,
        (
            on.void,
            on.step,
            Column(w.part, 72),
            Column(w.part_number, 32),
            Column(w.renewed, 16, True),
            Column(w.number_fitted, 44),
        ),
        rows,
    )


def seals(on: Entries) -> Table:
    """Seals broken and fitted."""
    w = on.w
    found: dict[str, dict[str, m.SealMark]] = {}
    for _, mark in on.marks(m.SealMark):
        found.setdefault(mark.item, {})[mark.when] = mark
    rows: list[tuple[Entry, ...]] = []
    for both in found.values():
        removed, fitted = both.get("removed"), both.get("fitted")
        one = removed or fitted
        assert one is not None
        rows.append(
            (
                Told(w.seal_of.format(name=one.name)),
                Told(one.number, bold=True),
                Field(removed.key, f"{w.number_removed}: {one.name}") if removed else Told(),
                Field(f"{removed.key}_permission", f"{w.permission}: {one.name}") if removed else Told(),
                Field(fitted.key, f"{w.number_fitted}: {one.name}") if fitted else Told(),
                on.initials_of(one.key, one.name),
            )
        )
    return Table(
        "seals",
        w.seals,
        (
            Column(w.seal, 38),
            Column(w.seal_number, 28),
            Column(w.number_removed, 34),
            Column(w.permission, 38),
            Column(w.number_fitted, 34),
            on.initials,
        ),
        tuple(rows),
    )


def _checks(on: Entries, prefix: str, checks: tuple[Check, ...], title: str, note: str = "") -> Table:
    w = on.w
    rows = tuple(
        (
            on.void_of(f"{prefix}-{check.key}", check.text),
            Told(figure(check.text, w), (f"{w.good}: {figure(check.accept, w)}",) if check.accept else ()),
            Field(f"{prefix}-{check.key}", check.text, "checkbox"),
        )
        for check in checks
    )
    return Table(prefix, title, (on.void, Column(w.what, 66), Column(w.done, 10, True)), rows, note)


def closing(on: Entries) -> Table:
    """Closing checks, made before the engine runs."""
    return _checks(on, "closing", on.told.closing, on.w.closing)


def after_run(on: Entries) -> Table:
    """Checks after the first run."""
    return _checks(on, "after-run", on.told.after_run, on.w.after_run, on.w.after_run_note)
