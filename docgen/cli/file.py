"""Put filled or photographed sign-off sheets into the record."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace
from datetime import date
from functools import partial
from pathlib import Path

import click

from docgen.cli import _options as option
from docgen.cli._page import has_page
from docgen.cli._saying import say_json
from docgen.cli._settle import Settled, Wishes, refusal, settle
from docgen.cli.frame import Session
from docgen.club.problem import counted, visible
from docgen.club.store import StoreError
from docgen.desk.filing import Paper as Kept
from docgen.desk.inbox import Given, inbox, is_picture, sheet_in, unclear_ticks
from docgen.desk.system import given_file
from docgen.returns.apart import PICTURE_BYTES
from docgen.returns.diagnostic import Refused


@option.command(
    "Put filled or photographed sign-off sheets into the record.",
    "docgen file out/017/017-CLU-sign-off.pdf", "docgen file inbox", "docgen file photographs",
    'docgen file again.pdf --correct "the engine has run"',
)  # fmt: skip
@click.argument("papers", nargs=-1, required=True, type=click.Path(path_type=Path))
@click.option("--engine", shell_complete=option.engine_names, help="Refuse sheets of any other engine.")
@click.option("--yes", is_flag=True, help="File without asking; what must be asked is then not filed.")
@option.accept
@click.option("--correct", metavar="WHY", default="", help="File a sheet again in the place of its first filing.")
@option.issue
@option.filed_on
@option.terminal
@option.json
def command(
    session: Session, papers: tuple[Path, ...], engine: str | None, yes: bool, accepted: tuple[str, ...], correct: str,
    issue: str, on: date, terminal: bool, as_json: bool,
) -> None:  # fmt: skip
    """File PAPERS: sign-off sheets that were filled in as PDF and saved, photographs or scans of sheets that were
    signed by pen; or every one that lies in a folder.

    Each is shown as it was understood before anything is written. The paper is kept under engines/NNN/signed/.
    Of a photograph the ticks are read; what is written by hand you type beside its picture, on a page that opens in
    the browser. Without a photograph a sheet is typed in with: docgen enter
    """
    wishes = Wishes(on, yes or as_json, accepted, correct, say=partial(click.echo, err=as_json))
    found: list[tuple[Path, Settled]] = []
    given = inbox(papers)
    if not given:
        raise click.UsageError("there is no PDF and no picture in what was named")
    left_out = 0
    for one in given.papers:
        settled = _one(session, one, engine or "", issue, wishes)
        if settled is None:
            left_out += 1
        else:
            found.append((one.path, settled))
    if given.pictures:
        found += _photographs(session, given.pictures, engine or "", wishes, has_page(terminal or yes or as_json))
    if as_json:
        say_json([_plain(path, settled) for path, settled in found])
    elif len(given) > 1:
        click.echo(_summary([settled for _, settled in found], left_out))
    if any(settled.state == "not filed" for _, settled in found):
        raise click.exceptions.Exit(1)


def _photographs(
    session: Session, paths: dict[Path, bool], engine: str, wishes: Wishes, page: bool
) -> list[tuple[Path, Settled]]:
    """File pictures; a PDF that was not named and only lies in a folder may well be none of a sheet."""
    from docgen.cli._photographs import file_photographs

    folder, files = session.read(), []
    found: list[tuple[Path, Settled]] = []
    for path, named in paths.items():
        try:
            files.append((path, given_file(path, PICTURE_BYTES, named=named)))
        except Refused as refused:
            wishes.say(f"\n{visible(str(path))}")
            found.append((path, refusal(refused, wishes)))
    try:
        perhaps = {path for path in paths if not paths[path] and not is_picture(path)}
        return found + file_photographs(folder, files, engine, wishes, page, perhaps)
    except StoreError as error:
        return [*found, (next(iter(paths)), refusal(error, wishes))]


def _one(session: Session, one: Given, engine: str, issue: str, wishes: Wishes) -> Settled | None:
    """File one PDF; None for one that only lies in a folder and is no filled sign-off sheet."""
    folder = session.read()
    try:
        sheet = sheet_in(folder, one, engine, issue)
        if sheet is None or one.paper is None:
            return None
        wishes.say(f"\n{visible(str(one.path))}")
    except Refused as refused:
        wishes.say(f"\n{visible(str(one.path))}")
        return refusal(refused, wishes)
    try:
        wishes = replace(wishes, also=unclear_ticks(one.paper))
        return settle(folder, sheet, one.paper.form.fields, wishes, (Kept(one.data),))
    except (StoreError, OSError) as error:
        return refusal(error, wishes)


def _summary(settled: Sequence[Settled], left_out: int) -> str:
    counts = Counter(one.state for one in settled)
    told = [f"{count} {state}" for state, count in counts.items()]
    told += [f"{counted(left_out, 'file')} left out, being no filled sign-off sheet"] if left_out else []
    return f"\n{', '.join(told)}."


def _plain(path: Path, settled: Settled) -> dict[str, object]:
    said = [{"weight": s.weight, "name": s.name, "message": s.message, "field": s.field} for s in settled.said]
    return {"path": str(path), "state": settled.state, "sheet": settled.sheet, "engine": settled.engine,
            "event": settled.event, "said": said}  # fmt: skip
