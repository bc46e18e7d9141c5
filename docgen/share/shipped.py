"""The jobs, engine types and registers that come with the program, for a new club to begin with."""

from __future__ import annotations

from pathlib import Path

_INSIDE = Path(__file__).resolve().parents[1] / "shipped"
_BESIDE = Path(__file__).resolve().parents[2]


def shipped_folder() -> Path:
    """The folder of the club that they are from: inside the package when installed, the demo club in a checkout."""
    return _INSIDE if _INSIDE.is_dir() else _BESIDE
