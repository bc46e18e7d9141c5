"""Parcels: procedures packed for another club, with all that they need, and what another club packed taken in."""

import collections.abc as abc
from datetime import date
from pathlib import Path, PurePosixPath

from docgen.club.files import beginning
from docgen.club.folder import Folder
from docgen.club.problem import counted, listing
from docgen.club.schema.model import Model
from docgen.club.schema.procedure import Procedure, Sequence
from docgen.club.store import StoreError, replace, write_error
from docgen.club.teaching import TeachingPage
from docgen.desk.asking import Asks, Unwritten
from docgen.desk.choosing import Unclear, engines_named, jobs_named, known
from docgen.desk.opening import read_before
from docgen.share.container import MAX_BYTES, START, ParcelRefused
from docgen.share.intake import Intake, beside_file, intake
from docgen.share.origins import keep
from docgen.share.pack import Made, pack, shared_files
from docgen.share.parcel import FaultyParcel, Parcel, open_parcel
from docgen.share.summary import MARKS, summary_lines

KINDS = {Procedure: "job", TeachingPage: "page", Sequence: "sequence", Model: "engine type"}


def pack_jobs(
    folder: Folder, jobs: abc.Sequence[str], out: Path, models: abc.Sequence[str], engines: abc.Sequence[str]
) -> abc.Iterator[str]:
    """Pack jobs into a parcel; what it holds, and why, line by line.

    models  : the engine types that go with them; all that they fit where none is named
    engines : those whose whole record goes with them
    Errors: Faulty, Unclear, Unwritten.
    """
    named = [read.value.procedure for read in jobs_named(folder, jobs)]
    numbers = [record.engine.engine for record in engines_named(folder, engines)]
    types = [known(name, folder.models, "engine type") for name in models]
    if out.exists() and beginning(out, len(START), named=True) != START:
        raise Unclear(f"{out} is there already, and is no parcel: give another name")
    try:
        made = pack(folder, named, types or None, numbers)
        open_parcel(out.name, made.data)
        keep(folder.root, {**folder.origins.files, **made.origins}, made.texts)
        replace(out, made.data)
    except (ParcelRefused, StoreError, OSError) as error:
        why = write_error(error, str(out)) if isinstance(error, OSError) else error
        raise Unwritten(f"{why}\nNothing was packed.") from None
    yield from _held(folder, made)
    yield f"{out}: {counted(len(made.data), 'byte')}"


def _held(folder: Folder, made: Made) -> abc.Iterator[str]:
    ranks: dict[object, int] = {kind: rank for rank, kind in enumerate(KINDS)}
    values = {path: shared_files(folder)[path].value for path in made.texts}
    for path, value in sorted(values.items(), key=lambda one: (ranks[type(one[1])], one[0])):
        why = made.because[path]
        revision = f" revision {value.revision}" if isinstance(value, (Procedure, Sequence)) else ""
        needed = f"  (needed by {PurePosixPath(why).stem})" if why and not isinstance(value, TeachingPage) else ""
        yield f"{KINDS[type(value)]:12}{PurePosixPath(path).stem}{revision}{needed}"
    for number in sorted({path.split("/")[1] for path in made.records}):
        count = sum(path.startswith(f"engines/{number}/") for path in made.records)
        yield f"{'record':12}engine {number}, {counted(count, 'file')}"


def receive_parcel(
    who: Asks, folder: Folder, parcel: Path, on: date, keep: abc.Sequence[str] = (), take: abc.Sequence[str] = ()
) -> None:
    """Take in a parcel: all of it or nothing, once what would change is shown and agreed to.

    keep, take : whose version stands, by name, of what both changed
    Errors: Unclear; Unwritten where nothing is taken in, or something is left to settle.
    """
    try:
        opened = open_parcel(parcel.name, _read(parcel))
        _check_names(opened, keep, take)
        with read_before(folder.root) as before:
            found = intake(folder, opened, on, keep, take, before)
    except (FaultyParcel, ParcelRefused) as error:
        if isinstance(error, FaultyParcel):
            who.warn(listing(error.problems))
        raise Unwritten(f"{error}\nNothing was written.") from None
    models = [read.value for read in folder.models.values()]
    for line in summary_lines(opened, found, models, folder.club.value.language):
        who.say(line, strong=line.lstrip().startswith(MARKS))
    who.say("")
    if found.faults:
        who.warn(listing(found.faults))
        raise Unwritten("Refused: with the parcel taken in, proofing finds what stands above (its lines as they would "
                        "be).\nNothing was written.")  # fmt: skip
    if found.files:
        _take_in(who, folder.root, found)
    else:
        who.say("Nothing of it is new to you. Nothing was written.")
    if found.open:
        raise Unwritten("")


def _take_in(who: Asks, root: Path, found: Intake) -> None:
    question = _question(found)
    if question and not who.quiet and not who.asked(question):
        raise Unwritten
    try:
        unsure = found.write(root)
    except StoreError as error:
        raise Unwritten(f"{error}\nNothing was written.") from None
    for line in _written(found):
        who.say(line)
    if unsure:
        who.warn(f"It is taken in, with a warning: {unsure}.")


def _question(found: Intake) -> str:
    """What must be asked before it is written; nothing where only the other club's versions are noted."""
    if found.taken or found.shelf or found.records or found.open:
        return "Take this in?"
    return "Note that this is settled?" if found.settled else ""


def _read(path: Path) -> bytes:
    try:
        return beginning(path, MAX_BYTES + 1, named=True)
    except OSError as error:
        message = f"{path} cannot be opened: {error.strerror}"
        raise ParcelRefused("unreadable-file", message, "give the parcel's file") from None


def _check_names(parcel: Parcel, keep: abc.Sequence[str], take: abc.Sequence[str]) -> None:
    names = sorted({Path(path).stem for path in parcel.shared})
    if unknown := next((name for name in (*keep, *take) if name not in names), None):
        raise Unclear(f'there is no "{unknown}" in this parcel; in it: {", ".join(names)}')
    if both := next((name for name in keep if name in take), None):
        raise Unclear(f'"{both}" cannot be both --keep and --take')


def _written(found: Intake) -> abc.Iterator[str]:
    if found.settled:
        yield f"Noted as settled: {', '.join(offer.called for offer in found.settled)}"
    elif not _question(found):
        yield "You have all of it. What the other club has was noted."
    if found.taken:
        yield f"Taken in: {', '.join(offer.called for offer in found.taken)}"
    if found.shelf:
        yield f"Added to club.yaml: {', '.join(name for entries in found.shelf.values() for name in entries)}"
    if numbers := sorted({path.split("/")[1] for path in found.records}):
        yield f"Records taken in: {', '.join(numbers)}"
    for offer in found.open:
        if offer.ours is not None:
            yield f"Left side by side: {offer.path} (yours) and {beside_file(offer)} (theirs)"
    if found.open:
        yield f"{counted(len(found.open), 'file')} to settle, see above."
