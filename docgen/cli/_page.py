"""Looking a sheet through on a page in the browser, from the command that waits for it."""

from __future__ import annotations

import sys
from threading import Thread
from typing import TYPE_CHECKING

import click

if TYPE_CHECKING:
    from docgen.desk.entry import Entry


def has_page(terminal: bool) -> bool:
    """Whether somebody sits at this machine, with a browser, and did not ask for the terminal."""
    if terminal or not sys.stdin.isatty():
        return False
    import webbrowser

    try:
        webbrowser.get()
    except webbrowser.Error:
        return False
    return True


def on_page(entry: Entry) -> bool:
    """Show the page until the sheet is filed or left; whether it was filed. The entry says what became of it."""
    import webbrowser

    from docgen.desk.server import Desk

    with Desk(entry) as desk:
        serving = Thread(target=desk.serve_forever, daemon=True)
        serving.start()
        click.echo(f"{entry.sheet.text} is open in the browser: {desk.address}")
        click.echo("(Ctrl-C leaves it; what was typed is kept.)")
        webbrowser.open(desk.address)
        try:
            while not desk.done.wait(0.5):
                pass
        finally:
            desk.shutdown()
            serving.join()
    return bool(entry.filed)
