"""A season's plan as an iCalendar file (RFC 5545): one all-day event a visit, over the days of its gap."""

from datetime import UTC, datetime, time, timedelta

from icalendar import Calendar, Event

from docgen.club.folder import Folder
from docgen.visit.season import Season


def calendar_of(plan: Season, folder: Folder) -> bytes:
    """The visits and the rounds. A visit may be on any day of its event; the last one is the day before the round.

    The same plan gives the same bytes: the stamp is the day of planning, and an event is named by engine and round.
    """
    club = folder.club.value.club
    calendar = Calendar()
    calendar.add("prodid", "-//docgen//season//EN")
    calendar.add("version", "2.0")
    calendar.add("x-wr-calname", f"{club}: bench")
    stamp = datetime.combine(plan.on, time(), UTC)

    def event(uid: str, summary: str, first: object, behind: object, text: str = "") -> None:
        one = Event()
        one.add("uid", f"{uid}@docgen")
        one.add("dtstamp", stamp)
        one.add("dtstart", first)
        one.add("dtend", behind)
        one.add("summary", summary)
        if text:
            one.add("description", text)
        calendar.add_component(one)

    for (engine, gap), jobs in sorted(plan.plan.visits.items()):
        first, behind = plan.gaps[gap]
        codes = " ".join(sorted(folder.procedures[job].value.code for job in jobs))
        titles = "\n".join(str(folder.procedures[job].value.title) for job in jobs)
        text = f"{titles}\nAbout {plan.minutes(engine, gap)} min by estimate. docgen visit {engine}"
        begins = first if gap == 0 else first + timedelta(days=1)
        event(f"{engine}-{behind.isoformat()}", f"Engine {engine}: {codes}", min(begins, behind), behind, text)
    for one in plan.rounds:
        event(f"round-{one.date.isoformat()}", one.round, one.date, one.date + timedelta(days=1))
    return bytes(calendar.to_ical())
