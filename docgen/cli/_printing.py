"""Printing at a terminal: pages, and numbered sheets of jobs; how far it is, what became of each, where they lie."""

from __future__ import annotations

import contextlib
import sys
from collections.abc import Iterable, Mapping, Sequence
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, TextIO

import click

from docgen.cli import _breaks as breaks
from docgen.cli._saying import say_json
from docgen.cli.frame import INTERRUPTED
from docgen.club.folder import Folder
from docgen.club.placement import lay
from docgen.club.problem import counted
from docgen.desk.pages import Wish, print_all
from docgen.desk.system import short_path
from docgen.press.meta import NO_FACE

if TYPE_CHECKING:
    from click._termui_impl import ProgressBar

    from docgen.desk import jobsheets
    from docgen.desk.jobsheets import Sheet


def print_pages(root: Path, wishes: Sequence[Wish], files: Mapping[Path, bytes] | None = None) -> None:
    """Print all pages, lay them and `files` in their places, and say where they lie. Errors: Unprinted, OSError."""
    for one in print_all(root, wishes):
        if one.aside is not None:
            click.echo(laid_aside(one.aside), err=True)
        click.echo(f"{one.says}, {counted(one.pages, 'page')}: {short_path(one.path)}")
    for path, data in (files or {}).items():
        put(path, data)


def put(path: Path, data: bytes) -> None:
    """Lay a printed file at its name; say so where something lay there that docgen did not print. Errors: OSError."""
    if (aside := lay(path, data)) is not None:
        click.echo(laid_aside(aside), err=True)


def laid_aside(aside: Path) -> str:
    """What is said of a file that docgen did not print, found where a print was to lie."""
    return f"What lay there is not as it was printed; it is now {short_path(aside)}"


def print_jobs(
    folder: Folder, jobs: Iterable[jobsheets.Wish], engines: Iterable[str], many: int, on: date, out: Path,
    processes: int | None, as_json: bool, unprinted: str = "",
) -> list[Sheet]:  # fmt: skip
    """Print both sheets of each job, with its number, and say so. Ends with 1 where one could not be printed.

    unprinted : what is to be said of jobs that were left out
    """
    from docgen.desk.pressing import press_sheets, ready

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
        say_json([plain(p) for p in printed])
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
            "  to mend: what does not fit its page is not printed. A shorter bench_distance in club.yaml (it is "
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
        rows.append(f"    {one.kind:<10} {counted(one.pages, 'page'):>8}  {short_path(one.path)}")
    pages = sum(one.pages for one in printed)
    engines = len({one.engine for one in printed})
    total = f"{counted(len(printed), 'sheet')} on {counted(pages, 'page')} for {counted(engines, 'engine')}"
    rows += ["", f"{total}, as of {on.isoformat()}.", f"Open first: {short_path(printed[0].path)}"]
    return "\n".join(rows).lstrip("\n")


def plain(one: Sheet) -> dict[str, object]:
    """A sheet for a script."""
    return {"engine": one.engine, "job": one.job, "sheet": one.kind, "number": one.number,
            "pages": one.pages, "path": str(one.path), "why": one.why}  # fmt: skip
