"""Who did the work, when, at how many hours, who released it, and which earlier findings it closed."""

from dataclasses import replace
from datetime import date

from docgen.club.folder import EngineRecord
from docgen.job import wording
from docgen.job.state import EngineState
from docgen.returns.answers import FormReading
from docgen.returns.checks import said_of_day, said_of_hours


def people(form: FormReading) -> None:
    """Who did it, who released it, who was the second person."""
    done, released = form.text("done-by"), form.text("released-by")
    if not released:
        form.refuse("not-released", "nobody released the work: the name under the release is missing",
                  "who answers for the work writes his name there", "released-by")  # fmt: skip
    if not done:
        form.empty("done-by")
    if done or released:
        form.event["by"] = done or released
    form.together("released")
    form.together("seconded")
    held = (hold["second"] for hold in form.event.get("holds", {}).values() if "second" in hold)
    if second := form.text("second-by") or next(held, ""):
        form.event["second"] = second


def days(form: FormReading, record: EngineRecord, today: date) -> date | None:
    """When the work was done; None where the sheet does not say."""
    started, done = form.day("work-started", "Work started"), form.day("work-completed", "Work completed")
    if done is None:
        if not form.text("work-completed"):
            message = "the day on which the work was completed is missing"
            form.refuse("no-date", message, "write it", "work-completed")
        return None
    form.event["date"] = done.isoformat()
    if started:
        form.event["started"] = started.isoformat()
    form.said += [replace(one, field="work-completed") for one in said_of_day(record, done, today)]
    if started and started > done:
        message = f"the work is said to be completed on {done} but started on {started}"
        form.refuse("date-before-start", message, "look at both dates again", "work-started")
    printed = form.job.issue.on
    if done < printed:
        form.say("doubt", "date-before-print", f"the work is dated {done}, before this sheet was printed on {printed}",
               "right if the work was written up afterwards; look at the year", "work-completed")  # fmt: skip
    return done


def hours(form: FormReading, record: EngineRecord, day: date) -> None:
    """The engine's hours at this work, against what its log makes of them."""
    given = form.hours("engine-hours", "Engine hours")
    if given is not None:
        form.event["hours"] = str(given)
        form.said += [replace(one, field="engine-hours") for one in said_of_hours(record, given, day)]
    elif not form.text("engine-hours"):
        form.empty("engine-hours")


def dealt_with(form: FormReading, state: EngineState) -> None:
    """Open findings that the sheet listed, and how they were closed."""
    open_now = {wording.finding(f, form.words): f.digest for f in state.findings}
    closed: list[dict[str, str]] = []
    for one in form.job.issue.listed_findings:
        text, done, how = one.text, form.tick(one.done_box), form.text(one.how_box)
        if not done and how:
            form.note("finding-stays-open", f"{text}: stays open, since dealt with is not ticked", at=one.key)
        if done and text not in open_now:
            form.note("finding-closed-before", f"{text}: was closed since this sheet was printed", at=one.key)
        elif done:
            closed.append({"finding": open_now[text], **({"how": how} if how else {})})
    if closed:
        form.event["dealt_with"] = closed
