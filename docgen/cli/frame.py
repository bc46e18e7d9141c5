"""The frame around the commands: finding the club folder, finding the commands, and how things are said.

Exit codes: 0 done and clean; 1 something was found or could not be done; 2 the command was not understood; 130 it was
broken off.
"""

from __future__ import annotations

import errno
import json
import re
from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from importlib import import_module
from pathlib import Path
from typing import TYPE_CHECKING, Any, NoReturn

import click

from docgen.cli._breaks import listening
from docgen.cli._remembered import REMEMBERED, Remembered
from docgen.club.catalogue import languages
from docgen.club.files import bounded
from docgen.club.problem import Problem, close_name, visible
from docgen.club.text import UNSEEN, hidden_in
from docgen.desk.clock import today as today

if TYPE_CHECKING:  # help and completion read no club
    from click.shell_completion import CompletionItem

    from docgen.club.folder import EngineRecord, Folder, Read
    from docgen.club.schema.procedure import Procedure

_TOLD = re.compile(r'^(?:@click\.(?:command|group)\(|    )short_help="([^"]+)"', re.MULTILINE)
"""The short help of a module's command, which stands first of all that could be taken for one."""


class _Commands(click.Group):
    """A group whose commands are the modules beside this one, each with a click command named `command`."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        names = (path.stem for path in Path(__file__).parent.glob("[!_]*.py"))
        return sorted(name.replace("_", "-") for name in names if name != "frame")

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
        if cmd_name not in self.list_commands(ctx):
            return None
        return _module(cmd_name).command  # type: ignore[no-any-return]

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
            return args[0], Remembered(args[0], lambda: _module(args[0]).command), args[1:]
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
            from docgen.cli._system import refused_by_system

            click.echo(refused_by_system(error), err=True)
        except (click.ClickException, click.exceptions.Exit):
            raise
        except Exception as error:
            from docgen.club.store import StoreError

            if not isinstance(error, StoreError):
                raise
            click.echo(error, err=True)
        raise click.exceptions.Exit(1)


def _module(name: str) -> Any:
    return import_module(f"docgen.cli.{name.replace('-', '_')}")


def short_help(name: str) -> str:
    """What a command says of itself in a line, read from its file: to load all of them takes a second."""
    text = bounded(Path(__file__).with_name(f"{name.replace('-', '_')}.py")).decode()
    told = _TOLD.search(text)
    assert told is not None, f"{name} says nothing of itself"
    return told[1]


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
    """What every command starts from: the club's folder, and the language of this print where it is not the club's."""

    root: Path
    language: str = ""

    def read(self, engines: Collection[str] | None = None) -> Folder:
        """Read the club; stop with its problems when nothing can be done with it.

        engines : the engines that are needed, for what is written into a record; None for all. That a component stands
                  in two engines' own files shows only where all are read
        """
        from docgen.club.read import read_club
        from docgen.club.spoken import spoken
        from docgen.desk.before import read_before

        self._finish()
        with read_before(self.root, records=engines is None) as known:
            folder = read_club(self.root, known, engines=engines)
        if folder.club_file is None:
            stop(p for p in folder.problems if p.path == "club.yaml")
        return spoken(folder, self.language) if self.language else folder

    def _finish(self) -> None:
        """Put in its place what a parcel brought, where taking it in was cut off: else half of it would be read."""
        if (self.root / "shared").is_dir():
            from docgen.club.store import StoreError
            from docgen.share.put import finish

            try:
                if finish(self.root):
                    click.echo("Taking in a parcel had been cut off; it is whole now.", err=True)
            except StoreError as error:
                click.echo(error, err=True)
                raise click.exceptions.Exit(1) from None


@click.group(cls=_Commands, context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100})
@click.option("--club", "where", type=click.Path(path_type=Path), help="The club's folder (where club.yaml is).")
@click.version_option(package_name="docgen")
@click.pass_context
def docgen(ctx: click.Context, where: Path | None) -> None:
    """Prints the paper that engine work runs on, from procedure files and each engine's own record."""
    ctx.obj = Session(where if where is not None else _found_above(Path.cwd()))


def _found_above(start: Path) -> Path:
    return next((folder for folder in (start, *start.parents) if (folder / "club.yaml").is_file()), start)


YEARS = range(1900, 2200)
"""Years in which a day may lie: room to reckon on both sides."""


