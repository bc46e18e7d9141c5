"""The command line: one file a command, found by its name."""

from __future__ import annotations

from docgen.cli.frame import docgen


def main() -> None:
    """Entry point of the installed command."""
    docgen(prog_name="docgen")
