"""Put signed sign-off sheets into the record: filled, photographed, or typed in from paper."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from docgen.cli import _options as option
from docgen.cli._page import has_page, on_page
from docgen.cli._saying import say_json
from docgen.cli.frame import Session
from docgen.club.problem import counted

if TYPE_CHECKING:
    from docgen.desk.settling import Clerk, Settled


@option.command(
    "Put filled or photographed sign-off sheets into the record.",
    "docgen file out/017/017-CLU-sign-off.pdf", "docgen file inbox", "docgen file photographs",
    'docgen file again.pdf --correct "the engine has run"',
)  # fmt: skip
@click.argument("papers", nargs=-1, required=True, type=click.Path(path_type=Path))
@click.option("--engine", shell_complete=option.engine_names, help="Refuse sheets of any other engine.")
@option.yes("File without asking; what must be asked is then not filed.")
@option.accept
@click.option("--correct", metavar="WHY", default="", help="File a sheet again in the place of its first filing.")
@option.issue
@option.filed_on
@option.terminal
@option.json
def file(
    session: Session, papers: tuple[Path, ...], engine: str | None, correct: str, issue: str, on: date, terminal: bool,
    as_json: bool,
) -> bool:  # fmt: skip
    """File PAPERS: sign-off sheets that were filled in as PDF and saved, photographs or scans of sheets that were
    signed by pen; or every one that lies in a folder.

    Each is shown as it was understood before anything is written. The paper is kept under engines/NNN/signed/.
    Of a photograph the ticks are read; what is written by hand you type beside its picture, on a page that opens in
    the browser. Without a photograph a sheet is typed in with: docgen enter
    """
    from docgen.desk.asking import Unanswered
    from docgen.desk.inbox import inbox
    from docgen.desk.settling import Clerk

    session.aside, session.quiet = as_json, session.quiet or as_json
    given, pictures = inbox(papers)
    if not given and not pictures:
        raise click.UsageError("there is no PDF and no picture in what was named")
    found: list[tuple[Path, Settled]] = []
    left_out = 0
    try:
        for one in given:
            if (settled := Clerk(session, session.read(), on, correct).file_paper(one, engine or "", issue)) is None:
                left_out += 1
            else:
                found.append((one.path, settled))
        if pictures:
            found += _pictures(Clerk(session, session.read(), on, correct), pictures, engine or "", terminal)
    except Unanswered:
        raise click.Abort from None
    if as_json:
        say_json([_plain(path, settled) for path, settled in found])
    elif len(given) + len(pictures) > 1:
        click.echo(_summary([settled for _, settled in found], left_out))
    return any(settled.state == "not filed" for _, settled in found)


def _pictures(clerk: Clerk, pictures: dict[Path, bool], engine: str, terminal: bool) -> list[tuple[Path, Settled]]:
    from docgen.camera.shot import lacking

    if way := lacking():
        raise click.ClickException(way)
    from docgen.desk.photographs import file_pictures

    page = on_page if has_page(terminal or clerk.who.quiet) else None
    return list(file_pictures(clerk, pictures, engine, page))


def _summary(settled: Sequence[Settled], left_out: int) -> str:
    counts = Counter(one.state for one in settled)
    told = [f"{count} {state}" for state, count in counts.items()]
    told += [f"{counted(left_out, 'file')} left out, being no filled sign-off sheet"] if left_out else []
    return f"\n{', '.join(told)}."


def _plain(path: Path, settled: Settled) -> dict[str, object]:
    said = [{"weight": s.weight, "name": s.name, "message": s.message, "field": s.field} for s in settled.said]
    return {"path": str(path), "state": settled.state, "sheet": settled.sheet, "engine": settled.engine,
            "event": settled.event, "said": said}  # fmt: skip


@option.command(
    "Type in a sign-off sheet that was filled in by pen.",
    "docgen enter 017-CLU-04-003-S1-2", "docgen enter 017-CLU-04-003-S1-2 --after-run",
    'docgen enter 017-CLU-04-003-S1-2 --correct "drum bore misread"',
)  # fmt: skip
@click.argument("number")
@option.accept
@click.option("--correct", metavar="WHY", default="", help="Put right what was filed, from what was filed on.")
@click.option("--after-run", "after_run", is_flag=True, help="Add the checks after the first run.")
@click.option("--every", is_flag=True, help="Ask for every box, in the order of the paper.")
@option.by
@option.issue
@option.filed_on
@option.terminal
def enter(
    session: Session, number: str, correct: str, after_run: bool, every: bool, on: date, terminal: bool, **given: Any
) -> bool:
    """Type in the sign-off sheet NUMBER, and file it: on a page that opens in the browser, or here.

    The number stands at the foot of every page, as in 017-CLU-04-003-S1-2. Here, what all went as the sheet asks for is
    taken at once; asked are the readings, what was not so, and the findings. With --every, each box is asked for.
    What was typed is kept after every box: the same command goes on where it stopped.
    """
    from docgen.club.store import StoreError
    from docgen.desk.asking import Unanswered
    from docgen.desk.entering import add_checks, enter_sheet
    from docgen.desk.walking import KEPT, Stopped
    from docgen.returns.diagnostic import Refused

    folder = session.read()
    try:
        if after_run:
            add_checks(session, folder, number, on, **given)
            return False
        page = on_page if has_page(terminal or every or bool(correct)) else None
        filed = enter_sheet(session, folder, number, on, correct=correct, every=every, page=page, **given)
    except (Stopped, Unanswered) as stopped:
        click.echo(KEPT)
        raise click.exceptions.Exit(0 if isinstance(stopped, Stopped) else 1) from None
    except (Refused, StoreError) as error:
        raise click.ClickException(str(error)) from None
    except OSError as error:
        raise click.ClickException(f"it could not be kept: {error.strerror}") from None
    return not filed
