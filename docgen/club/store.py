"""Writing into the record: a file is written once, whole, and never over another.

The bytes go to a temporary file in the same folder, are flushed to the disk, and are then linked to
their name, which fails when the name is taken; the folder is flushed last. A kill at any moment leaves
either the whole file or a stray ``.tmp-`` file that no reader looks at.
"""

import contextlib
import errno
import json
import os
import re
import uuid
from collections.abc import Iterator, Mapping
from functools import lru_cache
from pathlib import Path
from typing import Any

import yaml

from docgen.club.log import SHORT, digest
from docgen.club.problem import Unable
from docgen.club.yamlscalar import STUCK_KEY
from docgen.club.yamltext import read_yaml

TEMPORARY = ".tmp-"
"""How the name of an unfinished file begins."""
_NO_LINKS = {errno.EPERM, errno.EOPNOTSUPP, errno.ENOTSUP, errno.ENOSYS, errno.EMLINK}
"""What a file system says that knows no second name for a file, as on many memory sticks."""


class StoreError(Unable):
    """A file of the record cannot be written; the message says why, the hint what to do."""


_LIKE_A_KEY = re.compile(rf"\A{STUCK_KEY.pattern}|[\n\t]")
"""Text that our reader would take for a slip if it stood without quotation marks."""
_WORD = re.compile("[a-z][a-z0-9_-]{0,60}")
"""A key that is written as it is."""
_ONE_LINE = 1 << 30
"""A width at which nothing is folded: a line that was begun anew in the midst of a text may look like another item."""


class _Plain(getattr(yaml, "CSafeDumper", yaml.SafeDumper)):  # type: ignore[misc]  # four times as quick
    """Writes every scalar as text on one line, in quotes where it must be: our reader gives no plain word a meaning."""

    yaml_implicit_resolvers: dict[str, Any] = {}

    def ignore_aliases(self, data: Any) -> bool:
        """Repeats are written out: the reader knows no anchors."""
        return True

    def text(self, data: str) -> yaml.Node:
        """A text; a line end in it is written as one (``\\n``), so that it stands on one line."""
        style = '"' if _LIKE_A_KEY.search(data) else None
        return self.represent_scalar("tag:yaml.org,2002:str", data, style)  # type: ignore[no-any-return]


_Plain.add_representer(str, _Plain.text)


def to_yaml(data: Mapping[str, Any], *, comment: str = "") -> str:
    """`data` (mappings, lists, text) as YAML that :func:`read_yaml` gives back unchanged.

    What is long is written, and read back, piece by piece: most of a job is word for word what the last one held.
    Errors: StoreError ``not-storable`` when the reader would refuse the text or read it differently.
    """
    text = "".join(f"# {line}\n" for line in comment.splitlines()) + _written(dict(data), CUTS)
    if len(text) > LONG:  # it may be too long for the reader, although no piece is
        _read_back(text, data)
    return text


PIECE, CUTS, LONG = 1000, 4, 100_000
"""Characters from which on data are cut, at most so many times, and up to which the reader takes any text."""


def _written(data: Any, cuts: int) -> str:
    """A mapping or list as lines."""
    told = json.dumps(data, ensure_ascii=False)
    if len(told) <= PIECE or not cuts:
        return _piece(told)
    if isinstance(data, list):
        return "".join(_piece(json.dumps([one], ensure_ascii=False)) if not one or isinstance(one, (str, list))
                       else f"- {_shifted(_written(one, cuts - 1))[2:]}" for one in data)  # fmt: skip
    return "".join(_entry(key, value, cuts - 1) for key, value in data.items())


def _entry(key: str, value: Any, cuts: int) -> str:
    if not value or isinstance(value, str) or not _WORD.fullmatch(key):
        return _piece(json.dumps({key: value}, ensure_ascii=False))
    lines = _written(value, cuts)
    return f"{key}:\n{lines if isinstance(value, list) else _shifted(lines)}"


def _shifted(lines: str) -> str:
    return "  " + lines[:-1].replace("\n", "\n  ") + "\n"


@lru_cache(maxsize=4096)
def _piece(told: str) -> str:
    data = json.loads(told)
    text = str(yaml.dump(data, Dumper=_Plain, sort_keys=False, allow_unicode=True, width=_ONE_LINE))
    _read_back(text, data)
    return text


