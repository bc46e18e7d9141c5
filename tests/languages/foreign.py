"""What of a job had to stay in another language."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import date

from pydantic import BaseModel

from docgen.club.folder import Folder
from docgen.club.schema.prose import Said
from docgen.job.resolve import resolve

ON = date(2027, 2, 20)


def foreign_in(folder: Folder, number: str, procedure: str) -> list[str]:
    """The texts of an engine's job that are marked as being in another language."""
    return sorted(set(_in(resolve(folder, folder.engines[number], folder.procedures[procedure], ON))))


def _in(value: object) -> Iterator[str]:
    if isinstance(value, Said):
        if value.foreign:
            yield str(value)
    elif isinstance(value, BaseModel):
        yield from (text for part in value.__dict__.values() for text in _in(part))
    elif isinstance(value, Mapping):
        yield from (text for part in value.values() for text in _in(part))
    elif isinstance(value, (list, tuple)):
        yield from (text for part in value for text in _in(part))
