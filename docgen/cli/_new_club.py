"""Begin a club's folder."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import click

from docgen.cli import _options as option
from docgen.cli._asking import answer, fits
from docgen.cli._new_files import Typed, filled, refuse_existing, schemas, write_new
from docgen.cli._saying import give_up
from docgen.cli.frame import Session
from docgen.club.beside import GLOSSARY
from docgen.club.content import version_file
from docgen.club.files import read_bytes
from docgen.club.folder import ORIGINS, Folder
from docgen.club.problem import counted, did_you_mean
from docgen.club.read import read_club
from docgen.club.schema.base import Length, Text, Time
from docgen.club.schema.club import ClubLanguage, Paper
from docgen.club.schema.glossary import Glossary
from docgen.club.schema.model import Model
from docgen.club.yamldoc import Data
from docgen.desk.system import shown
from docgen.share.container import Refused
from docgen.share.founding import Taken, shipped_folder, taken_along, with_editor_line
from docgen.share.layout import to_text
from docgen.share.origins import origins_text

ALL, NOTHING = "all", "nothing"
LICENCE = "procedures/LICENSE"
ATTRIBUTES = ".gitattributes"
KEPT_AS_WRITTEN = b"""\
# For git: files are text with one kind of line end on every machine, and what is signed stays as it is.
* text=auto eol=lf
*.pdf binary
*.png binary
"""
"""Git on Windows else changes line ends. docgen reads both kinds alike; other programs do not."""


@option.command("Begin a club's folder.", 'docgen new club marsh-lane --name "Marsh Lane Karters" --take alder-100r')
@click.argument("folder", type=click.Path(path_type=Path, file_okay=False))
@click.option("--name", help="What the club is called.")
@click.option("--paper", help="A4 or Letter.")
@click.option("--language", help="The language of its sheets.  [default: en]")
@click.option("--distance", help="How far away a sheet is read from.  [default: 600 mm]")
@click.option("--hours", help="How long an engine runs at one meeting.  [default: 1 h]")
@click.option(
    "--take", multiple=True, metavar="NAME",
    help="What to take along: an engine type with its jobs, a job, 'all' or 'nothing'; may be repeated.",
)
@click.option(
    "--from", "source", type=click.Path(path_type=Path, exists=True, file_okay=False),
    help="Another club's folder to take it from.  [default: what comes with docgen]",
)
@option.quiet
def club(
    _: Session, folder: Path, name: str | None, paper: str | None, language: str | None, distance: str | None,
    hours: str | None, take: tuple[str, ...], source: Path | None, quiet: bool,
) -> None:  # fmt: skip
    """Begin a club in FOLDER, with club.yaml, the schemas for editors, and the jobs and engine types to take along.

    An engine type brings every job that fits it, with what these need: sequences, tools, gauges, materials.
    """
    refuse_existing(folder, "club.yaml")
    giver = read_club(source or shipped_folder())
    if giver.club_file is None:
        raise click.UsageError(f"{source} is no club's folder: it has no club.yaml that can be read")
    said = {
        "club": Typed(answer("--name", "What is the club called", name, fits(Text), quiet=quiet)),
        "paper": answer("--paper", "Paper, A4 or Letter", paper, fits(Paper), "A4", quiet=quiet),
        "language": answer("--language", "", language, fits(ClubLanguage), "en", quiet=True),
        "distance": answer("--distance", "", distance, fits(Length), "600 mm", quiet=True),
        "hours": answer("--hours", "", hours, fits(Time), "1 h", quiet=True),
    }
    wanted = _wanted(giver, take, quiet)
    try:
        taken = taken_along(giver, wanted)
    except Refused as error:
        give_up(f"{error}\nNothing was written.")
    write_new(folder, {**_beside(giver, taken), **_files(folder, said, taken)})
    _report(folder)


def _wanted(giver: Folder, take: tuple[str, ...], quiet: bool) -> list[str]:
    """What to take along, each by the name of an engine type or a job."""
    check = _known(giver)
    types = ", ".join(sorted(giver.models))
    question = f"Take along (engine types: {types}; or jobs by name, all, nothing)"
    given = " ".join(check(one) for one in take) if take else None
    names = answer("--take", question, given, check, ALL, quiet=quiet).split()
    found = [] if NOTHING in names else sorted(giver.models) if ALL in names else names
    return [giver.codes.get(one.upper(), one) for one in dict.fromkeys(found)]


def _known(giver: Folder) -> Callable[[str], str]:
    known = {*giver.models, *giver.procedures, *giver.codes, ALL, NOTHING}

    def check(text: str) -> str:
        for one in text.split():
            if one not in known and one.upper() not in giver.codes:
                hint = did_you_mean(one, known) or f"engine types: {', '.join(sorted(giver.models))}"
                raise click.UsageError(f'there is no engine type and no job "{one}" to take along; {hint}')
        if not text.split():
            raise click.UsageError("name something, or say nothing")
        return text

    return check


def _files(root: Path, said: dict[str, str], taken: Taken) -> dict[str, bytes]:
    """Everything in the new folder; club.yaml last, so that a folder half written is no club yet."""
    registers = {name: _lines(name, entries) for name, entries in taken.registers.items()}
    files = {**schemas(root), **taken.files}
    if taken.files:
        digests = {path: known[-1].digest for path, known in taken.origins.items()}
        files |= {version_file(path, digests[path]): text.encode() for path, text in taken.texts.items()}
        files[ORIGINS] = origins_text(taken.origins).encode()
    own = filled("club", **said, **registers, equipment=taken.equipment)
    return {**files, ATTRIBUTES: KEPT_AS_WRITTEN, "club.yaml": own}


def _beside(giver: Folder, taken: Taken) -> dict[str, bytes]:
    """What goes where the jobs go: their licence, and the glossary of the terms that they use."""
    if not any(path.startswith("procedures/") for path in taken.files):
        return {}
    licence, glossary = (read_bytes(giver.root, path) for path in (LICENCE, GLOSSARY))
    found = {LICENCE: licence} if isinstance(licence, bytes) else {}
    return found | ({GLOSSARY: with_editor_line(glossary, Glossary())} if isinstance(glossary, bytes) else {})


def _lines(register: str, entries: dict[str, Data] | object) -> str:
    assert isinstance(entries, dict)
    return to_text({register: entries}).partition("\n")[2].rstrip("\n") if entries else ""


def _report(root: Path) -> None:
    made = read_club(root)
    for problem in made.problems:
        click.echo(f"{problem}\n", err=True)
    if made.club_file is None:
        click.echo(f"{shown(root)} is written, with a warning: it could not be read back now, see above.", err=True)
        return
    click.echo(f"{made.club.value.club}: {shown(root)}")
    for name, read in sorted(made.models.items()):
        click.echo(f"  engine type {name}, {counted(_jobs(made, read.value), 'job')}")
    if not made.models:
        click.echo(f"  {counted(len(made.procedures), 'job')}, no engine type yet")
    own = shown(root / "club.yaml")
    click.echo(f"Look through {own}: strike out what you have not; write your own tools and race days.")
    begin = "docgen new engine NUMBER" if made.models else "docgen new model NAME"
    click.echo(f"Then, in {shown(root)}:  {begin}")


def _jobs(made: Folder, model: Model) -> int:
    return sum(1 for _ in made.for_model(model))
