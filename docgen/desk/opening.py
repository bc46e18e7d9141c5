"""A club's folder as every use begins with it: made whole where something was cut off, then read."""

from __future__ import annotations

from collections.abc import Callable, Collection
from pathlib import Path

from docgen.club.folder import Folder
from docgen.club.read import read_club
from docgen.club.spoken import spoken
from docgen.desk.before import read_before


def opened(
    root: Path, *, language: str = "", engines: Collection[str] | None = None,
    say: Callable[[str], None] = lambda text: None,
) -> Folder:  # fmt: skip
    """Read a club's folder, each of its faults among its problems.

    language : that its texts are turned to; empty as they are read
    engines  : the engines that are needed; None for all
    say      : told where taking in a parcel was cut off and is whole now: else half of it would be read
    Errors: StoreError.
    """
    if (root / "shared").is_dir():
        from docgen.share.put import finish

        if finish(root):
            say("Taking in a parcel had been cut off; it is whole now.")
    with read_before(root, records=engines is None) as known:
        folder = read_club(root, known, engines=engines)
    return spoken(folder, language) if language and folder.club_file is not None else folder
