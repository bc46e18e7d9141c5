"""Print the bench leaf and the sign-off sheet."""

from __future__ import annotations

import contextlib
import sys
from collections.abc import Iterable
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, TextIO

import click

from docgen.cli import _breaks as breaks
from docgen.cli import _options as option
from docgen.cli._saying import counted, report, say_json
from docgen.cli._system import laid_aside, shown
from docgen.cli._unchanged import Stamps
from docgen.cli.frame import INTERRUPTED, Session

if TYPE_CHECKING:  # what is not printed needs none of these
    from click._termui_impl import ProgressBar

    from docgen.club.folder import Folder
    from docgen.desk.jobsheets import Sheet, Wish


MEND = "Mend the faults, or print with --unproofed and have the sheet say so."


@option.command(
    "Print the sheets that are due, or those named.",
    "docgen print 017",
    "docgen print 017 --job CLU",
    "docgen print --due",
    "docgen print --blank alder-100r --job CLU",
)
@option.engines
@option.jobs
@option.due
@option.on
@option.language
@option.out("Where the PDFs go.")
@click.option("--blank", metavar="MODEL", help="A blank set: the sheets for an engine of this type without a record.")
@click.option("--unproofed", is_flag=True, help="Print although proofing finds faults; the sheet says so.")
@option.processes
@option.json
def command(
    session: Session, engines: tuple[str, ...], jobs: tuple[str, ...], only_due: bool, on: date, out: Path | None,
    blank: str | None, unproofed: bool, processes: int | None, as_json: bool,
) -> None:  # fmt: skip
    """Print the sheets for ENGINES (or all): the jobs named with --job, or all that is due.

    Each print is numbered, and its job is kept under engines/NNN/issued/. A blank set has no engine's number and is not
    kept: fill it in by pen, and type it in once the engine has its record.
    """
    if blank is not None:
        if engines or only_due or as_json:
            raise click.UsageError("--blank goes with --job, --on, --out and --unproofed only: there is no engine")
        from docgen.cli._blank import print_blank

        print_blank(session.read(), blank, jobs, on, out, unproofed)
        return
    if not engines and not jobs and not only_due:
        raise click.UsageError("say what to print: an engine, a --job, or --due for all that is due")
    out = out or session.root / "out"
    words = ("print", *engines, "--job", *jobs, f"--due={only_due}", f"--on={on}", session.language, f"{unproofed}")
    stamps = Stamps(session.root, out, words)
    if (before := stamps.unchanged()) is not None:
        rows = [{**one, "path": str(out / one["path"])} for one in before]
        if as_json:
            say_json(rows)
        else:
            pages = sum(one["pages"] for one in rows)
            told = f"{counted(len(rows), 'sheet')} on {counted(pages, 'page')}"
            click.echo(f"Nothing changed: {told} lie in {shown(out)}/ as they were printed, as of {on.isoformat()}.")
        return
    from docgen.cli._wanted import wanted_jobs

    folder = session.read()
    wanted = wanted_jobs(folder, engines, jobs, only_due, on)
    for want in wanted:
        if want.procedure.value.gathers:
            code, engine = want.procedure.value.code, want.record.engine.engine
            click.echo(f"{code} gathers other jobs: docgen visit {engine} --job {code} prints them as one.", err=True)
    left = ""
    if report(sorted({p for want in wanted for p in want.faults})) and not unproofed:
        faulty = [want for want in wanted if want.faults]
        wanted = [] if engines else [want for want in wanted if not want.faults]
        if not wanted:
            click.echo(f"Nothing was printed. {MEND}", err=True)
            raise click.exceptions.Exit(1)
        names = (f"{want.record.engine.engine} {want.procedure.value.code}" for want in faulty)
        left = f"Not printed: {', '.join(names)}. {MEND}"
    from docgen.desk.pressing import Asked

    of_each = (Asked(w.record, w.procedure.value.procedure, on, w.why, len(w.faults)) for w in wanted)
    engines_in = {want.record.engine.engine for want in wanted}
    printed = print_jobs(folder, of_each, engines_in, len(wanted), on, out, processes, as_json, left)
    if any(problem.level == "error" for problem in folder.problems):
        return  # they are to be said the next time as well
    with contextlib.suppress(OSError):
        inside = [{**_plain(p), "path": p.path.relative_to(out).as_posix()} for p in printed]
        stamps.keep([p.path for p in printed], inside)


