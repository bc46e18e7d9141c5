"""A club's folder as every use begins with it: made whole where something was cut off, then read.

What was read is kept in out/ between commands; that may be deleted at any time.
"""

import contextlib
import gc
from collections.abc import Callable, Collection, Iterator
from pathlib import Path

from docgen.club.cache import RecordCache, from_bytes
from docgen.club.files import bounded
from docgen.club.folder import Folder
from docgen.club.read import read_club
from docgen.club.store import replace
from docgen.club.translation import spoken

PLACE, RECORDS = "out/.read-before", "out/.records-before"
"""Where it lies: of the club's own files, and of the engines' records."""
MOST = 256 << 20
"""Largest file of what was read before that is read again, bytes."""
WORTH = 40
"""Files that had to be parsed, from which on keeping what they held is worth a file: a tenth of a second or so."""


@contextlib.contextmanager
def read_before(root: Path, *, records: bool = True) -> Iterator[RecordCache]:
    """What is known, for one reading of the club; what was new is kept afterwards, if it was much.

    records : whether the records of all engines are read: else what is known of them is left alone
    """
    known = _read(root / PLACE)
    known.engines = _read(root / RECORDS) if records else RecordCache()
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


def _read(place: Path) -> RecordCache:
    with contextlib.suppress(OSError):
        return from_bytes(bounded(place, MOST))
    return RecordCache()


def opened(
    root: Path, *, language: str = "", engines: Collection[str] | None = None, unmoved: Collection[str] = (),
    say: Callable[[str], None] = lambda text: None,
) -> Folder:  # fmt: skip
    """Read a club's folder, each of its faults among its problems.

    language : that its texts are turned to; empty as they are read
    engines  : the engines that are needed; None for all
    unmoved  : those of which it is known that their components never moved
    say      : told where taking in a parcel was cut off and is whole now: else half of it would be read
    Errors: StoreError.
    """
    if (root / "shared").is_dir():
        from docgen.share.put import finish

        if finish(root):
            say("Taking in a parcel had been cut off; it is whole now.")
    with read_before(root, records=engines is None) as known:
        folder = read_club(root, known, engines=engines, unmoved=unmoved)
    return spoken(folder, language) if language and folder.club_file is not None else folder
