"""Writing into the record: a file is written once, whole, and never over another.

The bytes go to a temporary file in the same folder, are flushed to the disk, and are then linked to
their name, which fails when the name is taken; the folder is flushed last. A kill at any moment leaves
either the whole file or a stray ``.tmp-`` file that no reader looks at.
"""

from __future__ import annotations

import contextlib
import os
import tempfile
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

import yaml

from docgen.club.log import SHORT, digest
from docgen.club.yamltext import read_yaml


class StoreError(Exception):
    """A file of the record cannot be written; the message says why, the hint what to do."""

    def __init__(self, name: str, message: str, hint: str = "") -> None:
        super().__init__(message)
        self.name, self.message, self.hint = name, message, hint


class _Plain(yaml.SafeDumper):
    """Writes every scalar as text, quoted only where YAML needs it: our reader gives no plain word a meaning."""

    yaml_implicit_resolvers: dict[str, Any] = {}

    def ignore_aliases(self, data: Any) -> bool:
        """Repeats are written out: the reader knows no anchors."""
        return True


def to_yaml(data: Mapping[str, Any], *, comment: str = "") -> str:
    """`data` (mappings, lists, text) as YAML that :func:`read_yaml` gives back unchanged.

    Errors: StoreError ``not-storable`` when the reader would refuse the text or read it differently.
    """
    text = "".join(f"# {line}\n" for line in comment.splitlines())
    text += yaml.dump(dict(data), Dumper=_Plain, sort_keys=False, allow_unicode=True, width=100)
    document, problems = read_yaml("event", text)
    if document is None or problems or document.data != data:
        reason = problems[0].message if problems else "it would not read back the same"
        raise StoreError(
            "not-storable", f"this cannot be kept in a file: {reason}", problems[0].hint if problems else ""
        )
    return text


def write_once(path: Path, data: bytes) -> None:
    """Write `data` to the new file `path`, all of it or nothing. Errors: FileExistsError, OSError."""
    with _beside(path, data) as temporary:
        path.hardlink_to(temporary)
    _flush_folder(path.parent)


def replace(path: Path, data: bytes) -> None:
    """Put `data` in the place of `path` in one move: a reader sees the old file or the new one. Not for the record."""
    with _beside(path, data) as temporary:
        temporary.replace(path)


@contextlib.contextmanager
def _beside(path: Path, data: bytes) -> Iterator[Path]:
    """A flushed temporary file with `data` in the folder of `path`; it is gone afterwards."""
    path.parent.mkdir(parents=True, exist_ok=True)
    handle, name = tempfile.mkstemp(prefix=".tmp-", dir=path.parent)
    temporary = Path(name)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        temporary.chmod(0o644)
        yield temporary
    finally:
        temporary.unlink(missing_ok=True)


def _flush_folder(folder: Path) -> None:
    if os.name == "posix":
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


def append(log: Path, event: Mapping[str, Any], parents: tuple[str, ...]) -> Path:
    """Write one event behind `parents` into the folder `log` and return its file.

    event : plain data as :mod:`docgen.club.schema.event` reads it, with ``event`` and ``date``
    """
    data = {**event, **({"parents": list(parents)} if parents else {})}
    bytes_ = to_yaml(data).encode()
    path = log / f"{event['date']}-{event['event']}-{digest(bytes_)[:SHORT]}.yaml"
    with contextlib.suppress(FileExistsError):
        write_once(path, bytes_)
    return path
