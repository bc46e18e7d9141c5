"""Put filled or photographed sign-off sheets into the record."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date
from functools import partial
from pathlib import Path

import click

from docgen.camera.shot import ENDINGS, lacking
from docgen.cli import _options as option
from docgen.cli._page import has_page
from docgen.cli._saying import say_json
from docgen.cli._settle import Settled, Wishes, refusal, settle
from docgen.cli._system import refused_by_system
from docgen.cli.frame import Session
from docgen.club.files import beginning
from docgen.club.problem import counted, visible
from docgen.club.store import StoreError
from docgen.desk.filing import Paper as Kept
from docgen.job.number import SIGNOFF
from docgen.returns.apart import PICTURE_BYTES, Paper, Reader
from docgen.returns.diagnostic import Refused, Said
from docgen.returns.form import MAX_BYTES
from docgen.returns.identity import sheet_of
from docgen.returns.writing import read_date

_NO_SHEETS = frozenset({"not-a-sign-off", "not-our-sheet", "nothing-filled-in"})
"""What may lie in a folder of sheets without anybody having meant to file it."""


@dataclass(frozen=True)
class Given:
    """One PDF that was named, or lies in a folder that was named, and what was read of it."""

    path: Path
    named: bool
    data: bytes = b""
    paper: Paper | None = None
    refused: Refused | None = None


@option.command(
    "Put filled or photographed sign-off sheets into the record.",
    "docgen file out/017/017-CLU-sign-off.pdf",
    "docgen file inbox",
    "docgen file photographs",
    'docgen file again.pdf --correct "the engine has run"',
)
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
    paths = list(_paths(papers))
    if not paths:
        raise click.UsageError("there is no PDF and no picture in what was named")
    with Reader() as reader:
        given = [_read(reader, path, named) for path, named in paths if not _is_picture(path)]
    scans = {one.path: one.named for one in given if one.paper is not None and _scanned(one.paper)}
    given = [one for one in given if one.path not in scans]
    pictures = scans | {path: named for path, named in paths if _is_picture(path)}
    left_out = 0
    for one in sorted(given, key=_day):
        settled = _one(session, one, engine or "", issue, wishes)
        if settled is None:
            left_out += 1
        else:
            found.append((one.path, settled))
    if pictures:
        found += _photographs(session, pictures, engine or "", wishes, has_page(terminal or yes or as_json))
    if as_json:
        say_json([_plain(path, settled) for path, settled in found])
    elif len(paths) > 1:
        click.echo(_summary([settled for _, settled in found], left_out))
    if any(settled.state == "not filed" for _, settled in found):
        raise click.exceptions.Exit(1)


def _paths(papers: Sequence[Path]) -> Iterator[tuple[Path, bool]]:
    for path in papers:
        if path.is_dir():
            inside = (one for one in sorted(path.rglob("*")) if one.suffix == ".pdf" or _is_picture(one))
            yield from ((one, False) for one in inside if one.is_file())
        else:
            yield path, True


def _is_picture(path: Path) -> bool:
    return path.suffix.lower().lstrip(".") in ENDINGS


def _scanned(paper: Paper) -> bool:
    """Whether a PDF has no fields, and what text it has names no sheet that stays at the bench: then it is a scan."""
    if paper.form.fields or lacking():
        return False
    letters = {text.rpartition("-")[0].rpartition("-")[2][:1] for text in paper.numbers if text}
    return letters <= {SIGNOFF}


def _photographs(
    session: Session, paths: dict[Path, bool], engine: str, wishes: Wishes, page: bool
) -> list[tuple[Path, Settled]]:
    """File pictures; a PDF that was not named and only lies in a folder may well be none of a sheet."""
    from docgen.cli._photographs import file_photographs

    folder, files = session.read(), []
    found: list[tuple[Path, Settled]] = []
    for path, named in paths.items():
        try:
            files.append((path, beginning(path, PICTURE_BYTES + 1, named=named)))
        except OSError as error:
            said = refused_by_system(error)
            wishes.say(f"\n{visible(str(path))}")
            found.append((path, refusal(Refused("unreadable-file", said.message, said.hint), wishes)))
    try:
        perhaps = {path for path in paths if not paths[path] and not _is_picture(path)}
        return found + file_photographs(folder, files, engine, wishes, page, perhaps)
    except StoreError as error:
        return [*found, (next(iter(paths)), refusal(Refused(error.name, error.message, error.hint), wishes))]


def _read(reader: Reader, path: Path, named: bool) -> Given:
    try:
        data = beginning(path, MAX_BYTES + 1, named=named)
    except OSError as error:
        said = refused_by_system(error)
        return Given(path, named, refused=Refused("unreadable-file", said.message, said.hint))
    try:
        return Given(path, named, data, reader.read(data))
    except Refused as refused:
        return Given(path, named, data, refused=refused)


def _day(one: Given) -> tuple[str, str]:
    """Sheets of one engine are filed in the order of the work."""
    try:
        day = read_date(one.paper.form.fields.get("work-completed", ""))[0] if one.paper else None
    except Refused:
        day = None
    return (day or date.max).isoformat(), str(one.path)


def _one(session: Session, one: Given, engine: str, issue: str, wishes: Wishes) -> Settled | None:
    """File one PDF; None for one that only lies in a folder and is no filled sign-off sheet."""
    folder = session.read()
    try:
        if one.paper is None:
            raise one.refused or Refused("unreadable-file", "it cannot be read")
        sheet = sheet_of(one.paper, folder, engine, issue)
        if not any(one.paper.form.fields.values()):
            raise Refused("nothing-filled-in", f"{sheet.text} is empty", "fill it in, save it, and file the saved file")
    except Refused as refused:
        if not one.named and (refused.said.name in _NO_SHEETS or _untouched(one.paper)):
            return None
        wishes.say(f"\n{visible(str(one.path))}")
        return refusal(refused, wishes)
    wishes.say(f"\n{visible(str(one.path))}")
    try:
        wishes = replace(wishes, also=_unclear(one.paper))
        return settle(folder, sheet, one.paper.form.fields, wishes, (Kept(one.data),))
    except StoreError as error:
        return refusal(Refused(error.name, error.message, error.hint), wishes)
    except OSError as error:
        return refusal(Refused("not-written", f"the file could not be kept: {error.strerror}"), wishes)


def _untouched(paper: Paper | None) -> bool:
    """Whether it has fields to fill in, and nobody wrote into any: such a print lies in a folder by itself."""
    return paper is not None and bool(paper.form.fields) and not any(paper.form.fields.values())


def _unclear(paper: Paper) -> tuple[Said, ...]:
    names = paper.form.unclear
    if not names:
        return ()
    message = f"{len(names)} of the tick boxes look otherwise than the file says, the first: {names[0]}"
    hint = "open it in the viewer it was filled in, and save it again; or look whether what is shown above is right"
    return (Said("doubt", "tick-unclear", message, hint, names[0]),)


def _summary(settled: Sequence[Settled], left_out: int) -> str:
    counts = Counter(one.state for one in settled)
    told = [f"{count} {state}" for state, count in counts.items()]
    told += [f"{counted(left_out, 'file')} left out, being no filled sign-off sheet"] if left_out else []
    return f"\n{', '.join(told)}."


def _plain(path: Path, settled: Settled) -> dict[str, object]:
    said = [{"weight": s.weight, "name": s.name, "message": s.message, "field": s.field} for s in settled.said]
    return {"path": str(path), "state": settled.state, "sheet": settled.sheet, "engine": settled.engine,
            "event": settled.event, "said": said}  # fmt: skip
