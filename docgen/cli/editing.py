"""For who writes the club's files: proofing and releasing them, their shapes, sheets laid out at every edit."""

import os
import time
from collections.abc import Iterator
from datetime import date
from pathlib import Path

import click
from click.shell_completion import get_completion_class

from docgen.cli import _options as option
from docgen.cli._saying import report, warn
from docgen.cli.frame import Session
from docgen.club.problem import counted, did_you_mean
from docgen.desk.system import short_path

EVERY = 0.2
"""Seconds between two looks at the files. A look at a thousand files takes a few thousandths."""


@option.command(
    "Find what would go wrong on the bench.",
    "docgen proof", "docgen proof CLU", "docgen proof CLU --engine 017",
)  # fmt: skip
@click.argument("jobs", nargs=-1, shell_complete=option.job_names)
@click.option("--engine", shell_complete=option.engine_names, help="Proof for this very engine, deviations too.")
@click.option("--on", type=option.Day(), help="The day, for calibration dates.  [default: none; today with --engine]")
@click.option("--rules", "only_rules", is_flag=True, help="List the rules, and end.")
@click.option("--unchecked", "only_unchecked", is_flag=True, help="List the torques that no rule can check, and end.")
@option.json
def proof(
    session: Session, jobs: tuple[str, ...], engine: str | None, on: date | None, only_rules: bool,
    only_unchecked: bool, as_json: bool,
) -> bool:  # fmt: skip
    """Proof JOBS (or all): carry out every step on every engine type that it applies to, and say what goes wrong.

    Each rule has its page in docs/rules. Exit code 0: nothing to mend; 1: something to mend.
    """
    if only_rules:
        from docgen.proof.rulebook import rulebook

        for rule in rulebook():
            click.echo(click.wrap_text(rule.says, 100, f"{rule.name:28} ", " " * 29))
        return False
    from docgen.desk.proofing import proofed

    folder = session.read()
    if only_unchecked:
        from docgen.proof.gaps import unchecked

        for one in unchecked(folder):
            click.echo(str(one))
        return False
    found = proofed(folder, jobs, on, engine or "")
    errors = report(found.problems, as_json)
    if not found.problems and not as_json:
        click.echo(f"{counted(found.jobs, 'job')} proofed, nothing to mend")
    if jobs and not as_json and found.unread:
        says = f"Not proofed on {', '.join(found.unread)}: docgen proof says why it cannot be read"
        click.echo(says, err=bool(found.problems))
    if found.blind and not as_json:
        says = f"{counted(found.blind, 'torque')} not checked in full: docgen proof --unchecked says why"
        click.echo(says, err=bool(found.problems))
    return bool(errors)


@option.command("Note the revision and digest of what proofs clean.", "docgen release CLU")
@click.argument("jobs", nargs=-1, shell_complete=option.job_names)
def release(session: Session, jobs: tuple[str, ...]) -> None:
    """Release JOBS (or all), with the sequences that they use: note each one's revision and digest.

    Only what proofs clean is released. From then on, docgen proof reports a text that changed while its revision did
    not. The record is procedures/RELEASED.
    """
    from docgen.desk.proofing import released

    new = released(session.read(), jobs)
    for one in new:
        click.echo(f"{one.name} revision {one.revision}")
    click.echo(f"{counted(len(new), 'file')} released" if new else "Nothing new to release.")


@option.command("The shapes of the club's files, for editors.", "docgen schema procedure", "docgen schema --write")
@click.argument("kind", required=False)
@click.option("--write", is_flag=True, help="Put them all into schemas/ in the club's folder.")
def schema(session: Session, kind: str | None, write: bool) -> None:
    """Print the JSON Schema of a KIND of file, or list the kinds.

    An editor with a YAML language server reads them from schemas/ in the club's folder, without a network, and checks
    and completes while you type. docs/files.md says the same in words.
    """
    from docgen.club.schema.published import KINDS, schema_text

    if write:
        _write_schemas(session)
    elif kind and kind not in KINDS:
        raise click.UsageError(f'there is no kind of file "{kind}"; {did_you_mean(kind, KINDS)}')
    elif kind:
        click.echo(schema_text(kind), nl=False)
    else:
        for name, (_, place) in KINDS.items():
            click.echo(f"{name:10} {place:22} docgen schema {name}")


def _write_schemas(session: Session) -> None:
    from docgen.club.files import holds
    from docgen.club.schema.published import FOLDER, KINDS, schema_file, schema_text
    from docgen.club.store import replace

    session.read()
    new = [kind for kind in KINDS if not holds(session.root / schema_file(kind), schema_text(kind).encode())]
    for kind in new:
        replace(session.root / schema_file(kind), schema_text(kind).encode())
    click.echo(f"{counted(len(new), 'schema')} written into {FOLDER}/" if new else f"{FOLDER}/ is as it should be.")


@option.command("Lay a job's sheets out again at every edit.", "docgen watch 017 CLU")
@option.engine
@click.argument("job", shell_complete=option.job_names)
@option.on
@option.language
def watch(session: Session, engine: str, job: str, on: date) -> None:
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
            click.echo(f"{short_path(one.path)}, {counted(one.pages, 'page')}, {spent:.1f} s")
    except Faulty as faulty:
        report(faulty.problems)


@click.command(short_help="Make the shell complete commands and names.")
@click.argument("shell", type=click.Choice(["bash", "zsh", "fish"]))
@click.pass_context
def completion(ctx: click.Context, shell: str) -> None:
    """Print what makes SHELL complete this command: eval "$(docgen completion bash)"."""
    kind = get_completion_class(shell)
    assert kind is not None
    root = ctx.find_root()
    click.echo(kind(root.command, {}, "docgen", "_DOCGEN_COMPLETE").source())
