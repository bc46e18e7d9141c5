"""Print the bench leaf and the sign-off sheet."""

from __future__ import annotations

import contextlib
import dataclasses
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

import click

from docgen.cli._system import put, ready, shown
from docgen.cli._unchanged import Stamps
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

if TYPE_CHECKING:  # what is not printed needs none of these
    from docgen.cli._wanted import Wanted
    from docgen.club.folder import Folder
    from docgen.job.job import Job
    from docgen.press.workers import Order


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
    if report(sorted({p for want in wanted for p in want.faults})) and not unproofed:
        click.echo(
            "Nothing was printed. Mend the faults, or print with --unproofed and have the sheet say so.", err=True
        )
        raise click.exceptions.Exit(1)
    printed, faults = _press(folder, wanted, on, out, processes)
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
    with contextlib.suppress(OSError):
        inside = [{**_plain(p), "path": p.path.relative_to(out).as_posix()} for p in printed]
        stamps.keep([p.path for p in printed], inside)


def _press(
    folder: Folder, wanted: list[Wanted], on: date, out: Path, processes: int | None
) -> tuple[list[Printed], list[str]]:
    """Print what is wanted, each sheet written as soon as it is whole; what lies there as it would be is left."""
    from docgen.press.journal import Journal, digest_of
    from docgen.press.shelf import Shelf
    from docgen.press.workers import press_each

    for number in {want.record.engine.engine for want in wanted}:
        ready(out / number)
    journal = Journal(out)
    sheets: dict[str, tuple[int, Printed, str]] = {}
    done: dict[int, Printed] = {}
    faults: dict[int, list[str]] = {}

    def changed() -> Iterator[Order]:
        for at, (made, job, sheet, path) in enumerate(_orders(folder, wanted, on, out)):
            digest = digest_of(made)
            pages = journal.pages(path, digest)
            if pages is not None:
                done[at] = Printed(job, sheet, path, pages)
                bar.update(1)
                continue
            sheets[made.key] = (at, Printed(job, sheet, path, 0), digest)
            yield made

    with click.progressbar(
        length=2 * len(wanted), label="printing", show_pos=True, show_percent=False, show_eta=True,
        file=sys.stderr, hidden=not sys.stderr.isatty(),
    ) as bar:  # fmt: skip
        for outcome in press_each(changed(), processes=processes, many=2 * len(wanted), shelf=Shelf(out)):
            at, one, digest = sheets.pop(outcome.key)
            bar.update(1)
            if outcome.pressed is None:
                faults[at] = [f"{outcome.key}: {fault}" for fault in outcome.faults]
                continue
            put(one.path, outcome.pressed.pdf)
            journal.note(one.path, digest, outcome.pressed.pdf, outcome.pressed.pages)
            done[at] = dataclasses.replace(one, pages=outcome.pressed.pages)
    journal.close()
    return [done[at] for at in sorted(done)], [fault for at in sorted(faults) for fault in faults[at]]


def _orders(folder: Folder, wanted: list[Wanted], on: date, out: Path) -> Iterator[tuple[Order, Job, str, Path]]:
    """The order of each sheet, made when it is asked for; its job is issued then."""
    from docgen.job.issued import frozen, issue, number_of
    from docgen.job.resolve import resolve
    from docgen.press.orders import order
    from docgen.sheets.leaf import leaf
    from docgen.sheets.signoff import signoff

    assert folder.club is not None
    club = folder.club.value
    for want in wanted:
        number = want.record.engine.engine
        job = resolve(folder, want.record, want.procedure, on, why_due=want.why, unproofed=len(want.faults))
        job = issue(folder.root / "engines" / number / "issued", job)
        source = frozen(job).encode()
        for sheet, page in (("leaf", leaf(job, club)), ("sign-off", signoff(job, club))):
            key = f"{number_of(job).text} {sheet}"
            path = out / number / f"{number}-{job.instructions.code}-{sheet}.pdf"
            yield order(key, page, job, club.club, forms=sheet == "sign-off", source=source), job, sheet, path


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
    from docgen.job.issued import number_of

    told = one.job.instructions
    return {"engine": told.engine, "job": told.procedure, "sheet": one.sheet, "number": number_of(one.job).text,
            "pages": one.pages, "path": str(one.path), "why": one.job.issue.why_due}  # fmt: skip
