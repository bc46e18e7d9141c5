"""``shared/origins.yaml``: where shared files came from, written by the program when a parcel goes out or comes in."""

import re
from typing import Annotated

from pydantic import Field

from docgen.club.schema.base import Strict, Text, Whole, of_form

_DIGEST = re.compile(r"[0-9a-f]{64}")
SHARED_FILE = re.compile(r"(procedures|models)/[a-z0-9]+(-[a-z0-9]+)*\.yaml|procedures/[a-z0-9]+(-[a-z0-9]+)*\.md")


ContentDigest = Annotated[str, of_form(_DIGEST, "bad-digest", "a digest", "the program writes it: type no digests")]
SharedFile = Annotated[
    str, of_form(SHARED_FILE, "bad-file-name", "a file that clubs share", "write procedures/NAME.yaml")
]


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
