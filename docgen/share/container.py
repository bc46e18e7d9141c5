"""The file that a parcel travels in: an ordinary ZIP archive, uncompressed, with the same bytes for the same content.

Nothing in it is compressed, so that it cannot be a bomb and needs no library's idea of compression to be the same
everywhere. Only what :func:`to_bytes` would write itself is read: a container that says the same in another way (other
sizes than it holds, two entries of one name, data between the entries) is refused, whatever the trick was.

Format: ZIP Application Note 6.3.x (entries stored, method 0; names in ASCII; dates of 1980-01-01, the format's first).
"""

import io
import re
import stat
import struct
import zipfile
from collections.abc import Mapping

from docgen.club.problem import Unable, visible

START = b"PK\x03\x04"
"""How every parcel begins."""
MAX_BYTES = 8 << 20
"""Largest parcel read: 8 MiB."""
MAX_ENTRIES = 1000
MAX_ENTRY = 1 << 20
"""Largest file in a parcel: 1 MiB, the most that the YAML reader takes."""
MAX_NAME = 120

_NAME = re.compile(r"[A-Za-z0-9][A-Za-z0-9._-]*(/[A-Za-z0-9][A-Za-z0-9._-]*){0,3}")
_DEVICES = re.compile(r"(con|prn|aux|nul|com[0-9]|lpt[0-9]|conin\$|conout\$)(\..*)?", re.IGNORECASE)
"""Names that mean a device to Windows, with any ending (from memory)."""
_END = struct.Struct("<4s4H2LH")
_NOT_OURS = "ask the sender to pack it again with  docgen pack  and to send that file as it is"


class ParcelRefused(Unable):
    """A parcel, or something in it, that is not taken."""

    def __init__(self, name: str, message: str, hint: str = "") -> None:
        super().__init__(name, visible(message), hint)


def quoted(text: str, most: int = 80) -> str:
    """A stranger's text in quotes, short and with nothing in it that a terminal would obey."""
    return f'"{visible(text if len(text) <= most else text[:most] + "...")}"'


def to_bytes(files: Mapping[str, bytes]) -> bytes:
    """The container with `files` (path to content); the same bytes for the same files, on every machine."""
    whole = io.BytesIO()
    with zipfile.ZipFile(whole, "w", zipfile.ZIP_STORED) as archive:
        for name in sorted(files):
            entry = zipfile.ZipInfo(name)
            entry.create_system = 3
            entry.external_attr = (stat.S_IFREG | 0o644) << 16
            archive.writestr(entry, files[name])
    return whole.getvalue()


def from_bytes(data: bytes, times: int = 1) -> dict[str, bytes]:
    """The files in a container, by their path. `times` multiplies what may be in it, for what we wrote ourselves.

    Errors: Refused ``parcel-too-large``, ``not-a-parcel``, ``data-behind-the-end``, ``too-many-entries``,
    ``damaged-parcel``, those of :func:`_check_name`, ``link-entry``, ``folder-entry``, ``locked-entry``,
    ``compressed-entry``, ``entry-too-large``, ``entry-twice``, ``case-collision``, ``parcel-not-as-packed``.
    """
    if len(data) > times * MAX_BYTES:
        message = f"the parcel is {len(data)} bytes large; the most that is read is {times * MAX_BYTES}"
        raise ParcelRefused("parcel-too-large", message, "ask the sender to pack fewer jobs into one parcel")
    _check_ends(data, times * MAX_ENTRIES)
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as archive:
            entries = archive.infolist()
            _check_entries(entries, times)
            files = {entry.filename: _content(archive, entry) for entry in entries}
    except (zipfile.BadZipFile, NotImplementedError, EOFError, OSError, ValueError, RuntimeError, struct.error):
        raise ParcelRefused("damaged-parcel", "the parcel is damaged or cut short", "copy it again") from None
    if to_bytes(files) != data:
        message = "the parcel holds something beside its files, or says something untrue of them"
        raise ParcelRefused("parcel-not-as-packed", message, _NOT_OURS)
    return files


