"""How things are said: problems on the error stream, plain data as JSON, numbers with what they count."""

from __future__ import annotations

import json
from collections.abc import Iterable
from typing import Any, NoReturn

import click

from docgen.club.problem import Problem
from docgen.club.text import UNSEEN


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


def ended(error: Exception, ctx: click.Context) -> Exception | None:
    """How a command ends that a use has refused, once that is said; None for what is no such refusal."""
    from docgen.club.folder import Faulty
    from docgen.desk.choosing import Unclear

    match error:
        case Faulty():
            report(error.problems)
            return click.exceptions.Exit(1)
        case Unclear():
            return click.UsageError(str(error), ctx)
    return None
