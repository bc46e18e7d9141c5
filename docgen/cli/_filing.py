"""What the commands that write single events share: asking, refusing, and saying what was written."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from pathlib import Path
from typing import NoReturn

import click

from docgen.club.store import StoreError
from docgen.returns.diagnostic import Refused, Said
from docgen.returns.filing import Filed
from docgen.returns.moving import HALF_WRITTEN
from docgen.returns.report import said_lines


def refuse(error: Refused | StoreError) -> NoReturn:
    """Say why nothing was written (or only half of it), and end with 1."""
    said = error.said if isinstance(error, Refused) else Said("refused", error.name, error.message, error.hint)
    nothing = () if said.name == HALF_WRITTEN else ("Nothing was written.",)
    click.echo("\n".join((*said_lines((said,)), *nothing)))
    raise click.exceptions.Exit(1)


def give_up(why: str) -> NoReturn:
    """Say that nothing was written, and end with 1."""
    click.echo(why)
    raise click.exceptions.Exit(1)


def settled(said: Iterable[Said], accepted: Collection[str], yes: bool) -> bool:
    """Whether every doubt is settled: by its name on the command line, or by somebody who answers now, once a name."""
    for name in dict.fromkeys(one.name for one in said if one.weight == "doubt" and one.name not in accepted):
        if yes:
            click.echo(f"  --yes does not settle a doubt; --accept {name} does, once somebody has looked.")
            return False
        if not asked(f"{name}: write it as it stands?"):
            return False
    return True


def asked(question: str) -> bool:
    """Ask; nobody there to answer is a no."""
    try:
        return click.confirm(question)
    except click.Abort:
        click.echo()
        return False


def filed_line(root: Path, filed: Filed) -> str:
    """What became of an event."""
    if not filed.new:
        return f"Already filed, as {filed.path.name}. Nothing was written."
    path = filed.path.relative_to(root).as_posix()
    line = f"Filed: {path}" + ("; it joins what was filed apart" if filed.branches else "")
    return "\n".join((line, *warning(filed.unsure)))


def warning(unsure: str) -> tuple[str, ...]:
    """The line about what the disk did not confirm of a file that is written; none where it confirmed all."""
    if not unsure:
        return ()
    return (f"  with a warning: {unsure}. It is written: do not file it again; look at the disk.",)
