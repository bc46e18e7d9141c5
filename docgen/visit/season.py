"""A season's plan: from what is due, the usual hours and the calendar to which visit before which round."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from docgen.club.folder import Folder
from docgen.club.schema.club import Round
from docgen.club.schema.model import Interval
from docgen.job.expand import expand
from docgen.job.resolve import figures_of, interval_of
from docgen.job.timing import timing_of
from docgen.plan.due import due_list
from docgen.plan.season import add_months, coming_rounds
from docgen.visit.programme import BEHIND, Late, Need, Plan, late, solve


@dataclass(frozen=True)
class Season:
    """The plan of a season from the day `on`, and what it cannot keep.

    gaps  : the days of each gap: from the round before (or `on`) to the round
    room  : bench minutes of each gap; None where the club does not say
    late  : limits that no plan keeps
    """

    on: date
    rounds: tuple[Round, ...]
    gaps: tuple[tuple[date, date], ...]
    room: tuple[float | None, ...]
    needs: tuple[Need, ...]
    plan: Plan
    late: tuple[Late, ...]

    def minutes(self, engine: str, gap: int) -> int:
        """Bench minutes of a visit: its jobs one by one, so never too few."""
        jobs = self.plan.visits.get((engine, gap), ())
        return sum(need.minutes for need in self.needs if need.engine == engine and need.job in jobs)

    @property
    def engines(self) -> tuple[str, ...]:
        """The engines that the plan speaks of."""
        return tuple(sorted({need.engine for need in self.needs}))


def season(folder: Folder, on: date, engines: tuple[str, ...] = ()) -> Season:
    """Plan the rest of the season for all engines, or those named. Nothing is planned without rounds."""
    club = folder.club.value
    rounds = tuple(coming_rounds(club, on))
    starts = (on, *(one.date for one in rounds))
    gaps = tuple((start, one.date) for start, one in zip(starts, rounds, strict=False))
    week = club.bench_hours_a_week
    room = tuple(None if week is None else float(week.exactly("h")) * 60 * (b - a).days / 7 for a, b in gaps)
    needs = tuple(_needs(folder, on, gaps, engines))
    plan = solve(needs, room)
    return Season(on, rounds, gaps, room, needs, plan, tuple(late(plan, needs, len(gaps))))


def _needs(folder: Folder, on: date, gaps: Sequence[tuple[date, date]], engines: tuple[str, ...]) -> Iterator[Need]:
    """What each engine needs. A job that others contain, and one of the day of a round, is no work of its own."""
    firsts = {day: n for n, (_, day) in enumerate(gaps)}
    for line in due_list(folder, on, engines):
        if not line.job or line.engine not in folder.engines:
            continue
        record = folder.engines[line.engine]
        figures = figures_of(folder, record, on)
        procedure = folder.procedures[line.job]
        places = [firsts[r.before.date] for r in line.every if r.before is not None and r.before.date in firsts]
        every = interval_of(procedure.value, figures)
        if every is not None and every.meetings == 1 and every.hours is None:
            continue  # what is looked at after every meeting is no visit
        steps = [one.step for one in expand(procedure, folder.sequences, figures.model)]
        minutes = timing_of(steps, figures).work_minutes
        again = tuple(_again(every, g, gaps, Fraction(line.usual)) for g, _ in enumerate(gaps))
        yield Need(line.engine, line.job, minutes, min(places, default=None), again)


def _again(every: Interval | None, done: int, gaps: Sequence[tuple[date, date]], usual: Fraction) -> int:
    """Done in gap `done`, the last gap in which it must be done again; never before the one after it.

    The rounds that are run until then use up no more than the interval: hours at the usual hours a meeting, months
    from the first day of the gap.
    """
    found = [BEHIND]
    if every is not None and every.hours is not None and usual:
        found.append(done + int(every.hours.exactly("h") // usual))
    if every is not None and every.meetings is not None:
        found.append(done + every.meetings)
    if every is not None and every.months is not None:
        until = add_months(gaps[done][0], every.months)
        later = [g for g in range(done, len(gaps)) if gaps[g][1] > until]
        found.append(later[0] if later else BEHIND)
    return max(min(found), done + 1)


def helps(season: Season) -> Iterator[str]:
    """What would help where the plan needs more of the bench than there is, or cannot keep a limit."""
    for gap, minutes in sorted(season.plan.extra.items()):
        hours = -(-minutes // 30) / 2
        yield f"{hours:.1f} h more on the bench before {season.rounds[gap].round}"
    for one in season.late[:1]:
        yield f"{one.need.job} on engine {one.need.engine} done earlier, or its limit looked at again"
