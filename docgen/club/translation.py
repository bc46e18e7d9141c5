"""The club's files in one language: of each text held in several, the one to print."""

from collections.abc import Iterable
from dataclasses import replace
from typing import Any, TypeVar

from pydantic import BaseModel

from docgen.club.catalogue import ENGLISH
from docgen.club.folder import Folder, Read
from docgen.club.schema.club import Club
from docgen.club.schema.prose import Said
from docgen.trade.quantity import Band, Quantity

Shape = TypeVar("Shape", bound=BaseModel)
_TEXTLESS = frozenset({type(None), str, bool, int, Quantity, Band})
"""What most values are, and holds no text in a language."""


def written_in(club: Read[Club]) -> str:
    """The language that the club's own file names, whatever it was turned to; English where it names none."""
    data = club.document.data
    return str(data.get("language", ENGLISH)) if isinstance(data, dict) else ENGLISH


def club_language(folder: Folder) -> str:
    """The club's language; English for a folder without a club."""
    return written_in(folder.club_file) if folder.club_file else ENGLISH


def own_language(folder: Folder, read: Read[Any]) -> str:
    """The language of a file's text that names none: what the file says, else the club's."""
    return str(getattr(read.value, "language", None) or club_language(folder))


def spoken(folder: Folder, language: str) -> Folder:
    """The same folder with every text in `language`, as if the club spoke it.

    A text that is not held in it stays in the first language that it is written in, and says so (``Said.foreign``). The
    files' texts in all their languages stay at hand, so that a folder can be turned again and again.
    """
    if folder.club_file is None or folder.spoken == language:
        return folder
    club = _told(folder.club.value, language, club_language(folder))
    if club.language != language:
        club = club.model_copy(update={"language": language})
    return replace(
        folder,
        spoken=language,
        club_file=Read(club, folder.club.document),
        procedures={name: _turned(folder, read, language) for name, read in folder.procedures.items()},
        sequences={name: _turned(folder, read, language) for name, read in folder.sequences.items()},
        models={name: _turned(folder, read, language) for name, read in folder.models.items()},
    )


def _turned(folder: Folder, read: Read[Shape], language: str) -> Read[Shape]:
    return Read(_told(read.value, language, own_language(folder, read)), read.document)


def _told(value: Any, language: str, own: str) -> Any:
    """A value with its texts in a language; the very same where none of them changes."""
    kind = type(value)
    if kind is Said:
        return value.in_language(language, own)
    if issubclass(kind, BaseModel):
        held = value.__dict__
        changed = _changed([(name, held[name]) for name in value.model_fields_set], language, own)
        return value.model_copy(update=changed) if changed else value
    if issubclass(kind, tuple):
        changed = _changed(enumerate(value), language, own)
        return tuple([changed.get(at, part) for at, part in enumerate(value)]) if changed else value
    if issubclass(kind, dict):
        changed = _changed(value.items(), language, own)
        return {**value, **changed} if changed else value
    return value


def _changed(parts: Iterable[tuple[Any, Any]], language: str, own: str) -> dict[Any, Any]:
    """By its name, each part that is another in a language."""
    held = ((name, part) for name, part in parts if type(part) not in _TEXTLESS)
    return {name: new for name, part in held if (new := _told(part, language, own)) is not part}
