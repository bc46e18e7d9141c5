"""The questions about an engine type that is like another: what it has not, what it has besides, what differs."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

import click

from docgen.cli._asking import answer, each, fits, one_of
from docgen.club.folder import Folder
from docgen.club.likeness import NoSuchName, like
from docgen.club.schema.base import Name
from docgen.club.yamldoc import Data
from docgen.share.layout import to_text

Given = tuple[str | None, str | None, str | None, tuple[str, ...]]
"""What the options say: equipment, without, figures, differs."""
Changes = dict[str, dict[str, Data]]
Made = Callable[[Changes], dict[str, Data]]


@dataclass(frozen=True)
class Likeness:
    """What a new type has; of one that is like another, its title, the rest of the file, and where figures are from."""

    equipment: list[str]
    like: str = ""
    figures: str = ""
    text: str = ""


def likeness(folder: Folder, other: str, given: Given, quiet: bool) -> Likeness:
    """Ask what differs from an engine type of the club. Errors: click.UsageError."""
    kind = folder.models[other].value
    also, without, figures, differs = given
    has = list(kind.equipment)
    question = f"What it has not, of {', '.join(has)} (empty: it has all)"
    less = answer("--without", question, without, each(one_of(has, "equipment")), "", quiet=quiet).split()
    known = sorted({word for read in folder.models.values() for word in read.value.equipment} - set(has))
    others = f", as {', '.join(known)}" if known else ""
    question = f"What it has besides{others} (empty: nothing)"
    more = answer("--equipment", question, also, each(fits(Name)), "", quiet=quiet).split()
    equipment = [word for word in (*has, *more) if word not in less]
    question = f"Torques, limits and part numbers: the same as the {kind.title}'s, or blank"
    same = answer("--figures", question, figures, one_of(["same", "blank"], "answer"), "blank", quiet=quiet) == "same"

    def made(changes: Changes) -> dict[str, Data]:
        return like(folder, other, equipment, changes, figures=same)

    changes = _changes(made, differs) if differs or quiet else _asked(made)
    return Likeness(equipment, kind.title, "same" if same else "blank", to_text(made(changes)))


def _asked(made: Made) -> Changes:
    """Ask for one difference after the other, until there is none."""
    said: list[str] = []

    def check(text: str) -> str:
        if text.strip():
            _changes(made, [*said, text])
        return text.strip()

    while True:
        question = "What differs, as in  clutch-nut drive=hex 19 mm  (empty: nothing more)"
        found = answer("--differs", question, None, check, "")
        if not found:
            return _changes(made, said)
        said.append(found)


def _changes(made: Made, said: Iterable[str]) -> Changes:
    changes: Changes = {}
    for one in said:
        name, _, rest = one.strip().partition(" ")
        key, is_, value = rest.partition("=")
        if not is_ or not key.strip() or not value.strip():
            hint = "write a name, then what of it, as in clutch-nut catch=clip"
            raise click.UsageError(f'"{one}" is not understood; {hint}')
        changes.setdefault(name, {})[key.strip()] = _value(value.strip())
    try:
        made(changes)
    except NoSuchName as error:
        raise click.UsageError(str(error)) from None
    return changes


def _value(text: str) -> Data:
    if text.startswith("[") and text.endswith("]"):
        return [one.strip() for one in text[1:-1].split(",")]
    return text
