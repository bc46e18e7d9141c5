"""What is due, on which engine, and why."""

from collections import Counter
from collections.abc import Iterator
from datetime import date
from textwrap import shorten, wrap

import click

from docgen.cli import _options as option
from docgen.cli._saying import report, say_json
from docgen.cli.frame import Session
from docgen.club.fitting import NOT_FITTING
from docgen.club.problem import Problem, counted
from docgen.desk.choosing import engines_named
from docgen.desk.outlooks import due_now
from docgen.plan.due import DUE, IN_DATE, OVERDUE, STATES, DueLine, Quiet

TOGETHER, TITLE, WIDTH = 3, 44, 118
"""Jobs of one engine from which on one line says them together; columns of a title, and of a line."""

ALONE = ("", "", "")
"""The kind of a line that no other is like."""


@option.command(
    "What is due, on which engine, and why.",
    "docgen due 017", "docgen due 017 --why", "docgen due --on 2027-04-01 --all",
)  # fmt: skip
@option.engines
@option.on
@click.option("--all", "everything", is_flag=True, help="Also what is in date.")
@click.option("--why", is_flag=True, help="Every reason, before which round, and when each job was last done.")
@option.json
def command(session: Session, engines: tuple[str, ...], on: date, everything: bool, why: bool, as_json: bool) -> bool:
    """What is overdue, due and coming, for ENGINES or for all.

    \b
    overdue   the interval is used up
    due       it runs out before or during the next meeting, or there is no record of it
    coming    it runs out before or during the meeting after that
    """
    folder, every, quiet = due_now(session.root, session.read, session.parts, on)
    engines_named(folder, [number for number in engines if number not in folder.unread])
    every = [line for line in every if not engines or line.engine in engines]
    lines = [line for line in every if everything or line.state != IN_DATE]
    if as_json:
        say_json([line.to_json() for line in lines])
        return False
    there = bool(folder.engines or folder.unread)
    faulty = any(one.level == "error" and one.path.startswith("engines/") for one in folder.problems)
    rows = [*_summary(lines, on, there, faulty), *(_told(lines) if why else _short(lines))]
    rows += _quiet([one for one in quiet if not engines or one.engine in engines])
    rows += _usual(every) if engines else []
    click.echo("\n".join(rows))
    return bool(report(_worth_saying(folder.problems)))


def _summary(lines: list[DueLine], on: date, engines: bool, faulty: bool) -> Iterator[str]:
    """Three lines: how much of what, before when, and what to do about it."""
    if not engines and faulty:
        yield "No engine's record can be read, so nothing is known of what is due."
        return
    if not engines:
        yield "There are no engines yet: docgen new engine NUMBER begins one."
        return
    states = Counter(line.state for line in lines)
    if not lines:
        yield f"Nothing is due on {on.isoformat()}."
        return
    told = ", ".join(f"{states[state]} {state}" for state in STATES if states[state])
    yield f"On {on.isoformat()}: {told}, on {counted(len({line.engine for line in lines}), 'engine')}."
    rounds = {line.before for line in lines if line.before and line.state in (OVERDUE, DUE)}
    if rounds:
        first = min(rounds, key=lambda text: text.rpartition("(")[2])
        count = sum(line.before == first for line in lines if line.state in (OVERDUE, DUE))
        yield f"{count} of them before {first}."
    yield "docgen print --due prints what is overdue and due; --why says every reason, and when each was last done."


def _short(lines: list[DueLine]) -> Iterator[str]:
    """One line a job; of the jobs of an engine that were never done, one line together."""
    state = ""
    alike: dict[tuple[str, str, str], list[DueLine]] = {}
    kinds = [_kind(line) for line in lines]
    for line, kind in zip(lines, kinds, strict=True):
        alike.setdefault(kind, []).append(line)
    for line, kind in zip(lines, kinds, strict=True):
        together = alike[kind] if kind != ALONE else []
        if len(together) >= TOGETHER and together[0] is not line:
            continue
        if line.state != state:
            state = line.state
            yield from ("", state.capitalize())
        if len(together) >= TOGETHER:
            codes = " ".join(each.code for each in together)
            told = f"  {line.engine:<6} {len(together)} jobs: {line.reasons[0]}: {codes}"
            yield from [told] if len(told) <= WIDTH else wrap(told, WIDTH, subsequent_indent=" " * 9)
            continue
        more = f" (+{len(line.reasons) - 1})" if len(line.reasons) > 1 else ""
        title = _within(line.title, TITLE)
        head = f"  {line.engine:<6} {line.code:<3}  {title:<{TITLE}}  "
        yield f"{head}{_within(_first(line), max(20, WIDTH - len(head) - len(more)))}{more}"


def _within(text: str, width: int) -> str:
    """The text within so many columns: to wrap one that is short takes half of a long list's time."""
    words = " ".join(text.split())
    return words if len(words) <= width else shorten(words, width, placeholder="…")


def _first(line: DueLine) -> str:
    """The reason that is said where there is room for one: what was found goes before what was counted."""
    found = [one.text for one in line.every if one.scale is None and one.text in line.reasons]
    return (found or [*line.reasons])[0]


def _kind(line: DueLine) -> tuple[str, str, str]:
    """What is alike in jobs of an engine that are due for one and the same reason alone, as what was never done is."""
    return (line.engine, line.state, line.reasons[0]) if len(line.reasons) == 1 and line.code else ALONE


def _told(lines: list[DueLine]) -> Iterator[str]:
    state = ""
    for line in lines:
        if line.state != state:
            state = line.state
            yield from ("", state.capitalize())
        yield f"  {line.engine:<6} {line.code:<3}  {line.title}"
        yield from (f"{'':14}{reason}" for reason in line.reasons)
        if line.before and line.state != IN_DATE:
            yield f"{'':14}before {line.before}"
        if line.job:
            yield f"{'':14}last done: {line.last_done}"


def _worth_saying(problems: list[Problem]) -> list[Problem]:
    """The problems, but for the names that engine types lack, which a line says."""
    for one in problems:
        if one.name == NOT_FITTING:
            click.echo(f"{one.path}: {one.message}; docgen proof says which.", err=True)
    return [one for one in problems if one.name != NOT_FITTING]


def _quiet(engines: list[Quiet]) -> Iterator[str]:
    if engines:
        yield from ("", "No running entered for two months or more")
    for one in engines:
        since = f"none {'entered' if one.ever else 'ever entered; in the record'} since {one.since.isoformat()}"
        held = f", though {counted(one.rounds, 'round')} of the season went by" if one.rounds else ""
        yield f"  {one.engine:<6} {since}{held}"


def _usual(lines: list[DueLine]) -> Iterator[str]:
    usual = {line.engine: (line.usual, line.own) for line in lines}
    yield ""
    for engine, (hours, own) in sorted(usual.items()):
        whose = "its own last meetings" if own else "the club's figure: it has too few meetings of its own"
        yield f"Engine {engine} runs {hours:.1f} h at a meeting ({whose})."
