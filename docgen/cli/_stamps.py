"""Whether anything changed since a command ended: then it has nothing to do but say the same, and ends at once.

A stamp is a digest over the names, sizes and times of every file that the command could have read, the program's own
among them (:mod:`docgen.desk.fingerprint`). Nothing is imported that reads a club.
"""

# ruff: noqa: PTH118, PTH120, PTH208
# (pathlib takes longer than all the rest)
import contextlib
import hashlib
import json
import os
import sys
import time
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import click

from docgen.club.files import bounded
from docgen.desk.fingerprint import File, digest, entries, listed, of_the_program, signed

PLACE = ".docgen/said"
"""Where the stamps lie, a file each, below the folder of the printed sheets."""
KEPT = 20
"""Stamps that are kept, the newest."""
WORTH = 40
"""Files to read from which on remembering what was said of them is worth a file: a tenth of a second or so."""
MOST = 64 << 20
"""Largest file of stamps that is read, bytes."""
_READ = ("club.yaml", "glossary.yaml", "procedures", "models", "shared", "templates")


class Stamps:
    """The stamps in a folder of printed sheets, for commands on the club at `root` that said the same words."""

    def __init__(self, root: Path, out: Path, words: Sequence[str]) -> None:
        self._root, self._out = root, out
        key = hashlib.sha256("\0".join([str(root.resolve()), *words]).encode("utf-8", "surrogateescape")).hexdigest()
        self._place = out / PLACE / key
        self._at, self._read_then, self.many = 0, "", 0
        self._program = of_the_program()
        self.parts: dict[str, str] = {}

    def unchanged(self) -> Any:
        """What the command said when all was as it is now; None where anything changed. To be asked first of all.

        Where something changed, `parts` are the digests of what each engine's folder holds, and of all else under "";
        those that end with "?" hold what may change unseen.
        """
        club, parts, now = self._club(), {}, time.time_ns()
        self.many = sum(map(len, club.values()))
        match self._kept():
            case {"at": int(at), "read": str(read), "made": str(made), "files": list(made_files), "said": said}:
                parts = self._parts(club, at)
                if read == digest(parts) and made == self._made(at, made_files):
                    return said
        again = {name: files for name, files in club.items() if parts.get(name, "?").endswith("?")}
        self._at, self.parts = now, {**parts, **self._parts(again, now)}
        self._read_then = digest(self.parts)
        return None

    def keep(self, made: Sequence[Path], said: Any) -> None:
        """Keep that the command ended, having made these files and said this, for the files as they were when it began.

        Errors: OSError.
        """
        if os.name != "posix" and digest(self._parts(self._club(), self._at)) != self._read_then:
            return  # where the system tells less, all could be once more as it was when the command began
        names = [path.relative_to(self._out).as_posix() for path in made]
        made_now = self._made(self._at, names)
        stamp = {"at": self._at, "read": self._read_then, "made": made_now, "files": names, "said": said}
        self._place.parent.mkdir(parents=True, exist_ok=True)
        temporary = self._place.with_name(f".tmp-{os.getpid()}")
        temporary.write_text(json.dumps(stamp), encoding="utf-8")
        temporary.replace(self._place)
        kept = sorted(self._place.parent.glob("[0-9a-f]*"), key=lambda one: one.stat().st_mtime_ns)
        for old in kept[:-KEPT]:
            old.unlink(missing_ok=True)

    def _kept(self) -> Any:
        with contextlib.suppress(OSError, ValueError):
            return json.loads(bounded(self._place, MOST))
        return None

    def _club(self) -> dict[str, list[File]]:
        engines = os.path.join(self._root, "engines")
        found = {"": [one for name in _READ for one in listed(os.path.join(self._root, name))]}
        each = entries(engines)
        if not each:
            found[""] += listed(engines)
        return found | {entry.name: listed(entry.path) for entry in each}

    def _parts(self, club: dict[str, list[File]], at: int) -> dict[str, str]:
        parts = {name: signed(files, at) for name, files in club.items()}
        if "" in parts:
            installed = os.path.dirname(os.path.dirname(click.__file__))
            libraries = sorted(name for name in os.listdir(installed) if name.endswith(".dist-info"))
            both = f"{signed(self._program, at)} {parts['']}"
            parts[""] = f"{sys.version} {libraries} {both}" + ("?" if "?" in both else "")
        return parts

    def _made(self, at: int, names: Sequence[str]) -> str:
        """What was printed, and the jobs that it was printed from."""
        made = [signed(listed(os.path.join(self._out, name)), 0) for name in names]
        engines = entries(os.path.join(self._root, "engines"))
        return digest([*made, *(signed(listed(os.path.join(one.path, "issued")), 0) for one in engines)])
