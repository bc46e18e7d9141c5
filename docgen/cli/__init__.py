"""The command line: one file a command, found by its name."""

from __future__ import annotations

import io
import sys

from docgen.cli.frame import docgen


def main() -> None:
    """Entry point of the installed command."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            # A name that the console's encoding does not have is written as its code, as JSON does; it stops nothing.
            stream.reconfigure(errors="backslashreplace")
    docgen(prog_name="docgen")
