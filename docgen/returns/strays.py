"""Temporary files outside the logs: what a print, a parcel or an entry leaves behind that was cut off."""

import os
import time
from collections.abc import Iterator
from pathlib import Path

from docgen.club.store import TEMPORARY

OLD = 3600
"""Seconds after which an unfinished file is nobody's any more."""
_ENGINE = ("", "issued", "signed", "drafts")
_CLUB = ("", "procedures", "models", "schemas", "shared", "shared/versions", "shared/replaced", "shared/beside")
_DEEPEST = 6
"""Folders below out/ that are looked into."""


def strays(root: Path) -> list[str]:
    """The unfinished files of a club, as paths below its folder, those of the logs left out. Links are not followed."""
    folders = [root / sub for sub in _CLUB]
    if (root / "engines").is_dir():
        folders += [one / sub for one in sorted((root / "engines").iterdir()) for sub in _ENGINE]
    folders += _below(root / "out", _DEEPEST)
    found = (path for folder in dict.fromkeys(folders) for path in _in(folder))
    return sorted({path.relative_to(root).as_posix() for path in found})


def _below(folder: Path, deep: int) -> Iterator[Path]:
    yield folder
    if deep and folder.is_dir() and not folder.is_symlink():
        for one in sorted(folder.iterdir()):
            if one.is_dir() and not one.is_symlink():
                yield from _below(one, deep - 1)


def _in(folder: Path) -> Iterator[Path]:
    if folder.is_symlink() or not folder.is_dir():
        return
    with os.scandir(folder) as found:
        yield from (Path(one.path) for one in found if one.name.startswith(TEMPORARY) and not one.is_dir())


def taken_away(root: Path, path: str) -> bool:
    """Take an unfinished file away that is old enough; whether it was. Errors: OSError."""
    place = root / path
    if time.time() - place.lstat().st_mtime < OLD:
        return False
    place.unlink()
    return True
