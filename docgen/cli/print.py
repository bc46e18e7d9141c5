"""Print the bench leaf and the sign-off sheet."""

from __future__ import annotations

import sys
from dataclasses import dataclass
from datetime import date
from pathlib import Path

import click

from docgen.cli._blank import print_blank
from docgen.cli._system import put, ready, shown
from docgen.cli._wanted import Wanted, wanted_jobs
from docgen.cli.frame import (
    Session,
    complete_engines,
    complete_jobs,
    counted,
    examples,
    json_option,
    language_option,
    on_option,
    report,
    say_json,
)
from docgen.club.folder import Folder
from docgen.job.issued import issue, number_of
from docgen.job.job import Job
from docgen.job.resolve import resolve


@dataclass(frozen=True)
class Printed:
    """A printed sheet: whose, which, and where it lies."""

    job: Job
    sheet: str
    path: Path
    pages: int


@click.command(
    short_help="Print the sheets that are due, or those named.",
    epilog=examples(
        "docgen print 017",
        "docgen print 017 --job CLU",
        "docgen print --due",
        "docgen print --blank alder-100r --job CLU",
    ),
)
@click.argument("engines", nargs=-1, shell_complete=complete_engines)
@click.option(
    "--job", "jobs", multiple=True, shell_complete=complete_jobs, help="A job, by name or sheet code; may be repeated."
)
@click.option("--due", "only_due", is_flag=True, help="Only what is overdue or due.")
@on_option
@language_option
@click.option("--out", type=click.Path(path_type=Path), help="Where the PDFs go.  [default: out/ in the club's folder]")
@click.option("--blank", metavar="MODEL", help="A blank set: the sheets for an engine of this type without a record.")
@click.option("--unproofed", is_flag=True, help="Print although proofing finds faults; the sheet says so.")
@click.option("--processes", type=click.IntRange(1, 64), help="How many to print side by side.")
@json_option
@click.pass_obj
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
        print_blank(session.read(), blank, jobs, on, out, unproofed)
        return
    if not engines and not jobs and not only_due:
        raise click.UsageError("say what to print: an engine, a --job, or --due for all that is due")
    folder = session.read()
    wanted = wanted_jobs(folder, engines, jobs, only_due, on)
    if report(sorted({p for want in wanted for p in want.faults})) and not unproofed:
        click.echo(
            "Nothing was printed. Mend the faults, or print with --unproofed and have the sheet say so.", err=True
        )
        raise click.exceptions.Exit(1)
    printed, faults = _press(folder, wanted, on, out or folder.root / "out", processes)
    if as_json:
        say_json([_plain(p) for p in printed])
    else:
        click.echo(_summary(printed, on))
    for fault in faults:
        click.echo(fault, err=True)
    if faults:
        assert folder.club is not None
        click.echo(
            "  hint: what does not fit its page is not printed. A shorter bench_distance in club.yaml (it is "
            f"{folder.club.value.bench_distance}) makes its type smaller; or cut the step in two", err=True,
        )  # fmt: skip
        raise click.exceptions.Exit(1)


def _press(
    folder: Folder, wanted: list[Wanted], on: date, out: Path, processes: int | None
) -> tuple[list[Printed], list[str]]:
    from docgen.press.orders import order
    from docgen.press.workers import Order, press_all
    from docgen.sheets.leaf import leaf
    from docgen.sheets.signoff import signoff

    assert folder.club is not None
    club = folder.club.value
    orders: list[Order] = []
    jobs: dict[str, tuple[Job, str, Path]] = {}
    for number in {want.record.engine.engine for want in wanted}:
        ready(out / number)
    for want in wanted:
        number = want.record.engine.engine
        job = resolve(folder, want.record, want.procedure, on, why_due=want.why, unproofed=len(want.faults))
        job = issue(folder.root / "engines" / number / "issued", job)
        for sheet, page in (("leaf", leaf(job, club)), ("sign-off", signoff(job, club))):
            key = f"{number_of(job).text} {sheet}"
            jobs[key] = (job, sheet, out / number / f"{number}-{job.instructions.code}-{sheet}.pdf")
            orders.append(order(key, page, job, club.club, forms=sheet == "sign-off"))
    printed: list[Printed] = []
    faults: list[str] = []
    with click.progressbar(
        length=len(orders), label="printing", show_pos=True, show_percent=False, show_eta=False,
        file=sys.stderr, hidden=not sys.stderr.isatty(),
    ) as bar:  # fmt: skip
        outcomes = press_all(orders, processes=processes, progress=lambda *_: bar.update(1))
    for outcome in outcomes:
        job, sheet, path = jobs[outcome.key]
        if outcome.pressed is None:
            faults += [f"{outcome.key}: {fault}" for fault in outcome.faults]
            continue
        put(path, outcome.pressed.pdf)
        printed.append(Printed(job, sheet, path, outcome.pressed.pages))
    return printed, faults


def _summary(printed: list[Printed], on: date) -> str:
    if not printed:
        return f"Nothing to print on {on.isoformat()}."
    rows: list[str] = []
    engine = ""
    for one in printed:
        told = one.job.instructions
        if told.engine != engine:
            engine = told.engine
            rows += ["", f"Engine {engine}, {told.model_title}, {one.job.issue.keeper}"]
        if one.sheet != "sign-off":
            rows.append(f"  {told.title} ({one.job.issue.why_due or 'asked for'})")
        rows.append(f"    {one.sheet:<10} {counted(one.pages, 'page'):>8}  {shown(one.path)}")
    pages = sum(one.pages for one in printed)
    engines = len({one.job.instructions.engine for one in printed})
    total = f"{counted(len(printed), 'sheet')} on {counted(pages, 'page')} for {counted(engines, 'engine')}"
    rows += ["", f"{total}, as of {on.isoformat()}.", f"Open first: {shown(printed[0].path)}"]
    return "\n".join(rows).lstrip("\n")


def _plain(one: Printed) -> dict[str, object]:
    told = one.job.instructions
    return {"engine": told.engine, "job": told.procedure, "sheet": one.sheet, "number": number_of(one.job).text,
            "pages": one.pages, "path": str(one.path), "why": one.job.issue.why_due}  # fmt: skip
