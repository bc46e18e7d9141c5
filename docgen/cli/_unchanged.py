"""Whether anything changed since a command ended: then it has nothing to do but say the same, and ends at once.

A stamp is a digest over the names, sizes and times of every file that the command could have read, the program's own
among them. Where the system tells when a file itself was last touched (POSIX: ctime, which nothing but the clock can
set back), that is trusted, but for files so young that they may have changed again within one tick of the clock: their
bytes are in the stamp as well. Elsewhere the bytes of every file are. Nothing is imported that reads a club.
"""

# ruff: noqa: PTH114, PTH118, PTH120, PTH123, PTH208
# (pathlib takes longer than all the rest)
from __future__ import annotations

import contextlib
import hashlib
import json
import os
import stat
import sys
import time
from collections.abc import Iterable, Iterator, Sequence
from operator import attrgetter
from pathlib import Path
from typing import Any, TypeAlias

import click

import docgen
from docgen.club.files import bounded

PLACE = ".docgen/said"
"""Where the stamps lie, a file each, below the folder of the printed sheets."""
YOUNG = 2_000_000_000
"""Nanoseconds: the coarsest clock of a file system that is in use (FAT)."""
KEPT = 20
"""Stamps that are kept, the newest."""
WORTH = 40
"""Files to read from which on remembering what was said of them is worth a file: a tenth of a second or so."""
MOST = 64 << 20
"""Largest file of stamps that is read, or file whose bytes are in a stamp, bytes."""
_READ = ("club.yaml", "glossary.yaml", "procedures", "models", "shared", "templates")
_PASSED = frozenset({"__pycache__", "issued", "signed", "drafts"})
_File: TypeAlias = "tuple[str, os.stat_result | None]"
"""Its path, and what the system tells of it."""


class Stamps:
    """The stamps in a folder of printed sheets, for commands on the club at `root` that said the same words."""

    def __init__(self, root: Path, out: Path, words: Sequence[str]) -> None:
        self._root, self._out = root, out
        key = hashlib.sha256("\0".join([str(root.resolve()), *words]).encode("utf-8", "surrogateescape")).hexdigest()
        self._place = out / PLACE / key
        self._at, self._read_then, self.many = 0, "", 0
        self._program = _files_of_the_program()
        self.parts: dict[str, str] = {}

    def unchanged(self) -> Any:
        """What the command said when all was as it is now; None where anything changed. To be asked first of all.

        Where something changed, `parts` are the digests of what each engine's folder holds, and of all else under "";
        those that end with "?" hold what may change unseen.
        """
        club, parts, now = self._club(), {}, time.time_ns()
        self.many = sum(map(len, club.values()))
        match self._kept():
            case {"at": int(at), "read": str(read), "made": str(made), "files": list(made_files), "said": said}:
                parts = self._parts(club, at)
                if read == _digest(parts) and made == self._made(at, made_files):
                    return said
        again = {name: files for name, files in club.items() if parts.get(name, "?").endswith("?")}
        self._at, self.parts = now, {**parts, **self._parts(again, now)}
        self._read_then = _digest(self.parts)
        return None

    def keep(self, made: Sequence[Path], said: Any) -> None:
        """Keep that the command ended, having made these files and said this, for the files as they were when it began.

        Errors: OSError.
        """
        if os.name != "posix" and _digest(self._parts(self._club(), self._at)) != self._read_then:
            return  # where the system tells less, all could be once more as it was when the command began
        names = [path.relative_to(self._out).as_posix() for path in made]
        made_now = self._made(self._at, names)
        stamp = {"at": self._at, "read": self._read_then, "made": made_now, "files": names, "said": said}
        self._place.parent.mkdir(parents=True, exist_ok=True)
        temporary = self._place.with_name(f".tmp-{os.getpid()}")
        temporary.write_text(json.dumps(stamp), encoding="utf-8")
        temporary.replace(self._place)
        kept = sorted(self._place.parent.glob("[0-9a-f]*"), key=lambda one: one.stat().st_mtime_ns)
        for old in kept[:-KEPT]:
            old.unlink(missing_ok=True)

    def _kept(self) -> Any:
        with contextlib.suppress(OSError, ValueError):
            return json.loads(bounded(self._place, MOST))
        return None

    def _club(self) -> dict[str, list[_File]]:
        engines = os.path.join(self._root, "engines")
        found = {"": [one for name in _READ for one in _listed(os.path.join(self._root, name))]}
        each = _entries(engines)
        if not each:
            found[""] += _listed(engines)
        return found | {entry.name: _listed(entry.path) for entry in each}

    def _parts(self, club: dict[str, list[_File]], at: int) -> dict[str, str]:
        parts = {name: _signed(files, at) for name, files in club.items()}
        if "" in parts:
            installed = os.path.dirname(os.path.dirname(click.__file__))
            libraries = sorted(name for name in os.listdir(installed) if name.endswith(".dist-info"))
            both = f"{_signed(self._program, at)} {parts['']}"
            parts[""] = f"{sys.version} {libraries} {both}" + ("?" if "?" in both else "")
        return parts

    def _made(self, at: int, names: Sequence[str]) -> str:
        """What was printed, and the jobs that it was printed from."""
        signed = [_signed(_listed(os.path.join(self._out, name)), 0) for name in names]
        engines = _entries(os.path.join(self._root, "engines"))
        return _digest([*signed, *(_signed(_listed(os.path.join(one.path, "issued")), 0) for one in engines)])


