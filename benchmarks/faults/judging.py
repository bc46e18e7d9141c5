"""Looks at a club after a command that failed or was killed: what is lost, doubled, half-written, left behind."""

from __future__ import annotations

import re
from collections import Counter
from dataclasses import dataclass, field
from pathlib import Path

from docgen.club.log import FILE_NAME, SHORT, digest
from docgen.club.placement import NOTED
from docgen.club.store import TEMPORARY

RECORD = re.compile(r"engines/[^/]+/(log|issued|signed)/")
_CACHES = (NOTED, ".read-before")


def is_cache(path: str) -> bool:
    """Whether a file may say anything or be gone: it saves work, or has something set aside once more."""
    return path.endswith(_CACHES) or "/.docgen/" in f"/{path}"


@dataclass
class Verdict:
    """The figures of the last line, and the first few cases behind each."""

    calls: int = 0
    commands: set[str] = field(default_factory=set)
    faults: Counter[str] = field(default_factory=Counter)
    examples: dict[str, list[str]] = field(default_factory=dict)

    def found(self, fault: str, case: str) -> None:
        """Count a fault."""
        self.faults[fault] += 1
        self.examples.setdefault(fault, []).append(case)

    def __str__(self) -> str:
        kinds = ("lost", "doubled", "half-written", "wrong exit", "left behind unnamed")
        told = "; ".join(f"{kind}: {self.faults[kind]}" for kind in kinds)
        return f"calls: {self.calls}; commands: {len(self.commands)}; {told}"


def tree(root: Path) -> dict[str, bytes]:
    """Every file of a club but the caches, by its path."""
    found = {}
    for path in sorted(root.rglob("*")):
        name = path.relative_to(root).as_posix()
        if path.is_file() and not is_cache(name):
            found[name] = path.read_bytes()
    return found


def events(files: dict[str, bytes]) -> Counter[bytes]:
    """The events of all logs, each by what it says, whatever it follows."""
    told: Counter[bytes] = Counter()
    for path, data in files.items():
        if "/log/" in path and TEMPORARY not in path:
            told[path.split("/")[1].encode() + b": " + data.partition(b"\nparents:")[0]] += 1
    return told


def temporary(files: dict[str, bytes]) -> list[str]:
    """The unfinished files."""
    return [path for path in files if path.rpartition("/")[2].startswith(TEMPORARY)]


def half_written(now: dict[str, bytes], *whole: dict[str, bytes], pending: tuple[str, ...] = ()) -> list[str]:
    """The files that are as they were at no time: neither before, nor after, nor whole by their own name.

    pending : names of files that the next command puts in their place
    """
    found = []
    for path, data in now.items():
        name = path.rpartition("/")[2]
        if name.startswith(TEMPORARY) or name in pending or any(files.get(path) == data for files in whole):
            continue
        if path.startswith("out/") and data.rstrip().endswith((b"%%EOF", b"</html>")):
            continue  # a page of what could be read; the command says what could not
        match = FILE_NAME.fullmatch(name)
        written = match["digest"] if match else ""
        if not (written and digest(data).startswith(written[:SHORT])) and not _says_its_digest(name, data):
            found.append(path)
    return found


def _says_its_digest(name: str, data: bytes) -> bool:
    found = re.fullmatch(r".+-([0-9a-f]{12})\.(yaml|pdf)", name)
    return found is not None and (digest(data).startswith(found[1]) or _sha(data).startswith(found[1]))


def _sha(data: bytes) -> str:
    import hashlib

    return hashlib.sha256(data).hexdigest()


def lost(before: dict[str, bytes], now: dict[str, bytes]) -> list[str]:
    """The files of the record that were there, and are not there any more as they were."""
    return [path for path, data in before.items()
            if RECORD.match(path) and TEMPORARY not in path and now.get(path) != data]  # fmt: skip
