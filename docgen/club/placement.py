"""Putting a printed file where it belongs: in the place of what docgen itself printed there, never of anything else.

What lies at a name may have been filled in, in ways that no reader of forms sees: with pen strokes, as a picture,
locked with a password. So nobody looks into it. The SHA-256 of every file that is laid is kept beside it, in
``.docgen-printed``; what has none of these digests is not as it was printed, and gets another name. That file may be
deleted at any time: then all that lies there is set aside once.
"""

import contextlib
import errno
import hashlib
import os
import re
import stat
from itertools import count
from pathlib import Path

from docgen.club.files import NO_LINK, bounded
from docgen.club.lock import alone
from docgen.club.store import replace

NOTED = ".docgen-printed"
"""The file that holds the digests of what was printed into its folder."""
MOST = 256 << 20
"""Largest file that is looked at whether docgen wrote it, bytes; a larger one it did not."""
EACH = 8
"""Digests that are kept for one name: two who print at once may each leave one."""
_LINE = re.compile(r"([0-9a-f]{64})  (.+)")


def lay(path: Path, data: bytes) -> Path | None:
    """Write a printed file; the new name of what lay there, None where nothing did or it was as printed.

    The digest is noted before the file is written: who is cut off between the two leaves a note too many.
    Errors: OSError.
    """
    noted = _noted(path.parent)
    known = [digest for digest, name in noted if name == path.name]
    aside = _set_aside(path) if _is_other(path, known) else None
    now = hashlib.sha256(data).hexdigest()
    kept = [digest for digest in known if digest != now][-(EACH - 1) :]
    others = [line for line in noted if line[1] != path.name]
    lines = [*others, *((digest, path.name) for digest in (*kept, now))]
    text = "".join(f"{digest}  {name}\n" for digest, name in lines)
    replace(path.parent / NOTED, text.encode("utf-8", "surrogateescape"))
    replace(path, data)
    return aside


def lay_in_turn(path: Path, data: bytes) -> Path | None:
    """As :func:`lay`, where other processes write there, too. Errors: OSError; StoreError, as of ``alone``."""
    with alone(path.parent):
        return lay(path, data)


def _noted(folder: Path) -> list[tuple[str, str]]:
    """Digest and name of what was printed into a folder, oldest first."""
    data = b""
    with contextlib.suppress(OSError):
        data = bounded(folder / NOTED)
    lines = data.decode("utf-8", "surrogateescape").split("\n")
    return [(found[1], found[2]) for line in lines if (found := _LINE.fullmatch(line.rstrip("\r")))]


def _is_other(path: Path, known: list[str]) -> bool:
    """Whether something lies at `path` that has none of these digests. A link or pipe has none; a folder is refused."""
    try:
        mode = path.lstat().st_mode
    except FileNotFoundError:
        return False
    if stat.S_ISDIR(mode):
        raise IsADirectoryError(errno.EISDIR, os.strerror(errno.EISDIR), str(path))
    if not stat.S_ISREG(mode):
        return True
    with os.fdopen(os.open(path, os.O_RDONLY | NO_LINK), "rb") as file:
        if os.fstat(file.fileno()).st_size > MOST:
            return True
        return hashlib.file_digest(file, "sha256").hexdigest() not in known


def _set_aside(path: Path) -> Path:
    names = (path.with_name(f"{path.stem}-set-aside-{n}{path.suffix}") for n in count(1))
    return path.rename(next(one for one in names if not os.path.lexists(one)))
