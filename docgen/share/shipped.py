"""The jobs, engine types and registers that come with the program, for a new club to begin with."""

from __future__ import annotations

from pathlib import Path

import docgen

_INSIDE = Path(docgen.__file__).parent / "shipped"
_BESIDE = Path(docgen.__file__).parent.parent


def shipped_folder() -> Path:
    """The folder of the club that they are from: inside the package when installed, the demo club in a checkout."""
    return _INSIDE if _INSIDE.is_dir() else _BESIDE
