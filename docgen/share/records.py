"""Engines' records that came with a parcel: taken where the engine is not here, or as events that are not here yet."""

from __future__ import annotations

import tempfile
from collections.abc import Mapping
from pathlib import Path

from docgen.club.files import read_bytes, yaml_files
from docgen.club.folder import Folder
from docgen.club.log import digest
from docgen.club.problem import Problem
from docgen.club.read import read_club
from docgen.share.container import Refused


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
                raise Refused("another-engine", message, "ask the sender for a parcel without it")
            message = f"{path} in the parcel is not what your own record says"
            raise Refused("record-differs", message, "docgen verify says whose record is not as it was written")
    return found


def record_problems(folder: Folder, records: Mapping[str, bytes], instead: Mapping[str, bytes]) -> list[Problem]:
    """What is wrong with the records once they are here, beside the club as it would be then.

    They are laid out with the club's other engines in a folder of their own, which is gone afterwards.
    """
    with tempfile.TemporaryDirectory(prefix="docgen-") as name:
        root = Path(name)
        for path, data in {**_club_files(folder), **instead, **records}.items():
            place = root / path
            place.parent.mkdir(parents=True, exist_ok=True)
            place.write_bytes(data)
        then = read_club(root)
    return [one for one in then.problems if one.level == "error" and one.path.startswith("engines/")]


def _club_files(folder: Folder) -> dict[str, bytes]:
    engines = [f"engines/{number}" for number in sorted(folder.engines)]
    paths = ["club.yaml", *yaml_files(folder.root, "procedures"), *yaml_files(folder.root, "models")]
    for base in engines:
        paths += [f"{base}/engine.yaml", *yaml_files(folder.root, f"{base}/log")]
    found = {}
    for path in paths:
        data = read_bytes(folder.root, path)
        if not isinstance(data, Problem):
            found[path] = data
    return found
