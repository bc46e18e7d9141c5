"""What was read before, kept in out/ between commands; it may be deleted at any time."""

from __future__ import annotations

import contextlib
import gc
from collections.abc import Iterator
from pathlib import Path

from docgen.club.files import bounded
from docgen.club.known import Known, from_bytes
from docgen.club.store import replace

PLACE, RECORDS = "out/.read-before", "out/.records-before"
"""Where it lies: of the club's own files, and of the engines' records."""
MOST = 256 << 20
"""Largest file of what was read before that is read again, bytes."""
WORTH = 40
"""Files that had to be parsed, from which on keeping what they held is worth a file: a tenth of a second or so."""


@contextlib.contextmanager
def read_before(root: Path, *, records: bool = True) -> Iterator[Known]:
    """What is known, for one reading of the club; what was new is kept afterwards, if it was much.

    records : whether the records of all engines are read: else what is known of them is left alone
    """
    known = _read(root / PLACE)
    known.engines = _read(root / RECORDS) if records else Known()
    # Everything that is read stays until the end: looking for what could be thrown away takes half the time.
    gc.unfreeze()
    gc.disable()
    try:
        yield known
    finally:
        gc.freeze()
        gc.enable()
    for place, one in ((PLACE, known), *(((RECORDS, known.engines),) if records else ())):
        if one.new >= WORTH:
            with contextlib.suppress(OSError):
                replace(root / place, one.to_bytes())


def _read(place: Path) -> Known:
    with contextlib.suppress(OSError):
        return from_bytes(bounded(place, MOST))
    return Known()
