"""How things are said: problems on the error stream, plain data as JSON; how a use that refuses ends a command."""

import json
from collections.abc import Iterable
from typing import Any

import click

from docgen.club.problem import Problem, listing
from docgen.club.text import UNSEEN


def report(problems: Iterable[Problem], as_json: bool = False) -> int:
    """Say every problem on the error stream (or as JSON on the output); the number of errors among them."""
    found = list(problems)
    errors = sum(p.level == "error" for p in found)
    if as_json:
        say_json([p.to_json() for p in found])
    else:
        warn(listing(found))
    return errors


def warn(text: str) -> None:
    """Say something on the error stream, if there is anything to say."""
    if text:
        click.echo(text, err=True)


def say_json(data: Any) -> None:
    """Print plain data as JSON; what a terminal would hide or obey stands in it as its code."""
    text = json.dumps(data, indent=2, ensure_ascii=False, default=str)
    click.echo(UNSEEN.sub(lambda found: json.dumps(found[0])[1:-1], text))


def ended(error: Exception, ctx: click.Context, writes: bool = False) -> Exception | None:
    """How a command ends that a use has refused, once that is said; None for what is no such refusal."""
    from docgen.club.folder import Faulty
    from docgen.club.store import StoreError
    from docgen.desk.asking import Unwritten
    from docgen.desk.choosing import Unclear, Unprinted
    from docgen.returns.diagnostic import Refused, Said
    from docgen.returns.filing import HALF_WRITTEN
    from docgen.returns.report import said_lines

    match error:
        case Unclear():
            return click.UsageError(str(error), ctx)
        case Faulty():
            report(error.problems)
        case Unprinted():
            warn("\n".join((*error.faults, f"Nothing was printed.{error.hint}")))
        case Unwritten():
            click.echo(str(error), nl=bool(str(error)))
        case Refused() | StoreError() if writes:
            said = error.said if isinstance(error, Refused) else Said("refused", error.name, error.message, error.hint)
            nothing = () if said.name == HALF_WRITTEN else ("Nothing was written.",)
            click.echo("\n".join((*said_lines((said,)), *nothing)))
        case _:
            return None
    return click.exceptions.Exit(1)
