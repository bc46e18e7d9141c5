"""Completion of commands, engines and jobs for the shell."""

from __future__ import annotations

import click
from click.shell_completion import get_completion_class


@click.command(short_help="Make the shell complete commands and names.")
@click.argument("shell", type=click.Choice(["bash", "zsh", "fish"]))
@click.pass_context
def command(ctx: click.Context, shell: str) -> None:
    """Print what makes SHELL complete this command: eval "$(docgen completion bash)"."""
    kind = get_completion_class(shell)
    assert kind is not None
    root = ctx.find_root()
    click.echo(kind(root.command, {}, "docgen", "_DOCGEN_COMPLETE").source())
