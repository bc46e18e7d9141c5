"""What was pressed before: of each file, the digest of all that the press was given for it, and of the file itself.

A sheet whose order is the same, and whose file still holds the bytes that were written, needs no press. The journal is
a line of JSON a file, written as soon as the file is whole, so that a run that was cut off goes on where it stopped. It
holds nothing that is printed: a line that is damaged, or a file that was edited, only means that a sheet is pressed.
"""

from __future__ import annotations

import contextlib
import hashlib
import json
from collections.abc import Iterable
from functools import cache
from importlib.metadata import version
from importlib.resources import files
from pathlib import Path
from typing import TYPE_CHECKING

from docgen.club.files import bounded

if TYPE_CHECKING:
    from docgen.press.workers import Order

PLACE = ".docgen/pressed"
"""Where the journal lies, below the folder of the printed sheets."""
MOST = 64 << 20
"""Largest journal, and largest sheet, that is read, bytes."""
_DRAWN_BY = ("weasyprint", "pydyf", "fonttools", "segno", "fontpkg-atkinson-hyperlegible")


class Journal:
    """The journal of one folder of printed sheets."""

    def __init__(self, out: Path) -> None:
        self._out, self._place = out, out / PLACE
        self._known: dict[str, tuple[str, str, int]] = {}
        self._lines = 0
        with contextlib.suppress(OSError):
            self._read(bounded(self._place, MOST).splitlines())

    def _read(self, lines: Iterable[bytes]) -> None:
        for line in lines:
            self._lines += 1
            with contextlib.suppress(ValueError):
                match json.loads(line):
                    case [str(name), str(order), str(held), int(pages)]:
                        self._known[name] = (order, held, pages)

    def pages(self, path: Path, order: str) -> int | None:
        """How many pages lie at `path`, when they are those of this order; None when it must be pressed."""
        order_then, held, pages = self._known.get(self._name(path), ("", "", 0))
        if order_then != order:
            return None
        try:
            return pages if hashlib.sha256(bounded(path, MOST)).hexdigest() == held else None
        except OSError:
            return None

    def note(self, path: Path, order: str, pdf: bytes, pages: int) -> None:
        """Keep what was written to `path`. Errors: OSError."""
        entry = (order, hashlib.sha256(pdf).hexdigest(), pages)
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


def _line(name: str, entry: tuple[str, str, int]) -> bytes:
    return json.dumps([name, *entry]).encode() + b"\n"


def digest_of(order: Order, html: str | None = None, told: object = None) -> str:
    """A digest over all that a document is pressed from: its page, style, drawings, job, and the press itself.

    `html` and `told` stand in place of its page, and of what it says of itself, is numbered with and carries along.
    """
    whole = hashlib.sha256(press_digest().encode())
    parts: list[object] = [html or order.html, order.css, order.faces, order.forms, order.body]
    parts += [sorted(order.assets.items()), told or (order.meta, order.numbers, order.attachments)]
    for part in parts:
        told = repr(part).encode()
        whole.update(b"%d:" % len(told))
        whole.update(told)
    return whole.hexdigest()


@cache
def press_digest() -> str:
    """A digest over the press's own files and the versions of what draws for it."""
    whole = hashlib.sha256(" ".join(f"{name} {version(name)}" for name in _DRAWN_BY).encode())
    for file in sorted(files("docgen.press").iterdir(), key=lambda one: one.name):
        if file.name.endswith((".py", ".css", ".conf")):
            whole.update(file.name.encode() + file.read_bytes())
    return whole.hexdigest()
