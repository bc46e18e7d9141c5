"""What the commands have in common: how one is made, and the arguments and options that several take."""

from collections.abc import Callable
from datetime import date
from functools import reduce
from pathlib import Path
from typing import Any

import click

from docgen.cli._saying import ended
from docgen.cli.frame import Session, club_of
from docgen.club.catalogue import languages
from docgen.desk.clock import today

YEARS = range(1900, 2200)
"""Years in which a day may lie: room to reckon on both sides."""

Function = Callable[..., Any]


class Use(click.Command):
    """A command whose use may refuse what was asked for, or find the club's files at fault: both are said in words.

    It ends with 1 where its function says that something was found or is left to do.

    writes : whether it writes into the record, and what it refuses is answered with what was not written
    """

    writes = False

    def invoke(self, ctx: click.Context) -> Any:
        """Carry it out."""
        try:
            left = super().invoke(ctx)
        except (click.ClickException, click.exceptions.Exit, click.Abort, OSError):
            raise
        except Exception as error:
            if (end := ended(error, ctx, self.writes)) is not None:
                raise end from None
            raise
        if left:
            ctx.exit(1)


def command(
    says: str, *typed: str, under: click.Group | None = None, writes: bool = False
) -> Callable[[Function], click.Command]:
    """Make a command of a function that takes the session first.

    says   : what it does, in a line
    typed  : how it is typed, for the end of its help
    under  : the group that it belongs to
    writes : whether it writes into the record
    """
    lines = "\b\n" + "\n".join(("As in:", *(f"  {line}" for line in typed))) if typed else None

    def made(function: Function) -> click.Command:
        use = click.command(cls=Use, short_help=says, epilog=lines)(click.pass_obj(function))
        use.writes = writes
        if under is not None:
            under.add_command(use)
        return use

    return made


def together(*options: Callable[[Function], Function]) -> Callable[[Function], Function]:
    """Several arguments and options in their order, as one."""
    return lambda function: reduce(lambda inner, one: one(inner), reversed(options), function)


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


def day(says: str, *names: str) -> Callable[[Function], Function]:
    """A day, today where none is given; ``--on``, unless it is called otherwise."""
    return click.option(*(names or ("--on",)), type=Day(), default=today, show_default="today", help=says)


def out(says: str = "Where it goes.") -> Callable[[Function], Function]:
    """Another folder for what is written."""
    where = "[default: out/ in the club's folder]"
    return click.option("--out", type=click.Path(path_type=Path), callback=_out, help=f"{says}  {where}")


def engine_names(ctx: click.Context, param: click.Parameter, incomplete: str) -> list[str]:
    """Engine numbers, for the shell's completion."""
    return sorted(p.name for p in (club_of(ctx) / "engines").glob(f"{incomplete}*") if p.is_dir())


def job_names(ctx: click.Context, param: click.Parameter, incomplete: str) -> list[str]:
    """Procedure names, for the shell's completion."""
    return sorted(p.stem for p in (club_of(ctx) / "procedures").glob(f"{incomplete}*.yaml"))


def _out(ctx: click.Context, param: click.Parameter, value: Path | None) -> Path:
    return value or ctx.find_object(Session).root / "out"  # type: ignore[union-attr]


def _who(ctx: click.Context, param: click.Parameter, value: Any) -> None:
    """Keep what is said of all that the command does: who is asked, in which language."""
    setattr(ctx.find_object(Session), str(param.name), value or getattr(Session, str(param.name)))


def _issue(ctx: click.Context, param: click.Parameter, typed: str) -> str:
    if not typed:
        return ""
    from docgen.desk.entering import ISSUE, LEAST

    if not ISSUE.fullmatch(typed.strip().lower()):
        raise click.BadParameter(f'"{typed}" is not the beginning of a digest: give at least {LEAST} of its digits')
    return typed.strip().lower()


def yes(
    says: str = "Write without asking; a doubt is then not settled.", *short: str
) -> Callable[[Function], Function]:
    """Ask nothing."""
    return click.option(*short, "--yes", "quiet", is_flag=True, callback=_who, expose_value=False, help=says)


engine = click.argument("engine", shell_complete=engine_names)
engines = click.argument("engines", nargs=-1, shell_complete=engine_names)
jobs = click.option(
    "--job", "jobs", multiple=True, shell_complete=job_names, help="A job, by name or sheet code; may be repeated."
)
due = click.option("--due", "only_due", is_flag=True, help="Only what is overdue or due.")
on = day("The day to print or plan for.")
filed_on = day("The day of filing.")
language = click.option(
    "--language", type=click.Choice(languages()), callback=_who, expose_value=False,
    help="Print in this language.  [default: the club's]",
)  # fmt: skip


def pages(says: str = "Where it goes.") -> Callable[[Function], Function]:
    """The day, the language and the place of what is printed."""
    return together(on, language, out(says))


processes = click.option("--processes", type=click.IntRange(1, 64), help="How many to print side by side.")
json = click.option("--json", "as_json", is_flag=True, help="Plain JSON for a script.")
accept = click.option(
    "--accept", "accepted", multiple=True, metavar="NAME", callback=_who, expose_value=False,
    help="A doubt that somebody has looked into.",
)  # fmt: skip
issue = click.option(
    "--issue", default="", metavar="DIGITS", callback=_issue,
    help='The first digits behind "issue" at the foot of the paper, where two prints bear its number.',
)  # fmt: skip
by = click.option("--by", envvar="DOCGEN_BY", metavar="NAME", help="Who says so.  [env: DOCGEN_BY]")
terminal = click.option("--terminal", is_flag=True, help="Ask here, box by box, instead of on a page in the browser.")
