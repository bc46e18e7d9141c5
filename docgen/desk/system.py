"""What the system did not let a command do, in words: where, what, and what to do."""

from __future__ import annotations

import errno
import re
from pathlib import Path
from typing import TYPE_CHECKING

from docgen.club.problem import visible

if TYPE_CHECKING:  # what is only said again needs no store
    from docgen.club.store import StoreError

_NO_FOLDER = (errno.EEXIST, errno.ENOTDIR)
_NOT_ALLOWED = (errno.EACCES, errno.EPERM, errno.EROFS)
_FULL = (errno.ENOSPC, errno.EDQUOT)


_LIBRARY = re.compile(r"cannot load library '([\w.+-]*(?:pango|gobject|harfbuzz|fontconfig)[\w.+-]*)'", re.IGNORECASE)
_INSTALL = (
    "./run setup installs it; by hand: Debian and Ubuntu apt-get install libpango-1.0-0 libpangoft2-1.0-0 "
    "libharfbuzz-subset0, Fedora dnf install pango, macOS brew install pango, Windows see README.md"
)


def refused_by_system(error: OSError) -> StoreError:
    """The words for an error of the system that no command expected, and what to do about it."""
    from docgen.club.store import StoreError, place_of

    if library := _LIBRARY.search(str(error)):
        message = f"the system library {library[1]}, with which pages are drawn, is not installed or not found"
        return StoreError("library-missing", message, _INSTALL)
    place = short_path(Path(place_of(error))) if place_of(error) else ""
    if error.errno in _FULL:
        return StoreError("disk-full", "the disk is full", "make room, then give the same command again")
    if error.errno in _NOT_ALLOWED:
        message = f"{place or 'a file or folder'} is not yours to read or to write into"
        return StoreError("no-access", message, "check whose it is and that the disk is not write-protected")
    if error.errno in _NO_FOLDER:
        message = f"a file lies where a folder is needed: {_file_in(place) or 'its name is not known'}"
        return StoreError("not-a-folder", message, "move that file away, or name another place")
    if error.errno == errno.EISDIR:
        message = f"a folder lies where a file is needed: {place or 'its name is not known'}"
        return StoreError("not-a-file", message, "move that folder away, or name another place")
    if error.errno == errno.ENOENT:
        message = f"{place or 'the folder that you are in'} is not there"
        return StoreError("not-there", message, "look at the name, and whether somebody has just moved it")
    told = f"{place}: {error.strerror or error}" if place else str(error.strerror or error)
    return StoreError("system-error", told, "put that right, then give the same command again")


def given_file(path: Path, most: int, *, named: bool = True) -> bytes:
    """A file that somebody gave, and one byte more than the `most` that it may have. Errors: Refused.

    named : whether it was named itself, and does not only lie in a folder
    """
    from docgen.club.files import beginning
    from docgen.returns.diagnostic import Refused

    try:
        return beginning(path, most + 1, named=named)
    except OSError as error:
        said = refused_by_system(error)
        raise Refused("unreadable-file", said.message, said.hint) from None


def short_path(path: Path) -> str:
    """A path as a reader types it."""
    try:
        return visible(str((path.parent.resolve() / path.name).relative_to(Path.cwd())))
    except (ValueError, OSError, RuntimeError):  # a ring of links
        return visible(str(path))


def _file_in(place: str) -> str:
    """The first part of a path that is a file."""
    path = Path(place)
    return next((str(part) for part in (*reversed(path.parents), path) if part.is_file()), place)
