"""Engines' records that came with a parcel: taken where the engine is not here, or as events that are not here yet."""

from collections.abc import Mapping

from docgen.club.files import read_bytes
from docgen.club.folder import Folder
from docgen.club.log import digest
from docgen.club.problem import Problem
from docgen.club.read import read_club
from docgen.share.container import ParcelRefused


def new_records(folder: Folder, records: Mapping[str, bytes]) -> dict[str, bytes]:
    """The files of the parcel's records that are not here.

    Errors: Refused ``another-engine`` where the club has an engine of that number that is not this one, and
    ``record-differs`` where a file of it is here with other content.
    """
    found = {}
    for path, data in records.items():
        here = read_bytes(folder.root, path) if (folder.root / path).exists() else None
        if here is None:
            found[path] = data
        elif isinstance(here, Problem) or digest(here) != digest(data):
            number = path.split("/")[1]
            if path.endswith("/engine.yaml"):
                message = f"the parcel brings an engine {number}, and yours of that number is another one"
                raise ParcelRefused("another-engine", message, "ask the sender for a parcel without it")
            message = f"{path} in the parcel is not what your own record says"
            raise ParcelRefused("record-differs", message, "docgen verify says whose record is not as it was written")
    return found


def record_problems(folder: Folder, records: Mapping[str, bytes], instead: Mapping[str, bytes]) -> list[Problem]:
    """What is wrong with the records once they are here, beside the club as it would be then."""
    then = read_club(folder.root, None, {**instead, **records})
    return [one for one in then.problems if one.level == "error" and one.path.startswith("engines/")]
