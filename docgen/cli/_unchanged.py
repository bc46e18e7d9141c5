"""Whether anything changed since a command ended well: then it has nothing to do, and ends at once.

A stamp is a digest over the names, sizes and times of every file that the command could have read, the program's own
among them. Where the system tells when a file itself was last touched (POSIX: ctime, which nothing but the clock can
set back), that is trusted, but for files so young that they may have changed again within one tick of the clock: their
bytes are in the stamp as well. Elsewhere the bytes of every file are. Nothing is imported that reads a club.
"""

# ruff: noqa: PTH112, PTH116, PTH118, PTH120, PTH123, PTH208
# (pathlib takes longer than all the rest)
from __future__ import annotations

import contextlib
import hashlib
import json
import os
import stat
import sys
import time
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any

import click

import docgen
from docgen.club.files import bounded

PLACE = ".docgen/stamps"
"""Where the stamps lie, below the folder of the printed sheets."""
YOUNG = 2_000_000_000
"""Nanoseconds: the coarsest clock of a file system that is in use (FAT)."""
KEPT = 20
"""Stamps that are kept, the newest."""
MOST = 64 << 20
"""Largest file of stamps that is read, or file whose bytes are in a stamp, bytes."""
_READ = ("club.yaml", "glossary.yaml", "procedures", "models", "engines", "shared", "templates")
_WRITTEN = ("issued", "signed", "drafts")


class Stamps:
    """The stamps in a folder of printed sheets, for commands on the club at `root` that said the same words."""

    def __init__(self, root: Path, out: Path, words: Sequence[str]) -> None:
        self._root, self._out = root, out
        self._key = hashlib.sha256("\0".join([str(root.resolve()), *words]).encode()).hexdigest()
        self._at, self._read_then = 0, ""

    def unchanged(self) -> Any:
        """What the command said when all was as it is now; None where anything changed. To be asked first of all."""
        match self._all().get(self._key):
            case {"at": int(at), "read": str(read), "made": str(made), "files": list(made_files), "said": said}:
                if read == self._read(at) and made == self._made(at, made_files):
                    return said
        self._at = time.time_ns()
        self._read_then = self._read(self._at)
        return None

    def keep(self, made: Sequence[Path], said: Any) -> None:
        """Keep that the command ended well, having made these files and said this; not where a file changed meanwhile.

        Errors: OSError.
        """
        if self._read(self._at) != self._read_then:
            return
        at, names = time.time_ns(), [path.relative_to(self._out).as_posix() for path in made]
        stamp = {"at": at, "read": self._read(at), "made": self._made(at, names), "files": names, "said": said}
        kept = {**self._all(), self._key: stamp}
        newest = sorted(kept.items(), key=lambda one: one[1].get("at", 0))[-KEPT:]
        place = self._out / PLACE
        place.parent.mkdir(parents=True, exist_ok=True)
        temporary = place.with_name(f".tmp-{os.getpid()}")
        temporary.write_text(json.dumps(dict(newest)), encoding="utf-8")
        temporary.replace(place)

    def _all(self) -> dict[str, Any]:
        with contextlib.suppress(OSError, ValueError):
            found = json.loads(bounded(self._out / PLACE, MOST))
            if isinstance(found, dict):
                return {key: one for key, one in found.items() if isinstance(one, dict)}
        return {}

    def _read(self, at: int) -> str:
        whole = hashlib.sha256(sys.version.encode())
        inside = os.path.dirname(docgen.__file__)
        beside = os.path.join(os.path.dirname(inside), "templates")
        for place in (*(os.path.join(self._root, name) for name in _READ), inside, beside):
            _sign(whole, place, at)
        installed = os.path.dirname(os.path.dirname(click.__file__))
        whole.update(repr(sorted(name for name in os.listdir(installed) if name.endswith(".dist-info"))).encode())
        return whole.hexdigest()

    def _made(self, at: int, names: Sequence[str]) -> str:
        """What was printed, and the jobs that it was printed from."""
        whole = hashlib.sha256()
        for name in names:
            _sign(whole, os.path.join(self._out, name), 0)
        for engine in _entries(os.path.join(self._root, "engines")):
            _sign(whole, os.path.join(engine.path, "issued"), 0)
        return whole.hexdigest()


def _entries(place: str) -> list[os.DirEntry[str]]:
    try:
        with os.scandir(place) as found:
            return sorted(found, key=lambda one: one.name)
    except OSError:
        return []


def _sign(whole: Any, place: str, at: int) -> None:
    """Add a file, or all files of a folder, to the digest; a name that is not there is part of it as well."""
    try:
        found = os.stat(place)
    except OSError:
        whole.update(f"{place} is not there\n".encode("utf-8", "surrogateescape"))
        return
    if not os.path.isdir(place):
        _sign_file(whole, place, found, at)
        return
    for path, told in _below(place):
        _sign_file(whole, path, told, at)


def _below(place: str) -> Iterator[tuple[str, os.stat_result]]:
    for entry in _entries(place):
        if entry.name.startswith(".tmp-") or entry.name in ("__pycache__", *_WRITTEN):
            continue
        if entry.is_dir(follow_symlinks=False):
            yield from _below(entry.path)
        else:
            with contextlib.suppress(OSError):
                yield entry.path, entry.stat(follow_symlinks=False)


def _sign_file(whole: Any, path: str, told: os.stat_result, at: int) -> None:
    line = f"{path} {told.st_size} {told.st_mtime_ns} {told.st_ctime_ns}\n"
    whole.update(line.encode("utf-8", "surrogateescape"))
    young = os.name != "posix" or (at and max(told.st_mtime_ns, told.st_ctime_ns) > at - YOUNG)
    if young and stat.S_ISREG(told.st_mode) and told.st_size <= MOST:  # no command reads a longer one, or anything else
        with contextlib.suppress(OSError), open(path, "rb") as file:
            whole.update(hashlib.file_digest(file, "sha256").digest())