def _entries(place: str) -> list[os.DirEntry[str]]:
    """What lies in a folder; nothing for a link to one, which may lead out of the club."""
    try:
        if os.path.islink(place):
            return []
        with os.scandir(place) as found:
            return sorted(found, key=attrgetter("name"))
    except OSError:
        return []


def _files_of_the_program() -> list[_File]:
    """One that changes while it runs has another look the next time."""
    inside = os.path.realpath(os.path.dirname(docgen.__file__))
    return [*_listed(inside), *_listed(os.path.join(os.path.dirname(inside), "templates"))]


def _listed(place: str) -> list[_File]:
    """A file, or all files of a folder; a name that is not there, or a link, stands for itself."""
    try:
        found = os.lstat(place)
    except OSError:
        return [(place, None)]
    return list(_below(place)) if stat.S_ISDIR(found.st_mode) else [(place, found)]


def _below(place: str) -> Iterator[_File]:
    for entry in _entries(place):
        if entry.name.startswith(".tmp-") or entry.name in _PASSED:
            continue
        try:
            if entry.is_dir(follow_symlinks=False):
                yield from _below(entry.path)
            else:
                yield entry.path, entry.stat(follow_symlinks=False)
        except OSError:  # it is gone
            continue


def _digest(parts: object) -> str:
    return hashlib.sha256(repr(parts).encode("utf-8", "surrogateescape")).hexdigest()


def _signed(files: Iterable[_File], at: int) -> str:
    """A digest of files: of what the system tells of each, and the bytes of those that may change unseen: then it ends
    with "?"."""
    lines: list[str] = []
    whole, unsure = hashlib.sha256(), ""
    for path, told in files:
        if told is None:
            lines.append(f"{path} is not there\n")
            continue
        changed, inner = told.st_mtime_ns, told.st_ctime_ns
        lines.append(f"{path} {told.st_size} {changed} {inner}\n")
        if os.name != "posix" or (at and max(changed, inner) > at - YOUNG):
            unsure = "?"
            if stat.S_ISREG(told.st_mode) and told.st_size <= MOST:  # no command reads a longer one, or another
                with contextlib.suppress(OSError), open(path, "rb") as file:
                    whole.update(hashlib.file_digest(file, "sha256").digest())
    whole.update("".join(lines).encode("utf-8", "surrogateescape"))
    return whole.hexdigest() + unsure
