"""What all that begins something shares: what may be answered, filling a template, writing where nothing was before."""

import json
import re
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from pydantic import TypeAdapter, ValidationError

from docgen.club.files import holds
from docgen.club.folder import Folder
from docgen.club.problem import visible
from docgen.club.schema.published import KINDS, editor_line, schema_file, schema_text
from docgen.club.store import write_error, write_once
from docgen.club.text import hidden_in
from docgen.club.yamltext import read_yaml
from docgen.desk.asking import Check, Unwritten
from docgen.desk.choosing import Unclear
from docgen.desk.system import short_path
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
        raise Unwritten(f"{short_path(place)} is there already, and nothing is written over. Nothing was written.")


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
            raise Unwritten(f"{write_error(error, path)}\n{rest}") from None


def known_equipment(folder: Folder) -> list[str]:
    """The words for what the club's engine types have."""
    return sorted({word for read in folder.models.values() for word in read.value.equipment})


def fits(kind: Any, *, blank: bool = False) -> Check:
    """Whether an answer is what a field of the files takes; `blank` lets an empty one through."""
    adapter = TypeAdapter(kind)

    def check(text: str) -> str:
        text = text.strip()
        if blank and not text:
            return ""
        if wrong := hidden_in(text) or _unread(text):
            raise Unclear(f'"{visible(text[:60])}": {wrong}')
        try:
            adapter.validate_python(text)
        except ValidationError as error:
            told = error.errors(include_url=False)[0].get("ctx", {})
            hint = f"; {told['hint']}" if told.get("hint") else _known(told)
            raise Unclear(f"{told.get('message', 'that cannot be written')}{hint}") from None
        return text

    return check


def _unread(text: str) -> str:
    """Why our own reader would not take a text; empty where it would."""
    _, problems = read_yaml("", f"text: {json.dumps(text, ensure_ascii=False)}\n")
    return f"{problems[0].message}; {problems[0].hint}" if problems else ""


def decimal_point(text: str) -> str:
    """A figure with its decimal comma as a point."""
    return re.sub(r"(?<=\d),(?=\d)", ".", text)


def each(check: Check) -> Check:
    """Whether every one of several words, with spaces or commas between, passes."""

    def checked(text: str) -> str:
        for word in text.replace(",", " ").split():
            check(word)
        return text.replace(",", " ")

    return checked


def _known(told: dict[str, Any]) -> str:
    return f"; known: {', '.join(told['known'])}" if told.get("known") else ""


def one_of(known: list[str], what: str) -> Check:
    """Whether an answer is one of a few names."""

    def check(text: str) -> str:
        if text.strip() not in known:
            listed = ", ".join(known) if known else "none yet"
            raise Unclear(f'there is no {what} "{text.strip()}"; known: {listed}')
        return text.strip()

    return check