def _read_back(text: str, data: Any) -> None:
    document, problems = read_yaml("event", text)
    if document is None or problems or document.data != data:
        reason = problems[0].message if problems else "it would not read back the same"
        raise StoreError(
            "not-storable", f"this cannot be kept in a file: {reason}", problems[0].hint if problems else ""
        )


def write_once(path: Path, data: bytes) -> str:
    """Write `data` to the new file `path`, all of it or nothing. Errors: FileExistsError, OSError.

    Once the file has its name it is written, and nothing that fails afterwards is an error: what the disk did not
    confirm is returned in words, empty where it confirmed all.

    Where the file system has no links the file is renamed instead, after a look whether the name is free. Two programs
    that give the same name at the same moment are then not kept apart; events are safe even so, since their name is
    their content's digest.
    """
    with _beside(path, data) as temporary:
        try:
            path.hardlink_to(temporary)
        except OSError as error:
            if error.errno not in _NO_LINKS:
                raise
            if path.exists():
                raise FileExistsError(errno.EEXIST, os.strerror(errno.EEXIST), str(path)) from None
            temporary.rename(path)
    return _confirmed(path.parent)


def replace(path: Path, data: bytes) -> str:
    """Put `data` in the place of `path` in one move: a reader sees the old file or the new one. Not for the record.

    What the disk did not confirm is returned in words, as by :func:`write_once`.
    """
    with _beside(path, data) as temporary:
        temporary.replace(path)
    return _confirmed(path.parent)


@contextlib.contextmanager
def _beside(path: Path, data: bytes) -> Iterator[Path]:
    """A flushed temporary file with `data` in the folder of `path`; it is gone afterwards."""
    _make_folder(path.parent)
    temporary = path.with_name(f"{TEMPORARY}{uuid.uuid4().hex}")
    try:
        with temporary.open("xb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        yield temporary
    finally:
        with contextlib.suppress(OSError):
            temporary.unlink()


def _make_folder(folder: Path) -> None:
    if not folder.is_dir():
        _make_folder(folder.parent)
        folder.mkdir(exist_ok=True)
        _flush_folder(folder.parent)


def _confirmed(folder: Path) -> str:
    try:
        _flush_folder(folder)
    except OSError as error:
        return f"the disk did not confirm that it is kept ({error.strerror or error})"
    return ""


def _flush_folder(folder: Path) -> None:
    if os.name == "posix":
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        except OSError as error:
            if error.errno != errno.EINVAL:  # a file system that cannot flush a folder
                raise
        finally:
            os.close(handle)


def append(log: Path, event: Mapping[str, Any], parents: tuple[str, ...]) -> Path:
    """Write one event behind `parents` into the folder `log` and return its file.

    event : plain data as :mod:`docgen.club.schema.event` reads it, with ``event`` and ``date``
    The very same event behind the same parents is the same file, and is written once.
    """
    name, data = event_file(event, parents)
    path = log / name
    with contextlib.suppress(FileExistsError):
        write_once(path, data)
    return path


def event_file(event: Mapping[str, Any], parents: tuple[str, ...]) -> tuple[str, bytes]:
    """Name and bytes of the file of an event behind `parents`. Errors: StoreError ``not-storable``."""
    data = to_yaml({**event, **({"parents": list(parents)} if parents else {})}).encode()
    return f"{event['date']}-{event['event']}-{digest(data)[:SHORT]}.yaml", data


def place_of(error: OSError) -> str:
    """The file or folder that it is about; of a file that was only begun, the folder that it was to lie in."""
    if not isinstance(error.filename, str) or not error.filename:
        return ""
    path = Path(error.filename)
    return str(path.parent if path.name.startswith(TEMPORARY) else path)


def write_error(error: OSError, what: str) -> StoreError:
    """The words for a file that the system did not let us write; nothing of `what` was kept."""
    if error.errno in (errno.ENOSPC, errno.EDQUOT):
        return StoreError("disk-full", f"the disk is full: {what} was not written", "make room, then try again")
    if error.errno in (errno.EROFS, errno.EACCES, errno.EPERM):
        place = place_of(error) or "the folder"
        return StoreError("read-only", f"{place} cannot be written to: {what} was not written",
                          "check whose folder it is and that the disk is not write-protected")  # fmt: skip
    return StoreError("not-written", f"{what} was not written: {error.strerror or error}", "try again")
