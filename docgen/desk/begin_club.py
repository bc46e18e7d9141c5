"""A club's folder begun: club.yaml, the schemas for editors, and the jobs and engine types that are taken along."""

from collections.abc import Callable, Sequence
from pathlib import Path

from docgen.club.content import version_file
from docgen.club.files import read_bytes
from docgen.club.folder import ORIGINS, Folder
from docgen.club.problem import counted, did_you_mean
from docgen.club.read import read_club
from docgen.club.schema.base import Length, Text, Time
from docgen.club.schema.club import ClubLanguage, Paper
from docgen.club.schema.sidefiles import Glossary
from docgen.club.sidefiles import GLOSSARY
from docgen.club.yamldoc import Data
from docgen.desk.asking import Asks, Unwritten, answer
from docgen.desk.beginning import Typed, filled, fits, refuse_existing, write_new
from docgen.desk.choosing import Unclear
from docgen.desk.system import short_path
from docgen.share.container import ParcelRefused
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


def begin_club(
    who: Asks, folder: Path, take: Sequence[str] = (), source: Path | None = None, **given: str | None
) -> None:
    """Write a new club into a folder; its name, its paper and what it takes along are asked where they are not given.

    given  : name, paper, language, distance, hours
    take   : engine types with their jobs, or jobs by name; ``all`` or ``nothing``
    source : another club's folder to take them from; None for what comes with docgen
    Errors: Unclear, Unwritten.
    """
    refuse_existing(folder, "club.yaml")
    giver = read_club(source or shipped_folder())
    if giver.club_file is None:
        raise Unclear(f"{source} is no club's folder: it has no club.yaml that can be read")
    said = {
        "club": Typed(answer(who, given, "name", "What is the club called", fits(Text))),
        "paper": answer(who, given, "paper", "Paper, A4 or Letter", fits(Paper), "A4"),
    }
    for key, kind, usual in (("language", ClubLanguage, "en"), ("distance", Length, "600 mm"), ("hours", Time, "1 h")):
        said[key] = answer(who, {key: given.get(key) or usual}, key, "", fits(kind))
    wanted = _wanted(who, giver, take)
    try:
        taken = taken_along(giver, wanted)
    except ParcelRefused as error:
        raise Unwritten(f"{error}\nNothing was written.") from None
    write_new(folder, {**_beside(giver, taken), **_files(said, taken)})
    _report(who, folder)


def _wanted(who: Asks, giver: Folder, take: Sequence[str]) -> list[str]:
    """What to take along, each by the name of an engine type or a job."""
    check = _known(giver)
    types = ", ".join(sorted(giver.models))
    question = f"Take along (engine types: {types}; or jobs by name, all, nothing)"
    given = " ".join(check(one) for one in take) if take else None
    names = answer(who, {"take": given}, "take", question, check, ALL).split()
    found = [] if NOTHING in names else sorted(giver.models) if ALL in names else names
    return [giver.codes.get(one.upper(), one) for one in dict.fromkeys(found)]


def _known(giver: Folder) -> Callable[[str], str]:
    known = {*giver.models, *giver.procedures, *giver.codes, ALL, NOTHING}

    def check(text: str) -> str:
        for one in text.split():
            if one not in known and one.upper() not in giver.codes:
                hint = did_you_mean(one, known) or f"engine types: {', '.join(sorted(giver.models))}"
                raise Unclear(f'there is no engine type and no job "{one}" to take along; {hint}')
        if not text.split():
            raise Unclear("name something, or say nothing")
        return text

    return check


def _files(said: dict[str, str], taken: Taken) -> dict[str, bytes]:
    """Everything in the new folder; club.yaml last, so that a folder half written is no club yet."""
    registers = {name: _lines(name, entries) for name, entries in taken.registers.items()}
    files = {**taken.files}
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


def _report(who: Asks, root: Path) -> None:
    made = read_club(root)
    for problem in made.problems:
        who.warn(f"{problem}\n")
    if made.club_file is None:
        who.warn(f"{short_path(root)} is written, with a warning: it could not be read back now, see above.")
        return
    who.say(f"{made.club.value.club}: {short_path(root)}")
    for name, read in sorted(made.models.items()):
        who.say(f"  engine type {name}, {counted(len(list(made.for_model(read.value))), 'job')}")
    if not made.models:
        who.say(f"  {counted(len(made.procedures), 'job')}, no engine type yet")
    own = short_path(root / "club.yaml")
    who.say(f"Look through {own}: strike out what you have not; write your own tools and race days.")
    begin = "docgen new engine NUMBER" if made.models else "docgen new model NAME"
    who.say(f"Then, in {short_path(root)}:  {begin}")

