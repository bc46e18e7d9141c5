"""Marks by which a printed page, which freezes no job of its own, is known to be current or not."""

import hashlib
from collections.abc import Iterable

from docgen.club.folder import Folder
from docgen.job.job import Instructions, digest_of

INSTRUCTIONS, RECORD = "instructions-", "record-"
DIGITS = 16


def instructions_mark(told: Instructions) -> str:
    """Of a page that follows from what a job tells its reader: a mat, the labels of its parts."""
    return INSTRUCTIONS + digest_of(told.model_dump(mode="json"))[:DIGITS]


def record_mark(folder: Folder, engines: Iterable[str]) -> str:
    """Of a page that follows from the records of some engines: a card, a kit, the board."""
    heads = [f"{name} {folder.engines[name].log.head}" for name in sorted(set(engines)) if name in folder.engines]
    return f"{RECORD}{hashlib.sha256(chr(10).join(heads).encode()).hexdigest()[:DIGITS]}"
