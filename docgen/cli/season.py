"""Which visit before which round, for each engine, over the rest of the season."""

from collections.abc import Iterator
from datetime import date
from pathlib import Path

import click

from docgen.cli import _options as option
from docgen.cli._saying import report, say_json
from docgen.cli.frame import Session
from docgen.club.folder import Folder
from docgen.club.problem import counted
from docgen.desk.choosing import engines_named
from docgen.desk.system import short_path
from docgen.visit.season import Season, helps, season


@option.command(
    "Which visit before which round, and a calendar of them.",
    "docgen season", "docgen season 017 023 --on 2027-04-01",
)  # fmt: skip
@option.engines
@option.pages()
@option.json
def command(session: Session, engines: tuple[str, ...], on: date, out: Path, as_json: bool) -> bool:
    """Plan the rest of the season for ENGINES (or all): the fewest strip-downs that keep every limit.

    From what is due, the usual hours a meeting, the rounds, and the bench hours a week of club.yaml. Prints a wall
    chart, and writes a calendar file beside it. Minutes are estimates, of the jobs one by one; together they take less
    (docgen visit).
    """
    folder = session.read()
    engines_named(folder, engines)
    if report(folder.problems):
        return True
    plan = season(folder, on, engines)
    if as_json:
        say_json(_plain(plan))
    else:
        click.echo("\n".join(_lines(plan, folder)))
    if plan.rounds and not as_json:
        from docgen.cli._printing import print_pages
        from docgen.desk.wall import season_sheet

        wish, calendar = season_sheet(folder, plan, out)
        click.echo()
        print_pages(folder.root, [wish], calendar)
        click.echo(f"The calendar: {short_path(next(iter(calendar)))}")
    return bool(plan.late or plan.plan.extra)


def _lines(plan: Season, folder: Folder) -> Iterator[str]:
    if not plan.rounds:
        yield f"The season has no rounds after {plan.on.isoformat()}: write them into club.yaml, under season."
        return
    visits = plan.plan.visits
    yield f"{counted(len(visits), 'visit')} for {counted(len(plan.engines), 'engine')}" + (
        ", no plan has fewer" if plan.plan.least else ", the best that was found in time"
    )
    for gap, one in enumerate(plan.rounds):
        here = sorted(engine for engine, at in visits if at == gap)
        minutes = sum(plan.minutes(engine, gap) for engine in here)
        room = plan.room[gap]
        of = f" of {room / 60:.0f} h" if room is not None else ""
        yield from ("", f"Before {one.round} ({one.date.isoformat()}): {minutes / 60:.1f} h{of} on the bench")
        for engine in here:
            codes = " ".join(sorted(folder.procedures[job].value.code for job in visits[engine, gap]))
            yield f"  {engine:<6} {plan.minutes(engine, gap):>4} min  {codes}"
    yield from _faults(plan, folder)


def _faults(plan: Season, folder: Folder) -> Iterator[str]:
    if plan.late:
        first = plan.late[0]
        title = folder.procedures[first.need.job].value.title
        yield from ("", f"No plan keeps every limit. The first that breaks: {title}, engine {first.need.engine}, "
                        f"before {plan.rounds[first.until].round}.")  # fmt: skip
    elif plan.plan.extra:
        yield from ("", "Every limit is kept, but this plan needs more of the bench than there is.")
    yield from (f"  It would help: {text}." for text in helps(plan))


def _plain(plan: Season) -> dict[str, object]:
    visits = [
        {"engine": engine, "round": plan.rounds[gap].round, "before": plan.rounds[gap].date.isoformat(),
         "jobs": list(jobs), "minutes": plan.minutes(engine, gap)}
        for (engine, gap), jobs in sorted(plan.plan.visits.items(), key=lambda one: (one[0][1], one[0][0]))
    ]  # fmt: skip
    late = [{"engine": one.need.engine, "job": one.need.job, "before": plan.rounds[one.until].round}
            for one in plan.late]  # fmt: skip
    extra = {plan.rounds[gap].round: minutes for gap, minutes in plan.plan.extra.items()}
    told = {"least": plan.plan.least, "helps": list(helps(plan))}
    return {"visits": visits, "late": late, "extra_minutes": extra, **told}
