"""Whether files were touched: a digest over what the system tells of them, and not their bytes.

Where the system tells when a file itself was last touched (POSIX: ctime, which nothing but the clock can set back),
that is trusted, but for files so young that they may have changed again within one tick of the clock: their bytes are
in the digest as well. Elsewhere the bytes of every file are. Nothing is imported that reads a club.
"""

# ruff: noqa: PTH114, PTH120, PTH123
# (pathlib takes longer than all the rest)
import contextlib
import hashlib
import os
import stat
from collections.abc import Iterable
from functools import cache
from operator import attrgetter
from typing import TypeAlias

import docgen

YOUNG = 2_000_000_000
"""Nanoseconds: the coarsest clock of a file system that is in use (FAT)."""
MOST = 64 << 20
"""Largest file whose bytes are in a digest, bytes."""
_PASSED = frozenset({"__pycache__", "issued", "signed", "drafts"})
File: TypeAlias = "tuple[str, os.stat_result | None]"
"""Its path, and what the system tells of it."""


def entries(place: str) -> list[os.DirEntry[str]]:
    """What lies in a folder; nothing for a link to one, which may lead out of the club."""
    try:
        if os.path.islink(place):
            return []
        with os.scandir(place) as found:
            return sorted(found, key=attrgetter("name"))
    except OSError:
        return []


@cache
def of_the_program() -> list[File]:
    """The files of the program, as they were when it was first asked. One that changes while it runs has another look
    the next time."""
    inside = os.path.realpath(os.path.dirname(docgen.__file__))
    return [*listed(inside), *listed(os.path.join(os.path.dirname(inside), "templates"))]  # noqa: PTH118


def listed(place: str) -> list[File]:
    """A file, or all files of a folder; a name that is not there, or a link, stands for itself."""
    try:
        found = os.lstat(place)
    except OSError:
        return [(place, None)]
    files: list[File] = []
    _below(place, files) if stat.S_ISDIR(found.st_mode) else files.append((place, found))
    return sorted(files)


def _below(place: str, files: list[File]) -> None:
    with contextlib.suppress(OSError), os.scandir(place) as found:  # one that is gone is left out
        for entry in found:
            if entry.name.startswith(".tmp-") or entry.name in _PASSED:
                continue
            try:
                if entry.is_dir(follow_symlinks=False):
                    _below(entry.path, files)
                else:
                    files.append((entry.path, entry.stat(follow_symlinks=False)))
            except OSError:
                continue


def digest(parts: object) -> str:
    """A digest of plain data."""
    return hashlib.sha256(repr(parts).encode("utf-8", "surrogateescape")).hexdigest()


def signed(files: Iterable[File], at: int) -> str:
    """A digest of files: of what the system tells of each, and the bytes of those that may change unseen: then it ends
    with "?".

    at : the time at which they are looked at, nanoseconds; 0 where no file is too young
    """
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
