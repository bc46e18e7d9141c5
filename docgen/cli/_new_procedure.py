"""Begin a procedure."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Iterator
from datetime import date
from textwrap import wrap

import click

from docgen.cli import _options as option
from docgen.cli._asking import Check, answer, fits
from docgen.cli._new_files import Typed, filled, refuse_existing, schemas, write_new
from docgen.cli._saying import stop
from docgen.cli.frame import Session
from docgen.club.folder import Folder
from docgen.club.problem import did_you_mean
from docgen.club.read import read_club
from docgen.club.schema.base import Name, Text, Time, Whole
from docgen.club.schema.model import Model
from docgen.club.schema.procedure import Code
from docgen.desk.system import shown
from docgen.proof import proof_all


@option.command(
    "Begin a procedure.",
    'docgen new procedure intake-wash --title "Intake silencer - wash" --every "3 months"',
)
@click.argument("name")
@click.option("--title", help="What the job is called.")
@click.option("--code", help="Three capital letters of its own.")
@click.option("--author", help="Who writes it.")
@click.option("--needs", help="Equipment that an engine must have for it, words with spaces between.")
@click.option("--every", help="How often it is due, as in '5 h', '6 months' or '5 h 6 months'.")
@option.day("The day of its first revision.", "--dated")
@option.quiet
def procedure(
    session: Session, name: str, title: str | None, code: str | None, author: str | None, needs: str | None,
    every: str | None, dated: date, quiet: bool,
) -> None:  # fmt: skip
    """Begin a job: procedures/NAME.yaml, with one step as an example, and the engine's names as notes."""
    fits(Name)(name)
    path = f"procedures/{name}.yaml"
    folder = session.read()
    _all_read(folder)
    refuse_existing(session.root, path)
    usual = name.replace("-", " ").capitalize()
    called = answer("--title", "What the job is called", title, fits(Text), usual, quiet=quiet)
    equipment = sorted({word for read in folder.models.values() for word in read.value.equipment})
    question = f"Equipment that an engine must have for it ({', '.join(equipment)}; empty: every engine)"
    said = {
        "title": Typed(called),
        "code": answer("--code", "Its code, three letters", code, _free(folder), _suggested(name, folder), quiet=quiet),
        "author": Typed(answer("--author", "Who writes it", author, fits(Text), folder.club.value.club, quiet=quiet)),
        "needs": answer("--needs", question, needs, _of(equipment), "", quiet=quiet).split(),
        "every": _every(answer("--every", "How often, as 5 h or 6 months (empty: when it is wanted)", every,
                                 _interval, "", quiet=quiet)),
    }  # fmt: skip
    models = [m.value for _, m in sorted(folder.models.items()) if set(said["needs"]) <= set(m.value.equipment)]
    data = filled("procedure", procedure=name, dated=dated.isoformat(), crib=list(_crib(models)), **said)
    made = read_club(session.root, instead={path: data})
    _all_read(made)
    found = [one for one in [*made.problems, *proof_all(made, only={name})] if one.path == path]
    if [one for one in found if one.level == "error"]:
        stop(found)
    write_new(session.root, {**schemas(session.root), path: data})
    click.echo(f"{called}, sheet code {said['code']}: {shown(session.root / path)}")
    click.echo(f"Next: write its steps, then  docgen proof {name}   and   docgen print NUMBER --job {said['code']}")


def _all_read(folder: Folder) -> None:
    """End where a file cannot be read: a code that it has would be given twice, and its names be missing."""
    if unread := [one for one in folder.problems if one.name == "unreadable-file"]:
        stop(unread)


def _free(folder: Folder) -> Check:
    """Whether a code is one, and nobody else's."""
    right = fits(Code)

    def check(text: str) -> str:
        code = right(text.upper())
        if code in folder.codes:
            raise click.UsageError(f"{code} is already the code of {folder.codes[code]}")
        return code

    return check


def _of(equipment: Collection[str]) -> Check:
    """Whether every word is equipment that an engine type of the club has."""

    def check(text: str) -> str:
        for word in text.split():
            if word not in equipment:
                raise click.UsageError(f'no engine type of the club has "{word}"; {did_you_mean(word, equipment)}')
        return text

    return check


_EVERY = re.compile(r"(?:(?P<hours>[0-9.]+) ?h)?(?:(?:,| or)? ?(?P<months>[0-9]+) ?months?)?", re.ASCII)


def _interval(text: str) -> str:
    if not _EVERY.fullmatch(text.strip()):
        raise click.UsageError(f'"{text}" is not understood; write 5 h, 6 months, or 5 h 6 months')
    _every(text)
    return text


def _every(text: str) -> str:
    """The interval as it stands in the file."""
    found = _EVERY.fullmatch(text.strip())
    assert found is not None
    hours = f"hours: {fits(Time)(found['hours'] + ' h')}" if found["hours"] else ""
    months = f"months: {fits(Whole)(found['months'])}" if found["months"] else ""
    return ", ".join(part for part in (hours, months) if part)


def _crib(models: Iterable[Model]) -> Iterator[str]:
    """The names that the steps may use, of the first engine type that the job is for."""
    for model in models:
        for what, names in (("parts", model.parts), ("fasteners", model.fasteners), ("limits", model.limits)):
            if names:
                listed = f"{what} of {model.model}: {', '.join(names)}"
                yield from wrap(listed, 112, subsequent_indent="  ", break_on_hyphens=False)
        return


def _suggested(name: str, folder: Folder) -> str:
    """Three letters made from a name that no job has: its first three, else others of its letters, in their order."""
    letters = re.sub("[^a-z]", "", name).upper() or "JOB"
    for second in range(1, len(letters)):
        for third in range(second + 1, len(letters)):
            if (code := letters[0] + letters[second] + letters[third]) not in folder.codes:
                return code
    spare = (a + b + c for a in letters for b in "ABCDEFGHIJKLMNOPQRSTUVWXYZ" for c in "ABCDEFGHIJKLMNOPQRSTUVWXYZ")
    return next(code for code in spare if code not in folder.codes)
