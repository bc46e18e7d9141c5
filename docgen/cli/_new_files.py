"""What the commands that begin something share: filling a file's template, and writing where nothing was before."""

from __future__ import annotations

import json
import re
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import click

from docgen.cli._saying import give_up
from docgen.club.files import holds
from docgen.club.schema.published import KINDS, editor_line, schema_file, schema_text
from docgen.club.store import StoreError, told, write_once
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
    """End with 1 where there is something already."""
    place = root / path
    if place.is_symlink() or place.exists():
        give_up(f"{shown(place)} is there already, and nothing is written over. Nothing was written.")


def write_new(root: Path, files: Mapping[str, bytes]) -> None:
    """Write files where there are none, in their order; one that is there with the very same content stays.

    Ends with 1, before anything is written, where another content is in the way.
    """
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
            _not_written(told(error, path))


def schemas(root: Path) -> dict[str, bytes]:
    """The schemas that an editor looks for, as far as the club's folder lacks them."""
    found = {schema_file(kind): schema_text(kind).encode() for kind in KINDS}
    return {path: data for path, data in found.items() if not (root / path).exists()}


def _not_written(error: StoreError) -> None:
    click.echo(f"{error}\nWhat was written before it stays; the same command again writes the rest.")
    raise click.exceptions.Exit(1)
