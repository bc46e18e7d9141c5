"""Few questions, each of which an option answers as well, so that a script is asked nothing."""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from typing import Any

import click
from pydantic import TypeAdapter, ValidationError

from docgen.cli._saying import give_up
from docgen.club.problem import visible
from docgen.club.text import hidden_in
from docgen.club.yamltext import read_yaml

Check = Callable[[str], str]
"""Takes an answer and gives it back as it is to be written. Errors: click.UsageError says what is wrong with it."""


def answer(
    option: str, question: str, given: str | None, check: Check, default: str | None = None, *, quiet: bool = False
) -> str:
    """The option's value, else the answer to the question.

    default : what an empty answer means, and what holds when nothing is asked; None where there must be an answer
    Errors: click.UsageError where the option's value is wrong, or is missing when nothing is asked.
    """
    if given is not None or (quiet and default is not None):
        try:
            return check(given if given is not None else default or "")
        except click.UsageError as error:
            raise click.UsageError(f"{option}: {error.message}") from None
    if quiet:
        raise click.UsageError(f"{option} is needed where nothing is asked")
    try:
        said: str = click.prompt(question, default=default, value_proc=check, show_default=bool(default))
    except click.Abort:
        click.echo()
        give_up("Nothing was written.")
    return said


def fits(kind: Any, *, blank: bool = False) -> Check:
    """Whether an answer is what a field of the files takes; `blank` lets an empty one through."""
    adapter = TypeAdapter(kind)

    def check(text: str) -> str:
        text = text.strip()
        if blank and not text:
            return ""
        if wrong := hidden_in(text) or _unread(text):
            raise click.UsageError(f'"{visible(text[:60])}": {wrong}')
        try:
            adapter.validate_python(text)
        except ValidationError as error:
            told = error.errors(include_url=False)[0].get("ctx", {})
            hint = f"; {told['hint']}" if told.get("hint") else _known(told)
            raise click.UsageError(f"{told.get('message', 'that cannot be written')}{hint}") from None
        return text

    return check


def _unread(text: str) -> str:
    """Why our own reader would not take a text; empty where it would."""
    _, problems = read_yaml("", f"text: {json.dumps(text, ensure_ascii=False)}\n")
    return f"{problems[0].message}; {problems[0].hint}" if problems else ""


def decimal_point(text: str) -> str:
    """A figure with its decimal comma as a point."""
    return re.sub(r"(?<=\d),(?=\d)", ".", text)


def each(check: Check) -> Check:
    """Whether every one of several words, with spaces or commas between, passes."""

    def checked(text: str) -> str:
        for word in text.replace(",", " ").split():
            check(word)
        return text.replace(",", " ")

    return checked


def _known(told: dict[str, Any]) -> str:
    return f"; known: {', '.join(told['known'])}" if told.get("known") else ""


def one_of(known: list[str], what: str) -> Check:
    """Whether an answer is one of a few names."""

    def check(text: str) -> str:
        if text.strip() not in known:
            listed = ", ".join(known) if known else "none yet"
            raise click.UsageError(f'there is no {what} "{text.strip()}"; known: {listed}')
        return text.strip()

    return check
