"""The frame around the commands: finding the club folder, finding the commands, and how things are said.

Exit codes: 0 done and clean; 1 something was found or could not be done; 2 the command was not understood; 130 it was
broken off.
"""

from __future__ import annotations

import errno
import re
from collections.abc import Callable, Collection, Iterable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, field
from functools import cache, partial
from importlib import import_module
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from docgen.cli._breaks import listening
from docgen.cli._replay import REMEMBERED, Remembered
from docgen.club.files import bounded
from docgen.club.problem import close_name, visible
from docgen.club.text import hidden_in

if TYPE_CHECKING:  # help and completion read no club
    from click.shell_completion import CompletionItem

    from docgen.club.folder import Folder

_TOLD = re.compile(
    r'^@(?:option\.command\(|click\.(?:command|group)\(short_help=)\s*"([^"]+)".*?^def (\w+)\(',
    re.MULTILINE | re.DOTALL,
)
"""The short help of a command and its function."""


@cache
def _commands() -> dict[str, tuple[str, str, str]]:
    """Each command's short help, module and function, read from the files: to load all of them takes a second.

    It is called as its function, or, where that is `command`, as its module.
    """
    return {
        name if name != "command" else path.stem: (says, path.stem, name)
        for path in Path(__file__).parent.glob("[!_]*.py")
        for says, name in _TOLD.findall(bounded(path).decode())
    }


class _Commands(click.Group):
    """A group whose commands stand in the modules beside this one."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        return sorted(_commands())

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """List the commands as click does, from their files."""
        with formatter.section("Commands"):
            formatter.write_dl([(name, short_help(name)) for name in self.list_commands(ctx)])

    def shell_complete(self, ctx: click.Context, incomplete: str) -> list[CompletionItem]:
        """Complete the name of a command, as click does, from their files."""
        from click.shell_completion import CompletionItem

        names = (name for name in self.list_commands(ctx) if name.startswith(incomplete))
        told = [CompletionItem(name, help=short_help(name)) for name in names]
        return [*told, *click.Command.shell_complete(self, ctx, incomplete)]

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        return _loaded(cmd_name) if cmd_name in _commands() else None

    def parse_args(self, ctx: click.Context, args: list[str]) -> list[str]:
        """Take the words as they were typed; one that holds what no reader would see is refused, whatever it is for."""
        for word in args:
            if (wrong := hidden_in(word)) and not _is_place(word):
                raise click.UsageError(f'"{visible(word[:60])}": {wrong}', ctx)
        return super().parse_args(ctx, args)

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        if args and args[0] in REMEMBERED and not ctx.resilient_parsing and not {"-h", "--help"} & set(args):
            return args[0], Remembered(args[0], lambda: _loaded(args[0])), args[1:]
        if args and self.get_command(ctx, args[0]) is None and not args[0].startswith("-"):
            raise click.UsageError(f'there is no command "{args[0]}"{_meant(args[0], self.list_commands(ctx))}', ctx)
        return super().resolve_command(ctx, args)

    def invoke(self, ctx: click.Context) -> Any:
        """Carry the command out. What the system refuses ends with 1, a break with 130; both are said in words."""
        try:
            with listening():
                return super().invoke(ctx)
        except KeyboardInterrupt:
            click.echo(f"\n{STOPPED}", err=True)
            raise click.exceptions.Exit(INTERRUPTED) from None
        except (click.Abort, EOFError):
            click.echo(f"\n{STOPPED}", err=True)
        except OSError as error:
            if error.errno == errno.EPIPE:
                raise
            from docgen.desk.system import refused_by_system

            click.echo(refused_by_system(error), err=True)
        except (click.ClickException, click.exceptions.Exit):
            raise
        except Exception as error:
            from docgen.club.store import StoreError

            if not isinstance(error, StoreError):
                raise
            click.echo(error, err=True)
        raise click.exceptions.Exit(1)


def _loaded(name: str) -> click.Command:
    _, module, function = _commands()[name]
    return getattr(import_module(f"docgen.cli.{module}"), function)  # type: ignore[no-any-return]


def short_help(name: str) -> str:
    """What a command says of itself in a line."""
    return _commands()[name][0]


def _is_place(word: str) -> bool:
    """Whether a word names a file or folder, whose name is as somebody else made it."""
    try:
        return Path(word).exists()
    except (OSError, ValueError):
        return False


STOPPED = "Stopped: nothing was done beyond what is said above."
INTERRUPTED = 130
"""How a command ends that somebody broke off: 128 and the number of the signal."""


@dataclass
class Session:
    """What every command starts from: the club's folder, and the language of this print where it is not the club's.

    It is who the uses ask (`desk/asking.py`): somebody at a terminal.

    parts : of a command that is remembered, what tells whether an engine's files changed (`cli/_stamps.py`)
    aside : what is said goes to the error stream, since the output is a script's
    """

    root: Path
    language: str = ""
    parts: Mapping[str, str] = field(default_factory=dict)
    quiet: bool = False
    accepted: Collection[str] = ()
    aside: bool = False

    def say(self, text: str, *, strong: bool = False) -> None:
        """Say it."""
        click.secho(text, err=self.aside, bold=strong or None)

    def warn(self, text: str) -> None:
        """Say it on the error stream."""
        click.echo(text, err=True)

    def asked(self, question: str, usual: bool = False) -> bool:
        """Ask for yes or no. Errors: Unanswered."""
        with _answered():
            return click.confirm(question, default=usual)

    def typed(
        self, question: str, usual: str | None = None, check: Callable[[str], str] = str, *, suffix: str = ": "
    ) -> str:
        """Ask until the check takes the answer. Errors: Unanswered."""
        from docgen.desk.choosing import Unclear

        def taken(text: str) -> str:
            try:
                return check(text)
            except Unclear as unclear:
                raise click.UsageError(str(unclear)) from None

        with _answered():
            return str(click.prompt(question, usual, value_proc=taken, show_default=bool(usual), prompt_suffix=suffix))

    def read(self, engines: Collection[str] | None = None, unmoved: Collection[str] = ()) -> Folder:
        """Read the club, or what some engines need. Errors: Faulty where nothing can be done with it."""
        from docgen.club.folder import Faulty
        from docgen.desk.opening import opened

        say = partial(click.echo, err=True)
        folder = opened(self.root, language=self.language, engines=engines, unmoved=unmoved, say=say)
        if folder.club_file is None:
            raise Faulty(p for p in folder.problems if p.path == "club.yaml")
        return folder


@contextmanager
def _answered() -> Iterator[None]:
    try:
        yield
    except click.Abort:
        from docgen.desk.asking import Unanswered

        click.echo()
        raise Unanswered from None


@click.group(cls=_Commands, context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100})
@click.option("--club", "where", type=click.Path(path_type=Path), help="The club's folder (where club.yaml is).")
@click.version_option(package_name="docgen")
@click.pass_context
def docgen(ctx: click.Context, where: Path | None) -> None:
    """Prints the paper that engine work runs on, from procedure files and each engine's own record."""
    ctx.obj = Session(where if where is not None else _found_above(Path.cwd()))


def _found_above(start: Path) -> Path:
    return next((folder for folder in (start, *start.parents) if (folder / "club.yaml").is_file()), start)


def club_of(ctx: click.Context) -> Path:
    """The club's folder while a word is completed, before any command is carried out."""
    where: Path | None = ctx.find_root().params.get("where")
    return where or _found_above(Path.cwd())


def _meant(name: str, names: Iterable[str]) -> str:
    close = close_name(name, sorted(names))
    return f'; did you mean "{close}"?' if close else f"; known: {', '.join(sorted(names))}"
