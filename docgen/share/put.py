"""Many files of a club written as one: all of them or none, whatever moment the program or the machine stops at.

What is to be written goes into one file first, `shared/to-put`, in one move. From then on it counts as done: whoever
comes next puts the rest in its place before reading anything. Before that moment nothing has happened. What a file held
that is replaced is kept under `shared/replaced/`.
"""

import contextlib
import hashlib
import re
from collections.abc import Iterable, Mapping
from pathlib import Path, PurePosixPath

from docgen.club.files import bounded, linked, read_bytes
from docgen.club.folder import ORIGINS
from docgen.club.lock import alone
from docgen.club.problem import Problem
from docgen.club.schema.origins import SHARED_FILE
from docgen.club.store import StoreError, replace, write_error, write_once
from docgen.share.container import MAX_BYTES, ParcelRefused, from_bytes, to_bytes
from docgen.share.manifest import ENGINE_FILE

PENDING = "shared/to-put"
GONE = b""
"""Stands for a file that is to be no more; no file of a club is empty."""
TIMES = 8
"""How many times larger than a parcel this may be: it also holds the versions to keep."""
_KEPT = re.compile(r"shared/(versions|replaced|beside)/[a-z0-9-]{1,80}\.(yaml|md)")


def put(root: Path, files: Mapping[str, bytes], before: Mapping[str, bytes | None]) -> str:
    """Write `files` (path to content) below `root` as one; what of it is not in its place yet, in words.

    before : what was in the files when it was decided; None where there was none

    Errors: StoreError ``changed-meanwhile`` where that is so no more, ``busy``, and those of writing; then nothing
    was written, or all of it will be.
    """
    try:
        with alone(root):
            _put_rest(root)
            _refuse_links(root, files)
            for path, data in before.items():
                if _there(root, path) != data:
                    message = f"{path} has been changed since it was looked at: nothing was written"
                    raise StoreError("changed-meanwhile", message, "give the same command again")
            unsure = write_once(root / PENDING, to_bytes(files))
            try:
                _put_rest(root)
            except OSError as error:
                return f"not all of it is in its place yet ({error.strerror or error}); the next command puts it there"
            return unsure
    except OSError as error:
        raise write_error(error, "what the parcel brought") from error


def finish(root: Path) -> bool:
    """Put in its place what was cut off; whether there was anything. Errors: StoreError."""
    if not (root / PENDING).exists() or linked(root, PENDING):
        return False
    try:
        with alone(root):
            _put_rest(root)
    except OSError as error:
        raise write_error(error, "what a parcel brought") from error
    return True


def _put_rest(root: Path) -> None:
    _refuse_links(root, [PENDING])
    place = root / PENDING
    if not place.exists():
        return
    try:
        files = from_bytes(bounded(place, TIMES * MAX_BYTES), times=TIMES)
        if wrong := next((path for path in files if not _may(path)), None):
            raise ParcelRefused("stray-file", f"it holds {wrong}, which no parcel brings")
    except ParcelRefused as refused:
        message = f"{PENDING} is not as docgen receive wrote it ({refused.message})"
        raise StoreError("damaged-parcel", message, f"delete {PENDING}, then take the parcel in again") from None
    _refuse_links(root, files)
    for path, data in files.items():
        if data == GONE:
            (root / path).unlink(missing_ok=True)
        elif path.startswith("engines/"):
            with contextlib.suppress(FileExistsError):
                write_once(root / path, data)
        elif (there := _there(root, path)) != data:
            _keep_replaced(root, path, there)
            replace(root / path, data)
    place.unlink()


def _refuse_links(root: Path, paths: Iterable[str]) -> None:
    if way := next((way for path in paths if (way := linked(root, path))), ""):
        message = f"{way} is a link to another place; nothing is written through it"
        raise StoreError("link-not-written", message, "put the folder or the file itself there")


def _keep_replaced(root: Path, path: str, data: bytes | None) -> None:
    """Keep what is about to be replaced, comments and all, unless it is a version that is kept already."""
    file = PurePosixPath(path)
    kept = (root / "shared/versions").glob(f"{file.stem}-*{file.suffix}")
    if data is None or path == ORIGINS or any(bounded(one) == data for one in kept):
        return
    with contextlib.suppress(FileExistsError):
        write_once(root / replaced_file(path, data), data)


def replaced_file(path: str, data: bytes) -> str:
    """Where a file that was replaced is kept as it was."""
    file = PurePosixPath(path)
    return f"shared/replaced/{file.stem}-{hashlib.sha256(data).hexdigest()[:16]}{file.suffix}"


def _may(path: str) -> bool:
    return path in ("club.yaml", ORIGINS) or any(one.fullmatch(path) for one in (SHARED_FILE, ENGINE_FILE, _KEPT))


def _there(root: Path, path: str) -> bytes | None:
    if not (root / path).exists():
        return None
    data = read_bytes(root, path)
    return None if isinstance(data, Problem) else data
