"""What all that begins something shares: filling a file's template, and writing where nothing was before."""

from __future__ import annotations

import json
import re
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from docgen.club.files import holds
from docgen.club.folder import Folder
from docgen.club.schema.published import KINDS, editor_line, schema_file, schema_text
from docgen.club.store import told, write_once
from docgen.desk.asking import Unwritten
from docgen.desk.system import shown
from docgen.sheets.jinja import fill

_PLAIN = re.compile(r"[A-Za-z][^:#,{}\[\]\"'&*!|>%@`\\]*(?<! )")


def filled(kind: str, **values: Any) -> bytes:
    """A new file of a kind; text that was typed in stands in quotation marks where YAML needs them."""
    written = {key: scalar(value) if isinstance(value, Typed) else value for key, value in values.items()}
    return fill(f"new/{kind}.yaml.j2", editor_line=editor_line(kind), **written).encode()


class Typed(str):
    """Free text that somebody typed."""


def scalar(text: str) -> str:
    """Text as it stands in YAML."""
    return str(text) if not text or _PLAIN.fullmatch(text) else json.dumps(str(text), ensure_ascii=False)


def refuse_existing(root: Path, path: str) -> None:
    """See that there is nothing yet. Errors: Unwritten."""
    place = root / path
    if place.is_symlink() or place.exists():
        raise Unwritten(f"{shown(place)} is there already, and nothing is written over. Nothing was written.")


def write_new(root: Path, files: Mapping[str, bytes]) -> None:
    """Write files where there are none, in their order, and the schemas that an editor looks for before them, as far as
    the folder lacks them; one that is there with the very same content stays.

    Errors: Unwritten, before anything is written where another content is in the way.
    """
    schemas = {schema_file(kind): schema_text(kind).encode() for kind in KINDS}
    files = {**{path: data for path, data in schemas.items() if not (root / path).exists()}, **files}
    for path, data in files.items():
        place = root / path
        if place.is_symlink() or (place.exists() and not holds(place, data)):
            refuse_existing(root, path)
    for path, data in files.items():
        try:
            if not (root / path).exists():
                write_once(root / path, data)
        except OSError as error:
            refuse_existing(root, path)
            rest = "What was written before it stays; the same command again writes the rest."
            raise Unwritten(f"{told(error, path)}\n{rest}") from None


def known_equipment(folder: Folder) -> list[str]:
    """The words for what the club's engine types have."""
    return sorted({word for read in folder.models.values() for word in read.value.equipment})
