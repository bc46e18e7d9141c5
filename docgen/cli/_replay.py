"""A command that only reads and says says the same again, at once, while nothing that it could have read changed."""

import contextlib
import io
from collections.abc import Callable, Iterable, Iterator
from typing import Any

import click

from docgen.cli._breaks import check
from docgen.cli._stamps import WORTH, Stamps
from docgen.desk.clock import today

REMEMBERED = ("components", "due", "engine", "proof")
"""Commands whose words follow from the club's files, the day and what was typed alone."""


class Remembered(click.Command):
    """Stands for a command until it is known whether it must be loaded.

    Its words are kept beside the printed sheets, for what was typed, the day and the files as they were.
    """

    def __init__(self, name: str, load: Callable[[], click.Command]) -> None:
        super().__init__(name)
        self._load = load

    def parse_args(self, ctx: click.Context, args: list[str]) -> list[str]:
        """Leave what was typed to the command itself."""
        ctx.args = args
        return args

    def invoke(self, ctx: click.Context) -> Any:
        """Say what it said before; carry it out where anything is different."""
        root = ctx.obj.root
        stamps = Stamps(root, root / "out", [str(self.name), *ctx.args, f"{today()}"])
        match stamps.unchanged():
            case {"code": int(code), "said": [*told]}:
                _say(told)
                ctx.exit(code)
        ctx.obj.parts = stamps.parts
        said: list[tuple[bool, str]] = []
        code = 0
        try:
            with _heard(said):
                command = self._load()
                with command.make_context(self.name, list(ctx.args), parent=ctx.parent) as inner:
                    command.invoke(inner)
        except click.exceptions.Exit as end:
            code = end.exit_code
        finally:
            _say(said)
        check()  # what was said after a break that was lost on the way is not to be said again
        if stamps.many >= WORTH:
            with contextlib.suppress(OSError):
                stamps.keep((), {"code": code, "said": said})
        ctx.exit(code)


def _say(said: Iterable[tuple[bool, str]]) -> None:
    for err, text in said:
        click.echo(text, err=err, nl=False)


class _Ear(io.StringIO):
    def __init__(self, said: list[tuple[bool, str]], err: bool) -> None:
        super().__init__()
        self._said, self._err = said, err

    def write(self, text: str) -> int:
        """Keep what is said, in its order. Errors: TypeError for bytes, by which click finds out that it takes none."""
        many = super().write(text)
        if text:
            self._said.append((self._err, text))
        return many


@contextlib.contextmanager
def _heard(said: list[tuple[bool, str]]) -> Iterator[None]:
    """What is said meanwhile is kept, and goes nowhere else."""
    with contextlib.redirect_stdout(_Ear(said, err=False)), contextlib.redirect_stderr(_Ear(said, err=True)):
        yield
