"""``shared/origins.yaml``: where shared files came from, written by the program when a parcel goes out or comes in."""

import re
from typing import Annotated, Any

from pydantic import BeforeValidator, Field

from docgen.club.schema.base import Strict, Text, Whole, fault

_DIGEST = re.compile(r"[0-9a-f]{64}")
SHARED_FILE = re.compile(r"(procedures|models)/[a-z0-9]+(-[a-z0-9]+)*\.yaml|procedures/[a-z0-9]+(-[a-z0-9]+)*\.md")


def _digest(value: Any) -> Any:
    if not isinstance(value, str) or not _DIGEST.fullmatch(value):
        raise fault("bad-digest", f'"{value}" is not a digest', "this file is written by the program: type no digests")
    return value


def _shared_file(value: Any) -> Any:
    if not isinstance(value, str) or not SHARED_FILE.fullmatch(value):
        raise fault("bad-file-name", f'"{value}" is not a file that clubs share', "write procedures/NAME.yaml")
    return value


ContentDigest = Annotated[str, BeforeValidator(_digest)]
SharedFile = Annotated[str, BeforeValidator(_shared_file)]


class Version(Strict):
    """One version of a shared file: the digest of what it says, its revision, and the club that it came from.

    Without ``from`` it was written in this club.
    """

    digest: ContentDigest
    revision: Whole | None = None
    from_: Text | None = Field(default=None, alias="from")


class Origins(Strict):
    """The versions of each shared file that the club knows, oldest first."""

    files: dict[SharedFile, tuple[Version, ...]] = Field(default_factory=dict)

    def received(self, path: str) -> Version | None:
        """The last version of a file that came from another club; None where none did."""
        return next((one for one in reversed(self.files.get(path, ())) if one.from_), None)
