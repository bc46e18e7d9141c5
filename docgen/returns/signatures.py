"""Who did the work, when, at how many hours, who released it, and which earlier findings it closed."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from docgen.club.folder import EngineRecord
from docgen.job import wording
from docgen.job.state import EngineState
from docgen.returns.answers import Gathered
from docgen.returns.checks import said_of_day, said_of_hours


def people(on: Gathered) -> None:
    """Who did it, who released it, who was the second person."""
    done, released = on.text("done-by"), on.text("released-by")
    if not released:
        on.refuse("not-released", "nobody released the work: the name under the release is missing",
                  "who answers for the work writes his name there", "released-by")  # fmt: skip
    if not done:
        on.empty("done-by")
    if done or released:
        on.event["by"] = done or released
    on.together("released")
    on.together("seconded")
    held = (hold["second"] for hold in on.event.get("holds", {}).values() if "second" in hold)
    if second := on.text("second-by") or next(held, ""):
        on.event["second"] = second


def days(on: Gathered, record: EngineRecord, today: date) -> date | None:
    """When the work was done; None where the sheet does not say."""
    started, done = on.day("work-started", "Work started"), on.day("work-completed", "Work completed")
    if done is None:
        if not on.text("work-completed"):
            message = "the day on which the work was completed is missing"
            on.refuse("no-date", message, "write it", "work-completed")
        return None
    on.event["date"] = done.isoformat()
    if started:
        on.event["started"] = started.isoformat()
    on.said += [replace(one, field="work-completed") for one in said_of_day(record, done, today)]
    if started and started > done:
        message = f"the work is said to be completed on {done} but started on {started}"
        on.refuse("date-before-start", message, "look at both dates again", "work-started")
    printed = on.job.issue.on
    if done < printed:
        on.say("doubt", "date-before-print", f"the work is dated {done}, before this sheet was printed on {printed}",
               "right if the work was written up afterwards; look at the year", "work-completed")  # fmt: skip
    return done


def hours(on: Gathered, record: EngineRecord, day: date) -> None:
    """The engine's hours at this work, against what its log makes of them."""
    given = on.hours("engine-hours", "Engine hours")
    if given is not None:
        on.event["hours"] = str(given)
        on.said += [replace(one, field="engine-hours") for one in said_of_hours(record, given, day)]
    elif not on.text("engine-hours"):
        on.empty("engine-hours")


def dealt_with(on: Gathered, state: EngineState) -> None:
    """Open findings that the sheet listed, and how they were closed."""
    open_now = {wording.finding(f, on.words): f.digest for f in state.findings}
    closed: list[dict[str, str]] = []
    for one in on.job.issue.listed_findings:
        text, done, how = one.text, on.tick(one.done_box), on.text(one.how_box)
        if not done and how:
            on.note("finding-stays-open", f"{text}: stays open, since dealt with is not ticked", at=one.key)
        if done and text not in open_now:
            on.note("finding-closed-before", f"{text}: was closed since this sheet was printed", at=one.key)
        elif done:
            closed.append({"finding": open_now[text], **({"how": how} if how else {})})
    if closed:
        on.event["dealt_with"] = closed
