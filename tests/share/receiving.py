"""Sending and receiving between two small clubs, for the tests of parcels."""

from __future__ import annotations

import hashlib
from pathlib import Path

from click.testing import CliRunner, Result

from docgen.cli.frame import docgen

DAY = "2030-06-10"
JOB, MODEL = "procedures/rotor-service.yaml", "models/willow-80.yaml"
Edit = tuple[str, str]


def say(root: Path, *words: str, typed: str = "") -> Result:
    return CliRunner().invoke(
        docgen, ["--club", str(root), *words], prog_name="docgen", input=typed, catch_exceptions=False
    )


def edit(root: Path, path: str, *edits: Edit) -> None:
    text = (root / path).read_text("utf-8")
    for old, new in edits:
        assert text.count(old) == 1, old
        text = text.replace(old, new)
    (root / path).write_text(text, "utf-8")


def packed(root: Path, *words: str) -> str:
    """A parcel of the job, made in that club."""
    out = root.parent / f"{root.name}.parcel"
    done = say(root, "pack", "ROT", *words, "-o", str(out))
    assert done.exit_code == 0, done.output
    return str(out)


def receive(root: Path, parcel: str, *words: str, typed: str = "") -> tuple[int, str]:
    done = say(root, "receive", parcel, "--on", DAY, *words, typed=typed)
    return done.exit_code, done.output


def snapshot(root: Path) -> dict[str, str]:
    found = {p.relative_to(root).as_posix(): p for p in sorted(root.rglob("*")) if p.is_file() and "out" not in p.parts}
    assert found
    return {path: hashlib.sha256(place.read_bytes()).hexdigest() for path, place in found.items()}


def newer(other: Path, *edits: Edit, path: str = JOB) -> str:
    """A parcel with the next revision."""
    if path != JOB:
        edit(other, path, *edits)
    else:
        edit(other, JOB, ("revision: 3", "revision: 4"), *edits)
    return packed(other)


WAIT, LONGER, SHORTER = (("wait: 10 min", f"wait: {minutes} min") for minutes in (12, 15, 8))
FROM = "A parcel from Other Club, by its own account; nothing proves who packed it.\n\n"