def print_jobs(
    folder: Folder, jobs: Iterable[Wish], engines: Iterable[str], many: int, on: date, out: Path,
    processes: int | None, as_json: bool, unprinted: str = "",
) -> list[Sheet]:  # fmt: skip
    """Print both sheets of each job, with its number, and say so. Ends with 1 where one could not be printed.

    unprinted : what is to be said of jobs that were left out
    """
    from docgen.desk.pressing import press_sheets, ready
    from docgen.press.errors import NO_FACE

    for number in engines:
        ready(out / number)
    made: list[Sheet] = []
    with progress(2 * many, sys.stderr) as bar:

        def watch(sheet: Sheet) -> None:
            made.append(sheet)
            bar.update(1, bar.time_per_iteration)
            if sheet.aside is not None:
                click.echo(laid_aside(sheet.aside), err=True)

        with contextlib.suppress(KeyboardInterrupt), breaks.between_pieces():
            made = press_sheets(folder, breaks.up_to_a_break(jobs), out, many=many, processes=processes, watch=watch)
    left = 2 * many - len(made)
    printed = [sheet for sheet in made if not sheet.faults]
    if as_json:
        say_json([_plain(p) for p in printed])
    elif printed or not left:
        click.echo(_summary(printed, on))
    if left:
        sheets = counted(left, "sheet")
        click.echo(f"\nStopped: {sheets} not printed yet; the same command of the same day prints the rest.", err=True)
        raise click.exceptions.Exit(INTERRUPTED)
    faults = list(dict.fromkeys(fault for sheet in made for fault in sheet.faults))
    for fault in (*faults, *([unprinted] if unprinted else [])):
        click.echo(fault, err=True)
    if any(not sheet.unmade and any(NO_FACE not in fault for fault in sheet.faults) for sheet in made):
        click.echo(
            "  hint: what does not fit its page is not printed. A shorter bench_distance in club.yaml (it is "
            f"{folder.club.value.bench_distance}) makes its type smaller; or cut the step in two", err=True,
        )  # fmt: skip
    if faults or unprinted:
        raise click.exceptions.Exit(1)
    return printed


def progress(sheets: int, file: TextIO) -> ProgressBar[float]:
    """How far the printing is, how fast it goes, and how long it will take; nothing where `file` is no terminal.

    Its items are the seconds that a sheet takes.
    """
    return click.progressbar(
        length=sheets, label="printing", show_pos=True, show_percent=False, show_eta=True, item_show_func=_rate,
        file=file, hidden=not file.isatty(),
    )  # fmt: skip


def _rate(seconds: float | None) -> str:
    if not seconds:
        return ""
    return f"{1 / seconds:.1f} sheets a second" if seconds < 1 else f"{60 / seconds:.0f} sheets a minute"


def _summary(printed: list[Sheet], on: date) -> str:
    if not printed:
        return f"Nothing to print on {on.isoformat()}."
    rows: list[str] = []
    engine = ""
    for one in printed:
        if one.engine != engine:
            engine = one.engine
            rows += ["", f"Engine {engine}, {one.model}, {one.keeper}"]
        if one.kind != "sign-off":
            rows.append(f"  {one.title} ({one.why or 'asked for'})")
        rows.append(f"    {one.kind:<10} {counted(one.pages, 'page'):>8}  {shown(one.path)}")
    pages = sum(one.pages for one in printed)
    engines = len({one.engine for one in printed})
    total = f"{counted(len(printed), 'sheet')} on {counted(pages, 'page')} for {counted(engines, 'engine')}"
    rows += ["", f"{total}, as of {on.isoformat()}.", f"Open first: {shown(printed[0].path)}"]
    return "\n".join(rows).lstrip("\n")


def _plain(one: Sheet) -> dict[str, object]:
    return {"engine": one.engine, "job": one.job, "sheet": one.kind, "number": one.number,
            "pages": one.pages, "path": str(one.path), "why": one.why}  # fmt: skip
