"""The program's words about what is due, what the record says, and what is needed; the sheets' words build on them."""

from __future__ import annotations

from dataclasses import dataclass, field

from docgen.club.schema.event import KINDS
from docgen.job.words import JobWords


def _entered() -> set[str]:
    """What an event's file calls what was entered."""
    return {name for kind in KINDS.values() for name in kind.model_fields} - {"event", "parents", "instead", "corrects"}


@dataclass(frozen=True, eq=False, repr=False)
class PlanWords(JobWords):
    """What plans and records say by themselves. Braces stand for what is filled in."""

    # Why a job is due
    states: dict[str, str] = field(
        default_factory=lambda: {"overdue": "overdue", "due": "due", "coming": "coming", "in date": "in date"}
    )
    hours_of: str = "{hours} of {allowed} run since"
    hours_of_at_least: str = "at least {hours} of {allowed} run since; what it ran before the record is not known"
    meetings_of: str = "{count} of {allowed} meetings run since"
    was_due_by: str = "every {months}: was due by {day}"
    is_due_by: str = "every {months}: is due by {day}"
    is_due_by_then: str = "every {months}: is due by {day} at the latest; the day it was done is not known"
    part_age_unknown: str = "{part}: its age is not known (allowed {allowed})"
    part_ran: str = "{part}: {hours} of {allowed} run"
    past_its_limit: str = "{reading}: past its limit on {day}"
    by_trend: str = "{reading}: by the trend of its readings about {hours} left ({low} to {high}), an estimate"
    by_trend_nothing: str = "{reading}: by the trend of its readings nothing is left, an estimate"
    more_hours: str = "more"
    found_on: str = "found {day}: {what}"
    asks_for: str = "to be fitted new: {parts}"
    never_done: str = "no record that it was ever done"
    never_done_to: str = "no record that it was ever done to {part} {number}"
    done_to_on: str = "{day} to {part} {number}, on engine {engine}"
    done_before: str = "{day}, before this record"
    done_hours_before: str = "{hours} before this record began"
    never_in_record: str = "never in this record"
    not_yet_new: str = "not yet; new on {day}"
    came_in: str = "came in on {day}"
    open_findings_title: str = "Open findings"
    findings_calling: str = "Open findings that call for {job}"
    before_round: str = "{reasons}; before {round}"

    # What the record says
    ran: str = "ran {hours}"
    ran_sessions: str = "ran {hours} ({sessions})"
    ran_at: str = "{ran} at {meeting}"
    service_revision: str = "{title}, revision {revision}"
    closed_finding: str = "closed: {what}"
    found_finding: str = "found: {what}"
    deviation_ends: str = "no longer so: {what}"
    deviation_begins: str = "not as its model: {what}"
    set_to_value: str = "{setting} set to {value}"
    kept_from_now: str = "kept by {keeper} from now on"
    own_interval: str = "own interval for {job}: {interval}"
    rebuilt_by: str = "rebuilt, approved by {by}"
    reading_was: str = "{reading}: {now}, was {before}"
    nothing_read: str = "none"
    not_as_entered: str = "{what}: not as first entered"
    number_off: str = "{number} off"
    number_off_to: str = "{number} off, to engine {engine}"
    number_on: str = "{number} on"
    number_on_from: str = "{number} on, from engine {engine}"
    renewed_parts: str = "renewed: {parts}"
    seal_told: str = "seal of the {part}: {what}"
    remark: str = "remark: {text}"
    not_good_parts: str = "not good: {what}"
    boxes_blank_one: str = "left blank: 1 box"
    boxes_blank: str = "left blank: {count} boxes"
    rows_struck_one: str = "struck out: 1 row"
    rows_struck: str = "struck out: {count} rows"
    signed_with: str = "with {name}"
    entered_as: dict[str, str] = field(
        default_factory=lambda: {name: name.replace("_", " ") for name in sorted(_entered())}
    )
