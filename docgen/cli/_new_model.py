"""Begin an engine type."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

import click

from docgen.cli import _options as option
from docgen.cli._asking import answer, each, fits, one_of
from docgen.cli._new_files import Typed, filled, refuse_existing, schemas, write_new
from docgen.cli._saying import stop
from docgen.cli.frame import Session
from docgen.club.fitting import fit_report
from docgen.club.folder import Folder
from docgen.club.likeness import NoSuchName, like
from docgen.club.read import read_club
from docgen.club.schema.base import AnyQuantity, Name, Text
from docgen.club.yamldoc import Data
from docgen.desk.system import shown
from docgen.share.layout import to_text


@option.command(
    "Begin an engine type.",
    "docgen new model rowan-100a --like alder-100r",
    'docgen new model rowan-100a --like alder-100r --without electric-start --differs "clutch-nut catch=clip"',
    'docgen new model birch-90 --title "Birch 90"',
)
@click.argument("name")
@click.option("--title", help="What it is called on the sheets.")
@click.option("--manual", help="The maker's manual, by its title.")
@click.option("--displacement", help="The swept volume, as in '99.8 cm3'.")
@click.option("--like", "other", metavar="MODEL", help="An engine type that it is like: begin with its parts.")
@click.option("--equipment", help="What it has, words with spaces between, as in 'reed-valve electric-start'.")
@click.option("--without", help="With --like: what of that type's equipment it has not.")
@click.option("--figures", help="With --like: torques, limits, part numbers: 'blank' or 'same'.")
@click.option("--differs", multiple=True, metavar="WHAT", help="With --like: as in 'clutch-nut catch=clip'.")
@option.quiet
def model(
    session: Session, name: str, title: str | None, manual: str | None, displacement: str | None, other: str | None,
    equipment: str | None, without: str | None, figures: str | None, differs: tuple[str, ...], quiet: bool,
) -> None:  # fmt: skip
    """Begin an engine type: models/NAME.yaml, from one that it is like, or with a few parts as an example.

    At the end it says which of the club's jobs fit the type, and which names the others lack.
    """
    fits(Name)(name)
    path = f"models/{name}.yaml"
    folder = session.read()
    refuse_existing(session.root, path)
    if other is not None:
        one_of(sorted(folder.models), "engine type")(other)
    usual = name.replace("-", " ").capitalize()
    called = answer("--title", "What it is called", title, fits(Text), usual, quiet=quiet)
    said = {
        "title": Typed(called),
        "manual": Typed(answer("--manual", "The maker's manual", manual, fits(Text), f"{called} manual", quiet=quiet)),
        "displacement": answer("--displacement", "Swept volume, as 99.8 cm3 (empty: not known)", displacement,
                               fits(AnyQuantity, blank=True), "", quiet=quiet),
    }  # fmt: skip
    if other is not None:
        told = likeness(folder, other, (equipment, without, figures, differs), quiet)
    else:
        told = Likeness(_equipment(folder, name, equipment, quiet))
    data = filled("model", model=name, equipment=told.equipment, like=told.like, figures=told.figures,
                  rest=told.text, **said)  # fmt: skip
    made = read_club(session.root, instead={path: data})
    wrong = [problem for problem in made.problems if problem.path == path and problem.level == "error"]
    if wrong:
        stop(wrong)
    write_new(session.root, {**schemas(session.root), path: data})
    click.echo(f"Engine type {called}: {shown(session.root / path)}")
    _report(made, name)


def _report(made: Folder, name: str) -> None:
    """Which jobs fit, and what the others lack."""
    report = fit_report(made, name)
    fitting = [line.partition(" ")[0] for line, lacks in report if not lacks]
    if fitting:
        click.echo(f"Jobs that fit it: {', '.join(fitting)}")
    for line, lacks in report:
        if lacks:
            click.echo(f"  {line}")
    if len(fitting) < len(report):
        click.echo("A job that lacks names is left out for this type until they stand in its file.")
    if not report:
        click.echo("No job of the club is for it yet: the words of equipment in its file say which are.")
    if fitting:
        click.echo(f"Next:  docgen new engine NUMBER   then   docgen print NUMBER --job {fitting[0]}")
    else:
        click.echo("Next: write its parts and fasteners, then  docgen proof   and   docgen new engine NUMBER")


def _equipment(folder: Folder, name: str, given: str | None, quiet: bool) -> list[str]:
    known = sorted({word for read in folder.models.values() for word in read.value.equipment})
    question = f"What it has, in words that jobs ask for (other types: {', '.join(known) or 'none yet'})"
    return answer("--equipment", question, given, words, name, quiet=quiet).split()


def words(text: str) -> str:
    """Names with spaces between."""
    if not text.split():
        raise click.UsageError("name at least one thing that it has")
    return each(fits(Name))(text)


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
