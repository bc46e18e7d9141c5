"""What was read before, by the digest of the file: saves parsing a long record again.

Only files without any problem are kept, as plain data. The bytes of every file are still read and hashed each time,
so a changed file is never taken for what it was. What stands where in a file is worked out anew when somebody asks.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path

from docgen.club.yamldoc import Data, Document, Loc, Position
from docgen.club.yamltext import read_yaml


@dataclass
class RecordCache:
    """Plain data by digest: what a file of earlier readings gave, what this reading used, how much of it was new.

    engines : the same for what lies below engines/, where it is kept apart
    """

    before: Mapping[str, Data] = field(default_factory=dict)
    used: dict[str, Data] = field(default_factory=dict)
    new: int = 0
    engines: RecordCache | None = None

    def document(self, path: str, data: bytes, digest: str) -> Document | None:
        """The file as a document, when its digest is known."""
        if self.engines is not None and path.startswith("engines/"):
            return self.engines.document(path, data, digest)
        found = self.before.get(digest)
        if found is None:
            return None
        self.used[digest] = found
        places = _Places(path, data)
        text = data.decode("utf-8-sig").replace("\r\n", "\n").replace("\r", "\n")
        return Document(path, text, found, _At(places, "values"), _At(places, "keys"))

    def add(self, digest: str, document: Document) -> None:
        """Keep what a file without problems holds."""
        if self.engines is not None and document.path.startswith("engines/"):
            self.engines.add(digest, document)
            return
        self.used[digest] = document.data
        self.new += 1

    def to_bytes(self) -> bytes:
        """What was used, for :func:`from_bytes` of the next reading."""
        body = json.dumps(self.used, ensure_ascii=False, separators=(",", ":")).encode()
        return _head(body) + body


def from_bytes(data: bytes) -> RecordCache:
    """What an earlier reading kept; nothing when it is damaged or from another version of the reader."""
    line, _, body = data.partition(b"\n")
    if line + b"\n" != _head(body):
        return RecordCache()
    return RecordCache(json.loads(body))


def _head(body: bytes) -> bytes:
    return f"docgen read this before {_reader()} {hashlib.sha256(body).hexdigest()}\n".encode()


@cache
def _reader() -> str:
    """A digest of the reader's own code: what another version of it read is not believed."""
    whole = hashlib.sha256()
    for module in sorted(Path(__file__).parent.iterdir()):
        if module.name.startswith(("yaml", "text")) and module.name.endswith(".py"):
            whole.update(module.read_bytes())
    return whole.hexdigest()


class _Places:
    """Reads the file for its positions, once, when the first is asked for."""

    def __init__(self, path: str, data: bytes) -> None:
        self.path, self.data = path, data
        self.read: Document | None = None

    def document(self) -> Document:
        if self.read is None:
            self.read, _ = read_yaml(self.path, self.data)
        assert self.read is not None, "it was read without a problem before"
        return self.read


class _At(Mapping[Loc, Position]):
    """One of a document's two tables of positions."""

    def __init__(self, places: _Places, table: str) -> None:
        self.places, self.table = places, table

    def _all(self) -> Mapping[Loc, Position]:
        found: Mapping[Loc, Position] = getattr(self.places.document(), self.table)
        return found

    def __getitem__(self, loc: Loc) -> Position:
        return self._all()[loc]

    def __iter__(self) -> Iterator[Loc]:
        return iter(self._all())

    def __len__(self) -> int:
        return len(self._all())
