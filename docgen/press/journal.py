"""What was pressed before: of each file, the digest of all that the press was given for it, and of the file itself.

A sheet whose order is the same, and whose file still holds the bytes that were written, needs no press. The journal is
a line of JSON a file, written as soon as the file is whole, so that a run that was cut off goes on where it stopped. It
holds nothing that is printed: a line that is damaged, or a file that was edited, only means that a sheet is pressed.
"""

import contextlib
import hashlib
import json
from functools import cache
from importlib.metadata import version
from pathlib import Path
from typing import TypeAlias

from docgen.club.files import bounded

PLACE = ".docgen/pressed"
"""Where the journal lies, below the folder of the printed sheets."""
MOST = 64 << 20
"""Largest journal, and largest sheet, that is read, bytes."""
_MADE_BY = ("jinja2", "babel")
_DRAWN_BY = ("weasyprint", "pydyf", "fonttools", "segno", "fontpkg-atkinson-hyperlegible")

_Entry: TypeAlias = tuple[str, str, int, str]
"""Digests of the order and of the file, its pages, and the digest of what its page was made of."""
_NOTHING: _Entry = ("", "", 0, "")


class Journal:
    """The journal of one folder of printed sheets."""

    def __init__(self, out: Path) -> None:
        self._out, self._place = out, out / PLACE
        self._known: dict[str, _Entry] = {}
        self._lines = 0
        with contextlib.suppress(OSError):
            for line in bounded(self._place, MOST).splitlines():
                self._lines += 1
                with contextlib.suppress(ValueError):
                    match json.loads(line):
                        case [str(name), str(order), str(held), int(pages), str(source)]:
                            self._known[name] = (order, held, pages, source)

    def pages(self, path: Path, order: str, source: str) -> int | None:
        """How many pages lie at `path`, when they are those of this order; None when it must be pressed.

        That they are of this source as well is kept for the next time.
        """
        order_then, held, pages, source_then = self._known.get(self._name(path), _NOTHING)
        if order_then != order or not _holds(path, held):
            return None
        if source_then != source:
            with contextlib.suppress(OSError):
                self._add(path, (order, held, pages, source))
        return pages

    def pages_of(self, path: Path, source: str) -> int | None:
        """How many pages lie at `path`, when they were made of this source; None when its page must be made to tell.

        source : a digest over all that the page is made of, and what makes it
        """
        _, held, pages, source_then = self._known.get(self._name(path), _NOTHING)
        return pages if source_then == source and _holds(path, held) else None

    def note(self, path: Path, order: str, source: str, pdf: bytes, pages: int) -> None:
        """Keep what was written to `path`. Errors: OSError."""
        self._add(path, (order, hashlib.sha256(pdf).hexdigest(), pages, source))

    def _add(self, path: Path, entry: _Entry) -> None:
        self._known[self._name(path)] = entry
        self._lines += 1
        self._place.parent.mkdir(parents=True, exist_ok=True)
        with self._place.open("ab") as file:
            file.write(_line(self._name(path), entry))

    def close(self) -> None:
        """Write the journal anew where most of its lines are of the past. Errors: OSError."""
        from docgen.club.store import replace

        if self._lines > 2 * len(self._known) + 100:
            replace(self._place, b"".join(_line(name, entry) for name, entry in sorted(self._known.items())))

    def _name(self, path: Path) -> str:
        return path.relative_to(self._out).as_posix()


def _holds(path: Path, held: str) -> bool:
    try:
        return hashlib.sha256(bounded(path, MOST)).hexdigest() == held
    except OSError:
        return False


def _line(name: str, entry: _Entry) -> bytes:
    return json.dumps([name, *entry]).encode() + b"\n"


def digest_of(*parts: object) -> str:
    """A digest over what a document is pressed from, the press's own files and the versions of what draws for it."""
    whole = hashlib.sha256(_digest(_DRAWN_BY, Path(__file__).resolve().parent).encode())
    for part in parts:
        told = repr(part).encode()
        whole.update(b"%d:%b" % (len(told), told))
    return whole.hexdigest()


@cache
def program_digest() -> str:
    """A digest over everything that makes a page and draws it: the program, its templates, its libraries."""
    from docgen.sheets.jinja import template_folder

    return _digest((*_DRAWN_BY, *_MADE_BY), Path(__file__).resolve().parents[1], template_folder())


@cache
def _digest(libraries: tuple[str, ...], *folders: Path) -> str:
    whole = hashlib.sha256(" ".join(f"{name} {version(name)}" for name in libraries).encode())
    for folder in folders:
        for file in sorted(folder.rglob("*")):
            if file.is_file() and "__pycache__" not in file.parts:
                whole.update(str(file.relative_to(folder)).encode() + hashlib.sha256(file.read_bytes()).digest())
    return whole.hexdigest()
