"""What may lie on the disk after a power cut, at every moment of every kind of writing, and whether it reads.

The calls that make a file are written down in their order: what is created, what is linked, renamed or taken away, what
is flushed. For each moment every disk is built that the rules allow: what a flushed file holds is there; one that was
not flushed may be empty, hold zeros, or be whole; of what was done to the names in a folder that was not flushed since,
any beginning may have come to the disk. Each such disk must read as before or as after, and where something is cut off
between two files, the program must say so or finish it by itself.

The last line reads ``moments: N; disks: D; neither before nor after: 0``; the exit code is 1 when it does not. This is
a model of a file system that keeps its promises; a disk that confirms what it has not written is none of it.
"""

from __future__ import annotations

import contextlib
import itertools
import os
import shutil
import sys
import tempfile
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from click.testing import CliRunner

from benchmarks.command_faults import on_the_day
from benchmarks.faults import clubs
from benchmarks.faults.judging import is_cache, tree
from benchmarks.faults.recipes import RECIPES
from docgen.cli.frame import docgen
from docgen.club.store import TEMPORARY
from docgen.share.put import finish

TRIED = (
    *("ran", "note finding", "move", "correct", "join", "release", "receive", "print", "enter", "rebuilt"),
    *("new engine", "schema"),
)
CONTENTS = ("empty", "zeros", "whole")
Op = tuple[str, str, str]


@dataclass
class Recorded:
    """The calls, in their order, and what each new file held in the end, by its first name."""

    ops: list[Op] = field(default_factory=list)
    data: dict[str, bytes] = field(default_factory=dict)


@contextlib.contextmanager
def recording(root: Path) -> Iterator[Recorded]:
    """Write down the calls that concern names and flushes below `root`."""
    found = Recorded()
    real = {name: getattr(Path, name) for name in ("hardlink_to", "rename", "replace", "unlink", "mkdir")}
    fsync = os.fsync

    def named(path: Any) -> str:
        return os.path.relpath(path, root)

    def held(path: Path) -> None:
        name = named(path)
        if path.name.startswith(TEMPORARY) and path.exists():
            if not any(op[:2] == ("create", name) for op in found.ops):
                found.ops.append(("create", name, ""))
            found.data[name] = path.read_bytes()

    def flush(handle: int) -> None:
        path = Path(os.readlink(f"/proc/self/fd/{handle}"))  # noqa: PTH115
        held(path)
        fsync(handle)
        held(path)
        found.ops.append(("flush folder" if path.is_dir() else "flush", named(path), ""))

    def wrapped(name: str) -> Callable[..., Any]:
        def call(self: Path, *words: Any, **more: Any) -> Any:
            other = words[0] if words and name in ("hardlink_to", "rename", "replace") else None
            held(self if name != "hardlink_to" else Path(str(other)))
            done = real[name](self, *words, **more)
            source, target = (other, self) if name == "hardlink_to" else (self, other)
            found.ops.append((name, named(source), named(target) if target is not None else ""))
            return done

        return call

    with contextlib.ExitStack() as stack:
        for name, function in real.items():
            setattr(Path, name, wrapped(name))
            stack.callback(setattr, Path, name, function)
        os.fsync = flush
        stack.callback(setattr, os, "fsync", fsync)
        yield found


def disks(recorded: Recorded, cut: int) -> Iterator[dict[str, bytes | None]]:
    """What may have changed on the disk when the power goes after `cut` calls: names to contents, None for none."""
    ops = recorded.ops[:cut]
    flushed = {op[1] for op in ops if op[0] == "flush"}
    pending: dict[str, list[int]] = {}
    for at, (kind, one, two) in enumerate(ops):
        if kind == "flush folder":
            pending.pop(one, None)
        elif kind != "flush":
            pending.setdefault(os.path.dirname(two or one) or ".", []).append(at)  # noqa: PTH120
    folders = sorted(pending)
    for kept in itertools.product(*(range(len(pending[name]) + 1) for name in folders)):
        lost = {at for name, count in zip(folders, kept, strict=True) for at in pending[name][count:]}
        for content in CONTENTS if set(recorded.data) - flushed else CONTENTS[2:]:
            yield _names(recorded, ops, lost, flushed, content)


