"""Lay a job's sheets out again at every edit, so that they can stand open beside the editor."""

from __future__ import annotations

import os
import time
from collections.abc import Iterator
from datetime import date
from pathlib import Path

import click

from docgen.cli import _options as option
from docgen.cli._saying import report
from docgen.cli._system import shown
from docgen.cli.frame import Session
from docgen.club.problem import counted
from docgen.desk.choosing import engines_named, jobs_named

EVERY = 0.2
"""Seconds between two looks at the files. A look at a thousand files takes a few thousandths."""


@option.command("Lay a job's sheets out again at every edit.", "docgen watch 017 CLU")
@option.engine
@click.argument("job", shell_complete=option.job_names)
@option.on
@option.language
def command(session: Session, engine: str, job: str, on: date) -> None:
    """Lay out the leaf and the sign-off sheet of JOB on ENGINE, and again at every edit; Ctrl-C ends it.

    Looked at are club.yaml, glossary.yaml, procedures/, models/ and the engine's own folder.

    They go to out/watch/. They are drafts, as print 0, which is kept nowhere and cannot be filed: docgen print makes
    the sheets to work by.
    """
    seen: list[tuple[str, int, int]] | None = None
    try:
        while True:
            now = sorted(_files(session.root, engine))
            if now != seen:
                seen = now
                _again(session, engine, job, on)
            time.sleep(EVERY)
    except KeyboardInterrupt:
        click.echo("\nNo longer watching.")


def _files(root: Path, engine: str) -> Iterator[tuple[str, int, int]]:
    """Every file that the sheets could follow from: name, size, time of its last change."""
    for place in ("club.yaml", "glossary.yaml", "procedures", "models", f"engines/{engine}"):
        path = root / place
        for file in path.rglob("*") if path.is_dir() else (path,):
            try:
                told = os.stat(file)  # noqa: PTH116
            except OSError:
                continue
            yield str(file), told.st_size, told.st_mtime_ns


def _again(session: Session, engine: str, name: str, on: date) -> None:
    """Read, proof and lay out; whatever is wrong is said, and what was laid out before stays."""
    start = time.perf_counter()
    try:
        folder = session.read([engine])
        (record,), (procedure,) = engines_named(folder, [engine]), jobs_named(folder, [name])
    except click.exceptions.Exit:
        return  # its problems are said
    from docgen.club.store import replace
    from docgen.desk.whereabouts import with_place
    from docgen.job.resolve import resolve
    from docgen.press.orders import order
    from docgen.press.shelf import Shelf
    from docgen.press.workers import press
    from docgen.proof import proof_job
    from docgen.sheets.leaf import leaf
    from docgen.sheets.signoff import signoff

    club = folder.club.value
    if stopped := folder.blocking(engine, [procedure.value.procedure]):
        report(sorted(stopped))
        return
    faults = [one for one in proof_job(folder, procedure, record, on) if one.level == "error"]
    report(faults)
    job = resolve(folder, record, procedure, on, unproofed=len(faults)).model_copy(update={"print": 0})
    out = folder.root / "out" / "watch"
    for sheet, make in (("leaf", leaf), ("sign-off", signoff)):
        path = out / f"{engine}-{job.instructions.code}-{sheet}.pdf"
        made = order(f"Draft {sheet}", make(job, club), job, club.club, forms=sheet == "sign-off")
        outcome = press(made, Shelf(folder.root / "out"))
        for fault in outcome.faults:
            click.echo(with_place(folder.root, f"{sheet}: {fault}", engine), err=True)
        if outcome.pressed is not None:
            replace(path, outcome.pressed.pdf)
            spent = time.perf_counter() - start
            click.echo(f"{shown(path)}, {counted(outcome.pressed.pages, 'page')}, {spent:.1f} s")
