"""Versions of shared files that a club knows: their order in `shared/origins.yaml`, their text in `shared/versions/`.

With the text of the version that two clubs last had in common, a club's own change can be told from the other's.
"""

from collections.abc import Iterable, Mapping
from pathlib import Path

from docgen.club.content import version_file
from docgen.club.files import linked, read_bytes
from docgen.club.folder import ORIGINS
from docgen.club.schema.origins import Origins, Version
from docgen.club.store import replace, write_once
from docgen.club.yamldoc import Data
from docgen.share.container import ParcelRefused
from docgen.share.layout import to_text

COMMENT = "# Written by docgen when a parcel goes out or comes in: which versions of shared files are known here.\n"


def lineage(
    origins: Origins, path: str, digest: str, revision: int | None, sender: str | None = None
) -> tuple[Version, ...]:
    """The known versions of a file with this one at their end."""
    known = origins.files.get(path, ())
    here = next((one for one in known if one.digest == digest), None)
    last = here or Version(digest=digest, revision=revision, **{"from": sender} if sender else {})
    return (*(one for one in known if one.digest != digest), last)


def joined(ours: Iterable[Version], theirs: Iterable[Version]) -> tuple[Version, ...]:
    """The versions that either side knows, each once: ours, then what is new in theirs, in their order."""
    found = {one.digest: one for one in ours}
    for one in theirs:
        found.setdefault(one.digest, one)
    return tuple(found.values())


def common(ours: Iterable[str], theirs: Iterable[str]) -> str | None:
    """The digest of the latest of their versions that is known here too; None where there is none."""
    known = set(ours)
    return next((digest for digest in reversed(tuple(theirs)) if digest in known), None)


def keep(root: Path, origins: Mapping[str, tuple[Version, ...]], texts: Mapping[str, str]) -> None:
    """Keep the versions of files that go out: their texts first, then the order of them all.

    Errors: Refused ``link-not-written`` where the folder is a link to another place; OSError.
    """
    if way := linked(root, ORIGINS) or linked(root, "shared/versions"):
        message = f"{way} is a link to another place; nothing is written through it"
        raise ParcelRefused("link-not-written", message, "put the folder itself there")
    for path, text in texts.items():
        place = root / version_file(path, origins[path][-1].digest)
        if not place.exists():
            write_once(place, text.encode())
    data = origins_text(origins).encode()
    place = root / ORIGINS
    if read_bytes(root, ORIGINS) != data:
        replace(place, data)


def origins_text(origins: Mapping[str, tuple[Version, ...]]) -> str:
    """The text of `shared/origins.yaml`."""
    files: dict[str, Data] = {path: [version_data(one) for one in known] for path, known in sorted(origins.items())}
    return COMMENT + to_text({"files": files})


def version_data(version: Version) -> Data:
    """One version as plain data."""
    told: dict[str, Data] = {"digest": version.digest}
    told |= {"revision": str(version.revision)} if version.revision is not None else {}
    return {**told, **({"from": version.from_} if version.from_ else {})}
