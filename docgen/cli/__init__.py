"""The command line: one file a command, found by its name."""

import atexit
import contextlib
import gc
import io
import os
import sys
import threading

from docgen.cli.frame import docgen


def main() -> None:
    """Entry point of the installed command."""
    _open_standard_files()
    gc.set_threshold(20_000)
    gc.disable()  # what is loaded stays: nobody looks through it for what could be thrown away until the club is read
    # pydantic alone checks the files: to look for plug-ins, it reads what every installed package says of itself.
    os.environ.setdefault("PYDANTIC_DISABLE_PLUGINS", "__all__")
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            # A name that the console's encoding does not have is written as its code, as JSON does; it stops nothing.
            stream.reconfigure(errors="backslashreplace")
    try:
        docgen(prog_name="docgen")
    except SystemExit as end:
        _leave(end.code)
        raise


def _leave(code: object) -> None:
    """End at once where nothing is left to do: to take apart all that was loaded takes a twentieth of a run."""
    if isinstance(code, int) and threading.active_count() == 1:
        atexit._run_exitfuncs()
        with contextlib.suppress(OSError):  # what could not be said is told of at an ordinary end
            for stream in filter(None, (sys.stdout, sys.stderr)):
                stream.flush()
            os._exit(code)


def _open_standard_files() -> None:
    """Put an empty file where standard input, output or error are closed: else the next file that is opened takes their
    place, and what is said would be written into it. A question then gets no answer."""
    for number in (0, 1, 2):
        try:
            os.fstat(number)
        except OSError:
            os.open(os.devnull, os.O_RDWR)
    if sys.stdin is None:
        sys.stdin = open(os.devnull, encoding="utf-8")  # noqa: SIM115, PTH123  open as long as the program runs
