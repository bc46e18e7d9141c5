"""The shapes of the club's files, for editors."""

from __future__ import annotations

import click

from docgen.cli import _options as option
from docgen.cli.frame import Session
from docgen.club.files import holds
from docgen.club.problem import counted, did_you_mean
from docgen.club.schema.published import FOLDER, KINDS, schema_file, schema_text
from docgen.club.store import replace


@option.command("The shapes of the club's files, for editors.", "docgen schema procedure", "docgen schema --write")
@click.argument("kind", required=False)
@click.option("--write", is_flag=True, help="Put them all into schemas/ in the club's folder.")
def command(session: Session, kind: str | None, write: bool) -> None:
    """Print the JSON Schema of a KIND of file, or list the kinds.

    An editor with a YAML language server reads them from schemas/ in the club's folder, without a network, and checks
    and completes while you type. docs/files.md says the same in words.
    """
    if write:
        _write(session)
    elif kind and kind not in KINDS:
        raise click.UsageError(f'there is no kind of file "{kind}"; {did_you_mean(kind, KINDS)}')
    elif kind:
        click.echo(schema_text(kind), nl=False)
    else:
        for name, (_, place) in KINDS.items():
            click.echo(f"{name:10} {place:22} docgen schema {name}")


def _write(session: Session) -> None:
    session.read()
    new = [kind for kind in KINDS if not holds(session.root / schema_file(kind), schema_text(kind).encode())]
    for kind in new:
        replace(session.root / schema_file(kind), schema_text(kind).encode())
    click.echo(f"{counted(len(new), 'schema')} written into {FOLDER}/" if new else f"{FOLDER}/ is as it should be.")

