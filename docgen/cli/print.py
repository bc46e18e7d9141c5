"""Print the bench checklist and the sign-off sheet."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path

import click
from rich.console import Console
from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn

from docgen.cli.frame import (
    Session,
    chosen_engines,
    chosen_jobs,
    complete_engines,
    complete_jobs,
    counted,
    json_option,
    on_option,
    report,
    say_json,
)
from docgen.club.folder import EngineRecord, Folder, Read
from docgen.club.schema.procedure import Procedure
from docgen.club.store import replace
from docgen.job.expand import applies
from docgen.job.issued import issue, number_of
from docgen.job.job import Job
from docgen.job.resolve import resolve
from docgen.plan.due import DUE, OVERDUE, DueLine, due_list


@dataclass(frozen=True)
class Wanted:
    """One job on one engine, and why it is printed."""

    record: EngineRecord
    procedure: Read[Procedure]
    why: str = ""


@dataclass(frozen=True)
class Printed:
    """A printed sheet: whose, which, and where it lies."""

    job: Job
    sheet: str
    path: Path
    pages: int


@click.command()
@click.argument("engines", nargs=-1, shell_complete=complete_engines)
@click.option(
    "--job", "jobs", multiple=True, shell_complete=complete_jobs, help="A job, by name or sheet code; may be repeated."
)
@click.option("--due", "only_due", is_flag=True, help="Only what is overdue or due.")
@on_option
@click.option("--out", type=click.Path(path_type=Path), help="Where the PDFs go.  [default: out/ in the club's folder]")
@click.option("--processes", type=click.IntRange(1, 64), help="How many to print side by side.")
@json_option
@click.pass_obj
def command(
    session: Session, engines: tuple[str, ...], jobs: tuple[str, ...], only_due: bool, on: date, out: Path | None,
    processes: int | None, as_json: bool,
) -> None:  # fmt: skip
    """Print the sheets for ENGINES (or all): the jobs named with --job, or all that is due.

    Each print is numbered, and its job is kept under engines/NNN/issued/.
    """
    if not engines and not jobs and not only_due:
        raise click.UsageError("say what to print: an engine, a --job, or --due for all that is due")
    folder = session.read()
    wanted, problems = _wanted(folder, engines, jobs, only_due, on)
    if problems:
        raise click.exceptions.Exit(1)
    printed, faults = _press(folder, wanted, on, out or folder.root / "out", processes)
    if as_json:
        say_json([_plain(p) for p in printed])
    else:
        click.echo(_summary(printed, on))
    for fault in faults:
        click.echo(fault, err=True)
    if faults:
        raise click.exceptions.Exit(1)


def _wanted(
    folder: Folder, engines: Sequence[str], jobs: Sequence[str], only_due: bool, on: date
) -> tuple[list[Wanted], int]:
    """What to print, and how many errors stand in the way."""
    records = chosen_engines(folder, engines) or list(folder.engines.values())
    named = chosen_jobs(folder, jobs)
    stopped = {p for r in records for p in folder.blocking(r.engine.engine)} if engines else set(folder.blocking())
    if stopped:
        return [], report(sorted(stopped))
    lines = {(line.engine, line.job): line for line in due_list(folder, on) if line.job}
    wanted = []
    for record in records:
        model = folder.models[record.engine.model].value
        for procedure in named or [folder.procedures[p.procedure] for p in folder.for_model(model)]:
            line = lines.get((record.engine.engine, procedure.value.procedure))
            pressing = line is not None and line.state in (OVERDUE, DUE)
            if applies(procedure.value, model) and (pressing or (named and not only_due)):
                wanted.append(Wanted(record, procedure, _why(line)))
            elif named and engines and not applies(procedure.value, model):
                message = (
                    f"{procedure.value.procedure} is not for {model.title}: it needs {', '.join(procedure.value.needs)}"
                )
                raise click.UsageError(message)
    return wanted, 0


def _why(line: DueLine | None) -> str:
    return f"{line.state}: {'; '.join(line.reasons)}" if line and line.reasons else ""


def _press(
    folder: Folder, wanted: list[Wanted], on: date, out: Path, processes: int | None
) -> tuple[list[Printed], list[str]]:
    from docgen.press.orders import order
    from docgen.press.workers import Order, Outcome, press_all
    from docgen.sheets.checklist import checklist
    from docgen.sheets.signoff import signoff

    assert folder.club is not None
    club = folder.club.value
    orders: list[Order] = []
    jobs: dict[str, tuple[Job, str, Path]] = {}
    for want in wanted:
        number = want.record.engine.engine
        job = issue(folder.root / "engines" / number / "issued",
                    resolve(folder, want.record, want.procedure, on, why_due=want.why))  # fmt: skip
        for sheet, page in (("checklist", checklist(job, club)), ("sign-off", signoff(job, club))):
            key = f"{number_of(job).text} {sheet}"
            jobs[key] = (job, sheet, out / number / f"{number}-{job.instructions.code}-{sheet}.pdf")
            orders.append(order(key, page, job, club.club, forms=sheet == "sign-off"))
    printed: list[Printed] = []
    faults: list[str] = []
    with _progress() as progress:
        task = progress.add_task("printing", total=len(orders))

        def done(count: int, total: int, outcome: Outcome) -> None:
            progress.update(task, completed=count, total=total)

        outcomes = press_all(orders, processes=processes, progress=done)
    for outcome in outcomes:
        job, sheet, path = jobs[outcome.key]
        if outcome.pressed is None:
            faults += [f"{outcome.key}: {fault}" for fault in outcome.faults]
        else:
            replace(path, outcome.pressed.pdf)
            printed.append(Printed(job, sheet, path, outcome.pressed.pages))
    return printed, faults


def _progress() -> Progress:
    return Progress(TextColumn("{task.description}"), BarColumn(), MofNCompleteColumn(), console=Console(stderr=True),
                    transient=True, disable=not sys.stderr.isatty())  # fmt: skip


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
        if one.sheet == "checklist":
            rows.append(f'  {told.title} ({one.job.issue.why_due or "asked for"})')
        rows.append(f'    {one.sheet:<10} {counted(one.pages, "page"):>8}  {_shown(one.path)}')
    pages = sum(one.pages for one in printed)
    engines = len({one.job.instructions.engine for one in printed})
    total = f'{counted(len(printed), "sheet")} on {counted(pages, "page")} for {counted(engines, "engine")}'
    rows += ["", f"{total}, as of {on.isoformat()}.", f"Open first: {_shown(printed[0].path)}"]
    return "\n".join(rows).lstrip("\n")


def _shown(path: Path) -> str:
    try:
        return str(path.resolve().relative_to(Path.cwd()))
    except ValueError:
        return str(path)


def _plain(one: Printed) -> dict[str, object]:
    told = one.job.instructions
    return {"engine": told.engine, "job": told.procedure, "sheet": one.sheet, "number": number_of(one.job).text,
            "pages": one.pages, "path": str(one.path), "why": one.job.issue.why_due}  # fmt: skip
