"""The sign-off sheet's blanks that belong to no table: who and when, findings, release, and what is due next."""

from __future__ import annotations

from docgen.club.words import Words, message
from docgen.sheets.figures import capital
from docgen.sheets.tables import Field, FieldKind

OTHERS = 4
"""Blank lines for parts renewed that nobody expected."""

STRUCK = message("Struck through: a wrong entry gets one line through it and initials beside it, and is named here")
FINDINGS_NOTE = message("What was not as it should be, and what was done about it; write “none” if there was nothing.")
RELEASE = message(
    "The work named here, and only that, was done as its rows say, but for what stands under findings; every "
    "part, cloth and tool is accounted for. The signature approves this work only, not the rest of the engine."
)


def blanks(w: Words) -> dict[str, tuple[Field, ...]]:
    """The blanks of every sign-off sheet, in the order in which they stand on it: each group in one row of boxes."""
    return {
        "work": (
            _blank("work-started", w("Work started on"), "date"),
            _blank("work-completed", w("Work completed on"), "date"),
            _blank("engine-hours", w("Engine hours at this work")),
            _blank("done-by", w("Work done by (name)")),
        ),
        "first_run": (
            _blank("after-run-date", w("Date"), "date"),
            _blank("after-run-time", w("Running time")),
            _blank("after-run-by", w("Checked by")),
        ),
        "also_renewed": tuple(
            _blank(f"also-renewed-{n}", w("Also renewed: part, number")) for n in range(1, OTHERS + 1)
        ),
        "struck": (_blank("struck", w(STRUCK)),),
        "findings": (Field("findings", w("Findings and remarks"), "area"),),
        "release": (
            _blank("released-by", w("Released by (name)")),
            _blank("released-signature", w("Signature")),
            _blank("released-on", w("Date"), "date"),
        ),
        "second": (
            _blank("second-by", w("Second person (name), if any")),
            _blank("second-signature", w("Signature")),
            _blank("second-on", w("Date"), "date"),
        ),
        "next_due": (
            _blank("next-due-what", w("Next due: what")),
            _blank("next-due-hours", w("Due at engine hours")),
            _blank("next-due-date", w("Or due on"), "date"),
        ),
    }


def identity(w: Words) -> tuple[Field, ...]:
    """What stands in the record, of an engine that is in none yet: to be filled in."""
    return (
        _blank("engine-number", w("Engine")),
        _blank("engine-serial", capital(w("serial"))),
        _blank("engine-keeper", w("Keeper")),
        _blank("engine-hours-before", w("Hours on record")),
    )


def _blank(name: str, label: str, kind: FieldKind = "text") -> Field:
    return Field(name, label, kind, label=label)
