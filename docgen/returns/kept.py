"""The signed paper itself, PDF or picture, kept beside the event that was made of it."""

from __future__ import annotations

import contextlib
import hashlib
from pathlib import Path

from docgen.club.store import write_once
from docgen.job.issued import stem
from docgen.job.number import SheetNumber


def keep(root: Path, number: SheetNumber, data: bytes, ending: str = "pdf") -> tuple[str, str, str]:
    """Write the paper into ``engines/NNN/signed/``; its path below the engine's folder, the SHA-256 of its bytes, and
    what the disk did not confirm.

    The digest is part of the name, so that two copies of a sheet are two files and the same copy is one.
    Errors: OSError.
    """
    digest = hashlib.sha256(data).hexdigest()
    name = f"{stem(number)}-{digest[:12]}.{ending}"
    unsure = ""
    with contextlib.suppress(FileExistsError):
        unsure = write_once(root / "engines" / number.engine / "signed" / name, data)
    return f"signed/{name}", digest, unsure

