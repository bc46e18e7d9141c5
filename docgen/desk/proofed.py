"""What proofing found nothing in, kept beside the printed sheets for the same files, the same day and the same program.

Most of what is proofed before a print is as it was at the print before. Only that nothing was found is kept: what was
found is looked for each time, and said in the words of the day. The file may be deleted at any time.
"""

from __future__ import annotations

import contextlib
import hashlib
import json
from collections.abc import Iterator
from datetime import date

from docgen.club.files import bounded
from docgen.club.folder import Folder
from docgen.club.store import replace
from docgen.press.journal import program_digest
from docgen.proof import Seen

PLACE = "out/.docgen/proofed"
MOST = 16 << 20
"""Largest file that is read, bytes."""
WORTH = 40
"""Files, types and jobs without a finding from which on keeping them is worth a file: a tenth of a second or so."""


@contextlib.contextmanager
def proofed_before(folder: Folder, on: date) -> Iterator[Seen]:
    """For the proofing of one run: what is known to be without a finding; what is so now is kept afterwards."""
    of = _digest(folder)
    before = _kept(folder, of)
    seen: Seen = {key: [] for key in before}
    yield seen
    clean = {key for key, found in seen.items() if not found and (key[0] != "on_run" or key[-1] == f"{on}")}
    if len(clean) >= WORTH and clean != before:
        with contextlib.suppress(OSError):
            (folder.root / PLACE).parent.mkdir(parents=True, exist_ok=True)
            replace(folder.root / PLACE, json.dumps({"of": of, "clean": sorted(clean)}).encode())


def _kept(folder: Folder, of: str) -> set[tuple[str, ...]]:
    with contextlib.suppress(OSError, ValueError, TypeError):
        match json.loads(bounded(folder.root / PLACE, MOST)):
            case {"of": str(then), "clean": [*keys]} if then == of:
                return {tuple(map(str, key)) for key in keys}
    return set()


def _digest(folder: Folder) -> str:
    """A digest over all that a finding could follow from, but for the engines' deviations, which are in its key."""
    whole = hashlib.sha256(program_digest().encode())
    reads = [folder.club_file, *folder.procedures.values(), *folder.sequences.values(), *folder.models.values()]
    for document in sorted((read.document for read in reads if read is not None), key=lambda one: one.path):
        whole.update(f"{document.path} {hashlib.sha256(document.text.encode()).hexdigest()}\n".encode())
    return whole.hexdigest()