def _check_ends(data: bytes, most: int) -> None:
    if not data.startswith(START):
        raise ParcelRefused("not-a-parcel", "this is not a parcel", "give the file that docgen pack wrote")
    if len(data) < _END.size or data[-_END.size :][:4] != b"PK\x05\x06":
        if data.rfind(b"PK\x05\x06") not in (-1, *range(len(data) - _END.size, len(data))):
            raise ParcelRefused("data-behind-the-end", "something stands behind the end of the parcel", _NOT_OURS)
        raise ParcelRefused("damaged-parcel", "the parcel is damaged or cut short", "copy it again")
    _, _, _, here, count, _, _, _ = _END.unpack(data[-_END.size :])
    if max(here, count) > most:
        message = f"the parcel says that it holds {max(here, count)} files; the most that are read are {most}"
        raise ParcelRefused("too-many-entries", message, "ask the sender to pack fewer jobs into one parcel")


def _check_entries(entries: list[zipfile.ZipInfo], times: int) -> None:
    if len(entries) > times * MAX_ENTRIES:
        message = f"the parcel holds {len(entries)} files; the most that are read are {times * MAX_ENTRIES}"
        raise ParcelRefused("too-many-entries", message, "ask the sender to pack fewer jobs into one parcel")
    seen: dict[str, str] = {}
    for entry in entries:
        name = entry.orig_filename
        _check_name(name)
        _check_kind(entry, name)
        if name in seen.values():
            raise ParcelRefused("entry-twice", f"the parcel holds {quoted(name)} twice", _NOT_OURS)
        if name.lower() in seen:
            both = f"{quoted(seen[name.lower()])} and {quoted(name)}"
            message = f"the parcel holds {both}, which are one file on some systems"
            raise ParcelRefused("case-collision", message, _NOT_OURS)
        seen[name.lower()] = name
    if sum(entry.file_size for entry in entries) > times * MAX_BYTES:
        message = f"the files in the parcel are larger than {times * MAX_BYTES} bytes together"
        raise ParcelRefused("entry-too-large", message, _NOT_OURS)


def _check_name(name: str) -> None:
    """Refuse a path that leads anywhere but to a plain file below the folder that it is unpacked in."""
    what = f"the parcel holds a file called {quoted(name)}"
    parts = name.replace("\\", "/").split("/")
    if ".." in parts:
        raise ParcelRefused("path-outside", f"{what}, which leads out of the club's folder", _NOT_OURS)
    if name.startswith(("/", "\\")) or name[1:2] == ":":
        message = f"{what}, which is a place of its own and not in the club's folder"
        raise ParcelRefused("absolute-path", message, _NOT_OURS)
    if any(_DEVICES.fullmatch(part) for part in parts):
        raise ParcelRefused("device-name", f"{what}, which is a device on some systems and not a file", _NOT_OURS)
    if name.endswith("/"):
        message = f"the parcel holds a folder {quoted(name)}; it may hold files only"
        raise ParcelRefused("folder-entry", message, _NOT_OURS)
    if len(name) > MAX_NAME or not _NAME.fullmatch(name) or name.endswith("."):
        raise ParcelRefused("odd-file-name", f"{what}; that is no name of a file of a parcel", _NOT_OURS)


def _check_kind(entry: zipfile.ZipInfo, name: str) -> None:
    mode = entry.external_attr >> 16
    if stat.S_ISLNK(mode):
        raise ParcelRefused("link-entry", f"{quoted(name)} in the parcel is a link to another place", _NOT_OURS)
    if stat.S_IFMT(mode) not in (0, stat.S_IFREG):
        raise ParcelRefused("link-entry", f"{quoted(name)} in the parcel is not an ordinary file", _NOT_OURS)
    if entry.flag_bits & 0x1:
        raise ParcelRefused("locked-entry", f"{quoted(name)} in the parcel is locked with a password", _NOT_OURS)
    if entry.compress_type != zipfile.ZIP_STORED:
        message = f"{quoted(name)} in the parcel is compressed, which a parcel never is"
        raise ParcelRefused("compressed-entry", message, _NOT_OURS)
    if (size := max(entry.file_size, entry.compress_size)) > MAX_ENTRY:
        message = f"{quoted(name)} in the parcel is {size} bytes large; the most that is read is {MAX_ENTRY}"
        raise ParcelRefused("entry-too-large", message, _NOT_OURS)


def _content(archive: zipfile.ZipFile, entry: zipfile.ZipInfo) -> bytes:
    with archive.open(entry) as file:
        return file.read(MAX_ENTRY + 1)
