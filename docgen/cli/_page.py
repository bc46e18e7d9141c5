"""Looking a sheet through on a page in the browser, from the command that waits for it."""

import sys
from threading import Thread
from typing import Any

import click


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


def on_page(*entry: Any) -> tuple[str, ...]:
    """Show the page of what an `Entry` is made of until it is filed or left, and say what became of it.

    The events that it was filed as.
    """
    import webbrowser

    from docgen.desk.entry import Entry
    from docgen.desk.server import Desk

    with Desk(Entry(*entry)) as desk:
        shown, serving = desk.entry, Thread(target=desk.serve_forever, daemon=True)
        serving.start()
        click.echo(f"{shown.sheet.text} is open in the browser: {desk.address}")
        click.echo("(Ctrl-C leaves it; what was typed is kept.)")
        webbrowser.open(desk.address)
        try:
            while not desk.done.wait(0.5):
                pass
        finally:
            desk.shutdown()
            serving.join()
    click.echo(shown.text)
    return shown.filed
