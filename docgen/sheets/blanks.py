"""The sign-off sheet's blanks that belong to no table: who and when, findings, release, and what is due next."""

from __future__ import annotations

from dataclasses import dataclass

from docgen.sheets.figures import capital
from docgen.sheets.tables import Field
from docgen.sheets.words import Words

OTHERS = 4
"""Blank lines for parts renewed that nobody expected."""


@dataclass(frozen=True)
class Blanks:
    """Each group of fields that stands in one row of boxes; ``findings`` is one field alone."""

    work: tuple[Field, ...]
    first_run: tuple[Field, ...]
    also_renewed: tuple[Field, ...]
    struck: Field
    findings: Field
    release: tuple[Field, ...]
    second: tuple[Field, ...]
    next_due: tuple[Field, ...]


def blanks(w: Words) -> Blanks:
    """The blanks of every sign-off sheet, in the order in which they stand on it."""
    return Blanks(
        work=(
            _blank("work-started", w.work_started, "date"),
            _blank("work-completed", w.work_completed, "date"),
            _blank("engine-hours", w.hours_at_work),
            _blank("done-by", w.done_by),
        ),
        first_run=(
            _blank("after-run-date", w.date, "date"),
            _blank("after-run-time", w.run_time),
            _blank("after-run-by", w.checked_by),
        ),
        also_renewed=tuple(_blank(f"also-renewed-{n}", w.also_renewed) for n in range(1, OTHERS + 1)),
        struck=_blank("struck", w.struck),
        findings=Field("findings", w.findings_remarks, "area"),
        release=(
            _blank("released-by", w.released_by),
            _blank("released-signature", w.signature),
            _blank("released-on", w.date, "date"),
        ),
        second=(
            _blank("second-by", w.second_by),
            _blank("second-signature", w.signature),
            _blank("second-on", w.date, "date"),
        ),
        next_due=(
            _blank("next-due-what", w.next_due),
            _blank("next-due-hours", w.due_hours),
            _blank("next-due-date", w.due_date, "date"),
        ),
    )


def identity(w: Words) -> tuple[Field, ...]:
    """What stands in the record, of an engine that is in none yet: to be filled in."""
    return (
        _blank("engine-number", w.engine),
        _blank("engine-serial", capital(w.serial)),
        _blank("engine-keeper", w.keeper),
        _blank("engine-hours-before", w.hours_on_record),
    )


def _blank(name: str, label: str, kind: str = "text") -> Field:
    return Field(name, label, "date" if kind == "date" else "text", label=label)
