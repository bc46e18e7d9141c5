"""What the commands that write single events share: asking, refusing, and saying what was written."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence
from pathlib import Path

import click

from docgen.cli._saying import give_up
from docgen.returns.diagnostic import Said
from docgen.returns.filing import Filed


def settled(said: Iterable[Said], accepted: Collection[str], yes: bool) -> bool:
    """Whether every doubt is settled: by its name on the command line, or by somebody who answers now, once a name."""
    for name in dict.fromkeys(one.name for one in said if one.weight == "doubt" and one.name not in accepted):
        if yes:
            click.echo(f"  --yes does not settle a doubt; --accept {name} does, once somebody has looked.")
            return False
        if not asked(f"{name}: write it as it stands?"):
            return False
    return True


def confirm(said: Sequence[Said], accepted: Collection[str], yes: bool) -> None:
    """End with 1 unless nothing is refused, every doubt is settled, and somebody agrees."""
    agreed = not any(one.weight == "refused" for one in said) and settled(said, accepted, yes)
    if not agreed or not (yes or asked("Write this into the record?")):
        give_up("Nothing was written.")


def changes_of(typed: Sequence[str], example: str) -> dict[str, str]:
    """What holds instead, by its key. Errors: click.UsageError for what is no KEY=VALUE."""
    if wrong := next((change for change in typed if "=" not in change), None):
        raise click.UsageError(f'"{wrong}" is no KEY=VALUE, as in {example}')
    return {key.strip(): value.strip() for key, _, value in (change.partition("=") for change in typed)}


def asked(question: str) -> bool:
    """Ask; nobody there to answer is a no."""
    try:
        return click.confirm(question)
    except click.Abort:
        click.echo()
        return False


def say_filed(root: Path, *every: Filed) -> None:
    """Say what became of events, each in a line."""
    for filed in every:
        click.echo(filed_line(root, filed))


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
