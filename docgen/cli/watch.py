"""Lay a job's sheets out again at every edit, so that they can stand open beside the editor."""

from __future__ import annotations

import os
import time
from collections.abc import Iterator
from datetime import date
from pathlib import Path

import click

from docgen.cli import _options as option
from docgen.cli._saying import report, warn
from docgen.cli.frame import Session
from docgen.club.problem import counted
from docgen.desk.system import shown

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
    from docgen.club.folder import Faulty
    from docgen.desk.wall import drafts

    start = time.perf_counter()
    try:
        for one in drafts(session.read([engine]), engine, name, on, warn):
            spent = time.perf_counter() - start
            click.echo(f"{shown(one.path)}, {counted(one.pages, 'page')}, {spent:.1f} s")
    except Faulty as faulty:
        report(faulty.problems)
