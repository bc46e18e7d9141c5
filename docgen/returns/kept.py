"""The signed PDF itself: kept beside the event that was made of it, and never printed over."""

from __future__ import annotations

import contextlib
import hashlib
from itertools import count
from pathlib import Path

from docgen.club.store import write_once
from docgen.job.number import SheetNumber
from docgen.returns.apart import Reader
from docgen.returns.form import MAX_BYTES
from docgen.returns.said import Refused


def keep(root: Path, number: SheetNumber, data: bytes) -> tuple[str, str]:
    """Write the PDF into ``engines/NNN/signed/``; its path below the engine's folder, and the SHA-256 of its bytes.

    The digest is part of the name, so that two copies of a sheet are two files and the same copy is one.
    Errors: OSError.
    """
    digest = hashlib.sha256(data).hexdigest()
    name = f"{number.engine}-{number.code}-{number.revision:02d}-{number.print:03d}-{digest[:12]}.pdf"
    with contextlib.suppress(FileExistsError):
        write_once(root / "engines" / number.engine / "signed" / name, data)
    return f"signed/{name}", digest


def set_aside(path: Path, reader: Reader) -> Path | None:
    """Give a sheet that somebody has filled in at `path` another name, so that a new print does not take its place.

    The new name; None where nothing is there, or nothing is filled in. Errors: OSError.
    """
    try:
        with path.open("rb") as file:
            fields = reader.form(file.read(MAX_BYTES + 1)).fields
    except (FileNotFoundError, Refused):
        return None
    if not any(fields.values()):
        return None
    aside = next(one for n in count(1) if not (one := path.with_name(f"{path.stem}-filled-{n}.pdf")).exists())
    return path.rename(aside)
