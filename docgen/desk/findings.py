"""What proofing found, kept beside the printed sheets by a digest over all that it looked at, for the same program.

Most of what is proofed is as it was the last time: only where a text changed is it proofed again, and whatever else
looks at that text. The file may be deleted at any time.
"""

import contextlib
import time
from collections.abc import Iterator
from itertools import islice
from pathlib import Path

from docgen.desk.fingerprint import of_the_program, signed
from docgen.desk.scratch import keep, kept
from docgen.proof import Seen

PLACE = "out/.docgen/proofed"
KEPT = 5000
"""Files, types, jobs and engines of which it is kept what was found, those that were asked for last."""
WORTH = 40
"""As many from which on keeping them is worth a file: a tenth of a second or so."""


@contextlib.contextmanager
def proofed_before(root: Path) -> Iterator[Seen]:
    """For the proofing of one run: what was found before; what is found now is kept afterwards."""
    of = program_digest()
    seen: Seen = kept(root / PLACE, of)
    before = set(seen)
    yield seen
    if len(seen) >= WORTH and seen.keys() - before:
        keep(root / PLACE, of, dict(islice(seen.items(), max(0, len(seen) - KEPT), None)))


def program_digest() -> str:
    """A digest that is another one when a file of the program changed."""
    return signed(of_the_program(), time.time_ns())
