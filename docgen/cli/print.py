"""Print the bench leaf and the sign-off sheet."""

import contextlib
from datetime import date
from pathlib import Path
from typing import Any

import click

from docgen.cli import _options as option
from docgen.cli._saying import say_json, warn
from docgen.cli._stamps import Stamps
from docgen.cli.frame import Session
from docgen.club.problem import counted
from docgen.desk.system import short_path


@option.command(
    "Print the sheets that are due, or those named.",
    "docgen print 017", "docgen print 017 --job CLU", "docgen print --due", "docgen print --blank alder-100r --job CLU",
)  # fmt: skip
@option.engines
@option.jobs
@option.due
@option.pages("Where the PDFs go.")
@click.option("--blank", metavar="MODEL", help="A blank set: the sheets for an engine of this type without a record.")
@click.option("--unproofed", is_flag=True, help="Print although proofing finds faults; the sheet says so.")
@option.processes
@option.json
def command(
    session: Session, engines: tuple[str, ...], jobs: tuple[str, ...], only_due: bool, on: date, out: Path,
    blank: str | None, unproofed: bool, processes: int | None, as_json: bool,
) -> None:  # fmt: skip
    """Print the sheets for ENGINES (or all): the jobs named with --job, or all that is due.

    Each print is numbered, and its job is kept under engines/NNN/issued/. A blank set has no engine's number and is not
    kept: fill it in by pen, and type it in once the engine has its record.
    """
    if blank is not None:
        if engines or only_due or as_json:
            raise click.UsageError("--blank goes with --job, --on, --out and --unproofed only: there is no engine")
        _print_blank(session, blank, jobs, on, out, unproofed)
        return
    if not engines and not jobs and not only_due:
        raise click.UsageError("say what to print: an engine, a --job, or --due for all that is due")
    words = ("print", *engines, "--job", *jobs, f"--due={only_due}", f"--on={on}", session.language, f"{unproofed}")
    stamps = Stamps(session.root, out, words)
    if (before := stamps.unchanged()) is not None:
        _say_again([{**one, "path": str(out / one["path"])} for one in before], on, out, as_json)
        return
    from docgen.cli._printing import plain, print_jobs
    from docgen.desk.pressing import Asked
    from docgen.desk.selection import printable, wanted_jobs

    folder = session.read()
    wanted = wanted_jobs(folder, engines, jobs, on, only_due=only_due, say=warn)
    wanted, left = printable(wanted, asked=bool(engines), unproofed=unproofed, say=warn)
    of_each = (Asked(w.record, w.procedure.value.procedure, on, w.why, len(w.faults)) for w in wanted)
    engines_in = {want.record.engine.engine for want in wanted}
    printed = print_jobs(folder, of_each, engines_in, len(wanted), on, out, processes, as_json, left)
    if any(problem.level == "error" for problem in folder.problems):
        return  # they are to be said the next time as well
    with contextlib.suppress(OSError):
        inside = [{**plain(p), "path": p.path.relative_to(out).as_posix()} for p in printed]
        stamps.keep([p.path for p in printed], inside)


def _say_again(rows: list[dict[str, Any]], on: date, out: Path, as_json: bool) -> None:
    """What was said when all was as it is now."""
    if as_json:
        say_json(rows)
        return
    told = f"{counted(len(rows), 'sheet')} on {counted(sum(one['pages'] for one in rows), 'page')}"
    click.echo(f"Nothing changed: {told} lie in {short_path(out)}/ as they were printed, as of {on.isoformat()}.")


def _print_blank(session: Session, model: str, jobs: tuple[str, ...], on: date, out: Path, unproofed: bool) -> None:
    from docgen.cli._printing import print_pages
    from docgen.desk.wall import blank_sheets

    wishes, faults = blank_sheets(session.read(), model, jobs, on, out, unproofed=unproofed)
    warn(faults)
    print_pages(session.root, wishes)
