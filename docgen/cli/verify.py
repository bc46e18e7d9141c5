"""Check the record: every file of every log."""

from collections.abc import Iterator
from pathlib import Path

import click

from docgen.cli import _options as option
from docgen.cli._saying import report, say_json
from docgen.cli.frame import Session
from docgen.club.files import subfolders
from docgen.club.log import SHORT
from docgen.club.problem import Problem, counted, visible
from docgen.desk.choosing import engines_named
from docgen.returns.strays import strays, taken_away
from docgen.returns.verify import DIGEST, Verified, against_head, verify


@option.command("Check that the record is as it was written.", "docgen verify", "docgen verify 017 --head 4cb500fc2c6f")
@option.engines
@click.option("--head", metavar="DIGITS", help="The log's digits from a sheet or card, to find missing last events.")
@click.option("--tidy", is_flag=True, help="Take away what was left unfinished an hour ago or more.")
@option.json
def command(session: Session, engines: tuple[str, ...], head: str | None, tidy: bool, as_json: bool) -> bool:
    """Walk the log of ENGINES (or of all) and name every file that was changed, removed, exchanged or added.

    Each event bears the digest of its own bytes and names the digest of the one before it. That shows everything but
    events taken off the end; with --head those show too. It does not show a log that was written anew as a whole.
    """
    if head is not None and len(engines) != 1:
        raise click.UsageError("--head is for one engine: say which")
    if head is not None and not DIGEST.fullmatch(head.lower()):
        raise click.UsageError(f'"{head}" is no head: it has at least twelve digits, printed behind "log" on a sheet')
    folder = session.read()
    engines_named(folder, engines)
    found = [verify(session.root, number) for number in engines or subfolders(session.root / "engines")]
    paths = tuple(f"engines/{one.number}/" for one in found)
    problems = {p for one in found for p in one.problems} | {
        p for p in folder.problems if p.name in ("unfinished-move", "component-twice") and p.path.startswith(paths)
    }
    rows = [row for one in found for row in _rows(one)] or ["There are no engines yet."]
    if head is not None:
        more, problem = _since(found[0], head.lower())
        rows += more
        problems |= {problem} if problem else set()
    left = [] if engines else strays(session.root)
    rows += [f"{path} was left by something that was cut off; it is no part of anything (--tidy takes it away)"
             for path in left]  # fmt: skip
    if tidy:
        rows += list(_tidied(session.root, [*(path for one in found for path in one.history.unfinished), *left]))
    if as_json:
        say_json([_plain(one, sorted(problems)) for one in found])
    else:
        click.echo("\n".join([*map(visible, rows), "", _total(found, len(problems), head is not None)]))
        report(sorted(problems))
    return bool(problems)


def _rows(one: Verified) -> Iterator[str]:
    history = one.history
    if not history.files:
        yield f"{one.number}  no event yet"
    else:
        ends = " + ".join(page.digest[:SHORT] for page in history.heads)
        span = f"{history.first} to {history.last}"
        state = counted(len(one.problems), "problem") if one.problems else "whole"
        yield f"{one.number}  {counted(len(history.files), 'event')}, {span}, {state}; it ends with {ends}"
    yield from (f"  {note}" for note in one.notes)


def _since(one: Verified, head: str) -> tuple[list[str], Problem | None]:
    page, problem = against_head(one.history, f"engines/{one.number}/log", head)
    if page is None:
        return [], problem
    later = one.history.since(page)
    said = "nothing was filed after it" if not later else f"filed after it: {counted(len(later), 'event')}"
    return [f"  {head[:SHORT]} is in the log, as {page.name}; {said}", *(f"    {p.name}" for p in later)], None


def _tidied(root: Path, paths: list[str]) -> Iterator[str]:
    for path in paths:
        gone = taken_away(root, path)
        yield f"{path} taken away" if gone else f"{path} is new: somebody may be filing; left alone"


def _total(found: list[Verified], problems: int, headed: bool) -> str:
    events = sum(len(one.history.files) for one in found)
    what = f"{counted(len(found), 'log')}, {counted(events, 'event')}"
    if problems:
        return f"{what}: {counted(problems, 'problem')}."
    end = "" if headed else " Events missing from an end show only against a printed head: --head."
    return f"{what}: every file is as it was written, and stands where it was.{end}"


def _plain(one: Verified, problems: list[Problem]) -> dict[str, object]:
    own = [p.to_json() for p in problems if p in one.problems or p.path.startswith(f"engines/{one.number}/")]
    return {"engine": one.number, "events": len(one.history.files), "heads": [p.digest for p in one.history.heads],
            "problems": own, "notes": list(one.notes)}  # fmt: skip
