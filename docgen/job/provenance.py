"""Whose words a job is printed in: what this club changed in a procedure that came from another club."""

from __future__ import annotations

from docgen.club.content import content_digest
from docgen.club.folder import Folder, Read
from docgen.club.schema.model import Model
from docgen.club.schema.origins import Version
from docgen.club.schema.procedure import Procedure, Sequence
from docgen.job.expand import used
from docgen.job.words import JobWords


def adapted(folder: Folder, procedure: Read[Procedure], model: Model, w: JobWords) -> str:
    """What the sheet says of the club's own changes to what it received; empty where there are none.

    The procedure and the sequences that `model` gets are looked at, each against the last version of it that came from
    another club (``shared/origins.yaml``).
    """
    files: list[Read[Procedure] | Read[Sequence]] = [procedure]
    files += [folder.sequences[name] for name in used(procedure.value, model) if name in folder.sequences]
    clubs: dict[str, list[str]] = {}
    for read in files:
        came = received(folder, read.document.path)
        if came is not None and came.digest != content_digest(read.document):
            name = w.the_job if read is procedure else str(getattr(read.value, "sequence", ""))
            clubs.setdefault(str(came.from_), []).append(name)
    return "; ".join(w.changed_here.format(club=club, files=", ".join(names)) for club, names in clubs.items())


def received(folder: Folder, path: str) -> Version | None:
    """The last version of a shared file that came from another club; None where none did."""
    return next((one for one in reversed(folder.origins.files.get(path, ())) if one.from_), None)
