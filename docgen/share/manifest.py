"""``manifest.yaml``: what a parcel says of itself; ``registers.yaml``: what its files name of the sender's shelf."""

import re
from typing import Annotated, Any, Literal

from pydantic import BeforeValidator, Field

from docgen.club.schema.base import Name, Names, Strict, Text, Whole, fault, of_form
from docgen.club.schema.club import Gauge, Material, Tool
from docgen.club.schema.origins import ContentDigest, SharedFile, Version

MANIFEST, REGISTERS = "manifest.yaml", "registers.yaml"
FORMAT = "1"
PRIVATE = {
    "tools": ("calibrated_until", "torque", "step"),
    "gauges": ("calibrated_until", "uncertainty"),
    "materials": ("price", "container"),
}
"""What a register says of the very things on the club's own shelf; it never goes into a parcel."""
MAX_SENDER = 80
"""Longest name of a club, in characters."""
ENGINE_FILE = re.compile(
    r"engines/[A-Z0-9]{1,6}/(engine\.yaml"
    r"|log/[0-9]{4}-[0-9]{2}-[0-9]{2}-[a-z]{1,20}-[0-9a-f]{12}\.yaml|issued/[A-Z0-9-]{1,40}(-[0-9a-f]{12})?\.yaml)"
)


def _sender(value: Any) -> Any:
    if isinstance(value, str) and (len(value) > MAX_SENDER or not value.isprintable()):
        raise fault("bad-sender", f"a club's name has at most {MAX_SENDER} characters, all of them printable")
    return value


EngineFile = Annotated[str, of_form(ENGINE_FILE, "bad-file-name", "a file of an engine's record", "")]


class Packed(Strict):
    """One shared file of a parcel. ``versions`` are those known, oldest first; the last one is the file itself."""

    digest: ContentDigest
    revision: Whole | None = None
    author: Text | None = None
    licence: Text | None = None
    equipment: Names = ()
    needs: tuple[SharedFile, ...] = ()
    versions: Annotated[tuple[Version, ...], Field(min_length=1, max_length=100)]


class Manifest(Strict):
    """What a parcel holds. Its digests show what was damaged on the way; they do not prove who packed it.

    ``language`` is the sender's, for files that name none.
    """

    parcel: Literal["1"]
    from_: Annotated[Text, BeforeValidator(_sender)] = Field(alias="from")
    language: Text = "en"
    files: dict[SharedFile, Packed] = Field(default_factory=dict)
    registers: ContentDigest | None = None
    engines: dict[EngineFile, ContentDigest] = Field(default_factory=dict)


class Registers(Strict):
    """The tools, gauges and materials that the parcel's files name, without what is the sender's own affair."""

    tools: dict[Name, Tool] = Field(default_factory=dict)
    gauges: dict[Name, Gauge] = Field(default_factory=dict)
    materials: dict[Name, Material] = Field(default_factory=dict)
