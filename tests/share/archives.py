"""Archives made by hand, some of them lying: the parts of the ZIP format that a test wants otherwise."""

from __future__ import annotations

import struct
import zlib
from dataclasses import dataclass


@dataclass
class Entry:
    """One file of an archive, and what its two headers say of it where that is not the truth."""

    name: bytes
    data: bytes = b"x: 1\n"
    mode: int = 0o100644
    method: int = 0
    flags: int = 0
    size: int | None = None
    packed: int | None = None
    local_name: bytes | None = None
    extra: bytes = b""
    comment: bytes = b""


def archive(
    *entries: Entry, before: bytes = b"", after: bytes = b"", comment: bytes = b"", count: int | None = None
) -> bytes:
    """An archive of `entries`; `count` is how many its end says that it holds."""
    body, directory = before, b""
    for one in entries:
        size = len(one.data) if one.size is None else one.size
        packed = len(one.data) if one.packed is None else one.packed
        name = one.name if one.local_name is None else one.local_name
        common = (20, one.flags, one.method, 0, 33, zlib.crc32(one.data), packed, size)
        directory += struct.pack("<4s6H3L5H2L", b"PK\x01\x02", 20 | 3 << 8, *common, len(one.name), len(one.extra),
                                 len(one.comment), 0, 0, one.mode << 16, len(body))  # fmt: skip
        directory += one.name + one.extra + one.comment
        body += struct.pack("<4s5H3L2H", b"PK\x03\x04", *common, len(name), 0) + name + one.data
    held = len(entries) if count is None else count
    end = struct.pack("<4s4H2LH", b"PK\x05\x06", 0, 0, held, held, len(directory), len(body), len(comment))
    return body + directory + end + comment + after