def _names(
    recorded: Recorded, ops: list[Op], lost: set[int], flushed: set[str], content: str
) -> dict[str, bytes | None]:  # fmt: skip
    names: dict[str, str | None] = {}
    no_folder = {op[1] for at, op in enumerate(ops) if op[0] == "mkdir" and at in lost}
    for at, (kind, one, two) in enumerate(ops):
        if at in lost or any(f"{two or one}/".startswith(f"{folder}/") for folder in no_folder):
            continue
        if kind == "create":
            names[one] = one
        elif kind == "hardlink_to" and one in names:
            names[two] = names[one]
        elif kind in ("rename", "replace") and one in names:
            names[two], names[one] = names[one], None
        elif kind == "unlink":
            names[one] = None
    found: dict[str, bytes | None] = {}
    for name, first in names.items():
        data = recorded.data.get(first, b"") if first else None
        unsure = data is not None and first not in flushed
        if data is not None and unsure and content != "whole":
            data = b"" if content == "empty" else bytes(len(data))
        found[name] = data
    return found


def main(tried_commands: tuple[str, ...] = TRIED) -> int:
    """Try these kinds of writing."""
    moments = worlds = 0
    wrong: list[str] = []
    on_the_day()
    with tempfile.TemporaryDirectory() as name:
        for number, (command, recipe) in enumerate((c, r) for c in tried_commands for r in RECIPES[c]):
            place = Path(name) / str(number)
            club = clubs.fresh(place / "club")
            which = recipe.before(club)
            work = Path(shutil.copytree(club, place / "work"))
            words = [word.replace("WHICH", which) for word in recipe.words]
            with recording(work) as recorded:
                done = CliRunner().invoke(docgen, ["--club", str(work), *words], input=recipe.typed)
            assert done.exception is None or isinstance(done.exception, SystemExit), done.exception
            before, after = _whole(tree(club)), _whole(tree(work))
            tried = 0
            for cut in range(len(recorded.ops) + 1):
                moments += 1
                for disk in disks(recorded, cut):
                    tried += 1
                    if said := _reads(place, club, disk, before, after):
                        wrong.append(f"{command}, after call {cut}: {said}")
            worlds += tried
            print(f"{command}: {len(recorded.ops)} calls, {tried} disks", flush=True)
    for case in wrong[:10]:
        print(case)
    print(f"moments: {moments}; disks: {worlds}; neither before nor after: {len(wrong)}")
    return 1 if wrong or not worlds else 0


def _whole(files: dict[str, bytes]) -> dict[str, bytes]:
    return {path: data for path, data in files.items() if TEMPORARY not in path}


def _reads(
    place: Path, club: Path, disk: dict[str, bytes | None], before: dict[str, bytes], after: dict[str, bytes]
) -> str:  # fmt: skip
    """What is wrong with a disk; empty where each file is as before or as after, or the program finishes the rest."""
    files: dict[str, bytes] = dict(_whole(tree(club)))
    for path, data in disk.items():
        files.pop(path, None)
        if data is not None and TEMPORARY not in path and not is_cache(path):
            files[path] = data
    if files in (before, after):
        return ""
    odd = [path for path, data in files.items() if data not in (before.get(path), after.get(path))]
    if "shared/to-put" in files:
        return _finished(place, club, disk, after)
    gone = [path for path in before if path not in files and path in after]
    return ", ".join(f"{path} is neither as before nor as after" for path in (*odd, *gone))


def _finished(place: Path, club: Path, disk: dict[str, bytes | None], after: dict[str, bytes]) -> str:
    """A parcel that was cut off is put in its place by the next command."""
    root = Path(shutil.copytree(club, place / "disk"))
    for path, data in disk.items():
        (root / path).parent.mkdir(parents=True, exist_ok=True)
        (root / path).unlink(missing_ok=True)
        if data is not None:
            (root / path).write_bytes(data)
    finish(root)
    now = _whole(tree(root))
    shutil.rmtree(root)
    return "" if now == after else "the parcel is not finished"


if __name__ == "__main__":
    sys.exit(main(tuple(sys.argv[1:]) or TRIED))
