"""Which files of a club's folder are looked at, and their bytes."""

import errno
import os
import re
import stat
from collections.abc import Sequence
from pathlib import Path

from docgen.club.problem import Problem
from docgen.club.yamlbytes import MAX_BYTES

_NOT_WAITED_FOR = getattr(os, "O_NONBLOCK", 0)
NO_LINK = getattr(os, "O_NOFOLLOW", 0) | _NOT_WAITED_FOR
"""A link is not followed and a pipe not waited for, where the system can tell."""


_NO_NAME = re.compile(r"[^a-z0-9-]")
_BOTH = "look whether both of you changed something"


def yaml_files(root: Path, sub: str, endings: tuple[str, ...] = (".yaml", ".yml")) -> list[str]:
    """The YAML files directly in the folder `sub`, as paths below `root`, sorted; hidden ones are nobody's business.

    endings : those of files of another kind

    A folder that is a link is not looked into: it stands in the list itself, and reading it says why.
    """
    if linked(root, sub):
        return [sub]
    try:
        with os.scandir(root / sub) as found:
            names = [f.name for f in found if f.name.endswith(endings) and f.name[0] != "." and f.is_file()]
    except (FileNotFoundError, NotADirectoryError):
        return []
    return [f"{sub}/{name}" for name in sorted(names)]


def subfolders(folder: Path) -> list[str]:
    """The names of the folders directly in `folder`, sorted, without hidden ones; none where `folder` is a link."""
    if not folder.is_dir() or folder.is_symlink():
        return []
    return sorted(p.name for p in folder.iterdir() if p.is_dir() and not p.name.startswith("."))


def linked(root: Path, path: str) -> str:
    """The first part of `path`, from `root` on, that is a link to another place; empty where none is."""
    parts = path.split("/")
    ways = ("/".join(parts[:n]) for n in range(1, len(parts) + 1))
    return next((way for way in ways if os.path.islink(f"{root}/{way}")), "")  # noqa: PTH114  asked for every file


def not_read(path: str) -> Problem:
    """That a file or folder is a link, and is not followed."""
    message = "this is a link to another place; only what lies in the club's folder is read"
    return Problem(path, 0, 0, "link-not-read", message, "put the file itself here")


def without_copies(paths: Sequence[str]) -> tuple[list[str], list[Problem]]:
    """The files without those that a sync program made beside one of them, and what is to be said of these.

    Such a file has the name of the other with something behind it that no name holds: a space, brackets, a point.
    """
    stems = {Path(path).stem for path in paths}
    own: list[str] = []
    copies: list[Problem] = []
    for path in paths:
        stem = Path(path).stem
        whole = next((part for found in _NO_NAME.finditer(stem) if (part := stem[: found.start()]) in stems), "")
        if not whole:
            own.append(path)
            continue
        message = f'this looks like a copy of "{whole}" that a sync program made; it is not read'
        copies.append(Problem(path, 0, 0, "copy-not-read", message, f"{_BOTH}, then take it away", level="note"))
    return own, copies


def no_engine(path: str) -> Problem:
    """That a folder beside the engines' bears no engine's number."""
    message = f'"{path.rpartition("/")[2]}" is no number of an engine, so this folder is not read'
    hint = f"{_BOTH}; then take it away, or name it with capital letters and digits, as in 017 or 7B"
    return Problem(path, 0, 0, "copy-not-read", message, hint, level="note")


def read_bytes(root: Path, path: str) -> bytes | Problem:
    """What is in a file (no more than the reader takes), or why it cannot be read."""
    if way := linked(root, path):
        return not_read(way)
    try:
        handle = os.open(f"{root}/{path}", os.O_RDONLY | NO_LINK)
        with os.fdopen(handle, "rb") as file:
            if not stat.S_ISREG(os.fstat(handle).st_mode):
                raise OSError(errno.EINVAL, "it is no ordinary file")
            return file.read(MAX_BYTES + 1)
    except OSError as error:
        if error.errno == errno.ELOOP:
            return not_read(path)
        message = f"this file cannot be read: {error.strerror}"
        return Problem(path, 0, 0, "unreadable-file", message, "check that it is a file and that you may read it")


def beginning(path: Path, most: int, *, named: bool = False) -> bytes:
    """The first `most` bytes of a plain file; nothing else is opened to be read, or waited for.

    named  : whether somebody named this very file: then a link is followed
    Errors: OSError, also for a link, a pipe, a device, a folder.
    """
    if not named and path.is_symlink():
        raise OSError(errno.ELOOP, "it is a link to another place, which is not followed", str(path))
    handle = os.open(path, os.O_RDONLY | (_NOT_WAITED_FOR if named else NO_LINK))
    try:
        mode = os.fstat(handle).st_mode
        if stat.S_ISDIR(mode):
            raise IsADirectoryError(errno.EISDIR, os.strerror(errno.EISDIR), str(path))
        if not stat.S_ISREG(mode):
            raise OSError(errno.EINVAL, "it is no ordinary file", str(path))
        with os.fdopen(handle, "rb", closefd=False) as file:
            return file.read(most)
    finally:
        os.close(handle)


def bounded(path: Path, most: int = MAX_BYTES) -> bytes:
    """What is in a plain file of at most `most` bytes. Errors: as :func:`beginning`, and OSError for a larger one."""
    if path.lstat().st_size <= most and len(data := beginning(path, most + 1)) <= most:
        return data
    raise OSError(errno.EFBIG, f"it is larger than the {most} bytes that are read", str(path))


def holds(path: Path, data: bytes) -> bool:
    """Whether a plain file holds these very bytes."""
    try:
        return bounded(path, len(data)) == data
    except OSError:
        return False
