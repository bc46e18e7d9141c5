"""Plain data that a run worked out, kept beside the printed sheets for the next; it may be deleted at any time.

It bears a digest of itself, and of what it holds for: where either does not fit, it is as if it were not there.
"""

import contextlib
import hashlib
import json
from pathlib import Path
from typing import Any

from docgen.club.files import bounded
from docgen.club.store import replace

MOST = 256 << 20
"""Largest file that is read, bytes."""


def kept(place: Path, of: str) -> dict[str, Any]:
    """What is kept at a place, by its keys; nothing where it is damaged, or holds for something else."""
    with contextlib.suppress(OSError):
        head, _, body = bounded(place, MOST).partition(b"\n")
        if head == _head(of, body):
            found: dict[str, Any] = json.loads(body)
            return found
    return {}


def keep(place: Path, of: str, data: dict[str, Any]) -> None:
    """Put it in the place of what was kept; where the disk does not take it, nothing is."""
    body = json.dumps(data, separators=(",", ":")).encode()
    with contextlib.suppress(OSError):
        replace(place, _head(of, body) + b"\n" + body)


def _head(of: str, body: bytes) -> bytes:
    return hashlib.sha256(of.encode("utf-8", "surrogateescape") + hashlib.sha256(body).digest()).hexdigest().encode()