class Day(click.ParamType[date]):
    """A date as people write it; what was understood is said where it was not written year-month-day."""

    name = "date"

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> date:
        if isinstance(value, date):
            return value
        from docgen.returns.diagnostic import Refused
        from docgen.returns.writing import read_date

        try:
            day, said = read_date(value)
        except Refused as refused:
            self.fail(f"{refused.said.message}: {refused.said.hint}", param, ctx)
        if day is None:
            self.fail("the date is empty: write year-month-day, as in 2027-03-14", param, ctx)
        if said:
            click.echo(said, err=True)
        if day.year not in YEARS:
            self.fail(f'"{value}" is too far away: write a year from {YEARS[0]} to {YEARS[-1]}', param, ctx)
        return day


on_option = click.option("--on", type=Day(), default=today, show_default="today", help="The day to print or plan for.")


def examples(*lines: str) -> str:
    """What stands at the end of a command's help: how it is typed."""
    return "\b\n" + "\n".join(("As in:", *(f"  {line}" for line in lines)))


def _speak(ctx: click.Context, param: click.Parameter, value: str | None) -> None:
    ctx.find_object(Session).language = value or ""  # type: ignore[union-attr]


language_option = click.option(
    "--language", type=click.Choice(languages()), callback=_speak, expose_value=False,
    help="Print in this language.  [default: the club's]",
)  # fmt: skip
json_option = click.option("--json", "as_json", is_flag=True, help="Plain JSON for a script.")


def complete_engines(ctx: click.Context, param: click.Parameter, incomplete: str) -> list[str]:
    """Engine numbers, for the shell's completion."""
    root = ctx.find_root().params.get("where") or _found_above(Path.cwd())
    return sorted(p.name for p in (root / "engines").glob(f"{incomplete}*") if p.is_dir())


def complete_jobs(ctx: click.Context, param: click.Parameter, incomplete: str) -> list[str]:
    """Procedure names, for the shell's completion."""
    root = ctx.find_root().params.get("where") or _found_above(Path.cwd())
    return sorted(p.stem for p in (root / "procedures").glob(f"{incomplete}*.yaml"))


def chosen_engines(folder: Folder, numbers: Sequence[str]) -> list[EngineRecord]:
    """The engines named. Stops with the problems of one that is there but faulty; a usage error names the close one."""
    for number in numbers:
        base = f"engines/{number}"
        found = [p for p in folder.problems if p.path == base or p.path.startswith(f"{base}/")]
        if found and number not in folder.engines:
            stop(found)
    known = {*folder.engines, *folder.unread}
    return [folder.engines[_known(number, known, "engine")] for number in numbers]


def chosen_jobs(folder: Folder, names: Sequence[str]) -> list[Read[Procedure]]:
    """The procedures named, by name or by sheet code. Stops with the problems of one that is there but faulty; a usage
    error names the close one."""
    for name in names:
        found = [p for p in folder.problems if p.path == f"procedures/{name}.yaml"]
        if found and name not in folder.procedures:
            stop(found)
        if name.upper() not in folder.codes and name not in folder.procedures and not folder.whole("procedures"):
            stop(p for p in folder.problems if p.path in folder.broken and p.path.startswith("procedures/"))
    return [folder.procedures[_known(folder.codes.get(n.upper(), n), folder.procedures, "job")] for n in names]


def _known(name: str, known: Iterable[str], what: str) -> str:
    names = list(known)
    if name not in names:
        raise click.UsageError(f'there is no {what} "{name}"{_meant(name, names)}')
    return name


def _meant(name: str, known: Iterable[str]) -> str:
    names = sorted(known)
    close = close_name(name, names)
    return f'; did you mean "{close}"?' if close else f"; known: {', '.join(names)}" if names else ""


def report(problems: Iterable[Problem], as_json: bool = False) -> int:
    """Say every problem on the error stream (or as JSON on the output); the number of errors among them."""
    found = list(problems)
    errors = sum(p.level == "error" for p in found)
    if as_json:
        say_json([p.to_json() for p in found])
    else:
        for problem in found:
            click.echo(str(problem) + "\n", err=True)
        if found:
            click.echo(f"{counted(errors, 'error')}, {counted(len(found) - errors, 'note')}", err=True)
    return errors


def stop(problems: Iterable[Problem]) -> NoReturn:
    """Say the problems and end with 1."""
    report(problems)
    raise click.exceptions.Exit(1)


def say_json(data: Any) -> None:
    """Print plain data as JSON; what a terminal would hide or obey stands in it as its code."""
    text = json.dumps(data, indent=2, ensure_ascii=False, default=str)
    click.echo(UNSEEN.sub(lambda found: json.dumps(found[0])[1:-1], text))


def counted(number: int, what: str) -> str:
    """``1 error``, ``3 errors``."""
    return f"{number} {what}{'' if number == 1 else 's'}"
