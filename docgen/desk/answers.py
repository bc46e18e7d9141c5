"""Answers to a few questions, each of which may be given before, so that a script is asked nothing."""

from __future__ import annotations

import json
import re
from typing import Any

from pydantic import TypeAdapter, ValidationError

from docgen.club.problem import visible
from docgen.club.text import hidden_in
from docgen.club.yamltext import read_yaml
from docgen.desk.asking import Asks, Check
from docgen.desk.choosing import Unclear


def answer(who: Asks, option: str, question: str, given: str | None, check: Check, usual: str | None = None) -> str:
    """What was given, else the answer to the question.

    option : under which name it is given
    usual  : what an empty answer means, and what holds when nothing is asked; None where there must be an answer
    Errors: Unclear where what is given is wrong, or is missing when nothing is asked; Unanswered.
    """
    if given is None and not who.quiet:
        return who.typed(question, usual, check)
    if given is None and usual is None:
        raise Unclear(f"{option} is needed where nothing is asked")
    try:
        return check(given if given is not None else usual or "")
    except Unclear as error:
        raise Unclear(f"{option}: {error}") from None


def fits(kind: Any, *, blank: bool = False) -> Check:
    """Whether an answer is what a field of the files takes; `blank` lets an empty one through."""
    adapter = TypeAdapter(kind)

    def check(text: str) -> str:
        text = text.strip()
        if blank and not text:
            return ""
        if wrong := hidden_in(text) or _unread(text):
            raise Unclear(f'"{visible(text[:60])}": {wrong}')
        try:
            adapter.validate_python(text)
        except ValidationError as error:
            told = error.errors(include_url=False)[0].get("ctx", {})
            hint = f"; {told['hint']}" if told.get("hint") else _known(told)
            raise Unclear(f"{told.get('message', 'that cannot be written')}{hint}") from None
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
            raise Unclear(f'there is no {what} "{text.strip()}"; known: {listed}')
        return text.strip()

    return check
