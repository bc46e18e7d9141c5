"""Every word that the program puts on a sheet, as the catalogues must hold it (``python -m tools.catalogue``)."""

from __future__ import annotations

from importlib import import_module
from pathlib import Path

from docgen import sheets
from docgen.job.words import JobWords

WORDS = Path(sheets.__file__).parent


def word_classes() -> tuple[type[JobWords], ...]:
    """The classes that hold the program's words, each behind the one that it builds on; new ones are found here."""
    for path in sorted(WORDS.glob("*words.py")):
        import_module(f"docgen.sheets.{path.stem}")
    return tuple(_with_below(JobWords))


def _with_below(kind: type[JobWords]) -> list[type[JobWords]]:
    children = sorted(kind.__subclasses__(), key=lambda child: (child.__module__, child.__qualname__))
    return [kind, *(one for child in children for one in _with_below(child))]


def all_words() -> dict[tuple[str, str], str]:
    """Each word by its context and English, with the class that says it."""
    found: dict[tuple[str, str], str] = {}
    for kind in word_classes():
        for message in kind.messages():
            found.setdefault(message, f"{kind.__module__}.{kind.__qualname__}")
    return found
