"""What is typed in the trials of each command, and what is done before; a command that has none is found too."""

from __future__ import annotations

import io
import os
import shlex
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import date
from pathlib import Path

import click
import pikepdf
from click.testing import CliRunner

from benchmarks.faults import clubs
from docgen.cli.frame import docgen
from docgen.club.readlog import read_log
from docgen.club.store import append
from docgen.job.issue import issue
from docgen.job.resolve import resolve
from docgen.returns.filing import file_event
from docgen.returns.identity import IssuedSheet, sheet_numbered, typed_number
from docgen.returns.prompts import prompts
from docgen.returns.walk import Walk, draft_path, save_draft

DAY = date(2030, 3, 1)
ON = ("--on", DAY.isoformat())
NUMBER = "7A-ROT-03-001-S1-I"
ANSWERS = {"work-completed": DAY.isoformat(), "engine-hours": "4", "done-by": "A. Keeper", "measure-rotor-gap": "0.30",
           "findings": "Weeps oil", "released-by": "A. Keeper"}  # fmt: skip


@dataclass(frozen=True)
class Recipe:
    """One trial: what is typed (PLACE stands for the club's folder, WHICH for what `before` gives back)."""

    words: tuple[str, ...]
    typed: str = ""
    before: Callable[[Path], str] = lambda root: ""


def _nothing(root: Path) -> str:
    return ""


def _a_run(root: Path) -> str:
    return file_event(root, "7A", {"event": "run", "date": "2030-02-01", "hours": "9 min"}).digest[:8]


def _a_finding(root: Path) -> str:
    return file_event(root, "7A", {"event": "finding", "date": "2030-02-01", "finding": "Weeps oil"}).digest[:8]


def _a_deviation(root: Path) -> str:
    event = {"event": "deviation", "date": "2030-02-01", "item": "rotor-nut", "what": "Re-tapped"}
    return file_event(root, "7A", event).digest[:8]


def _two_ends(root: Path) -> str:
    log, _ = read_log(root, "7A")
    for minutes in (5, 6):
        append(root / "engines/7A/log", {"event": "run", "date": "2030-02-01", "hours": f"{minutes} min"}, log.heads)
    return ""


def _one_twice(root: Path) -> str:
    log, _ = read_log(root, "7A")
    for by in ("Ada", "Bo"):
        append(root / "engines/7A/log", {"event": "run", "date": "2030-02-01", "by": by, "hours": "5 min"}, log.heads)
    return ""


def _half_a_move(root: Path) -> str:
    event = {"event": "component", "date": "2030-02-01", "component": "rotor", "fitted": "R-1", "came_from": "7A"}
    file_event(root, "8B", event)
    return ""


def _sheet(root: Path) -> IssuedSheet:
    folder = clubs.read(root)
    issue(root / "engines/7A/issued", resolve(folder, folder.engines["7A"], folder.procedures["rotor-service"], DAY))
    return sheet_numbered(typed_number(NUMBER), clubs.read(root))


def _a_draft(root: Path) -> str:
    sheet = _sheet(root)
    walk = Walk(prompts(sheet.job), dict(ANSWERS))
    walk.at = len(walk.prompts)
    save_draft(draft_path(root, sheet.number), walk)
    return ""


def _a_paper(root: Path) -> str:
    """The sheet printed and filled in, beside the club's folder."""
    done = CliRunner().invoke(docgen, ["--club", str(root), "print", "7A", "--job", "ROT", *ON], catch_exceptions=False)
    assert done.exit_code == 0, done.output
    with pikepdf.open(io.BytesIO((root / "out/7A/7A-ROT-sign-off.pdf").read_bytes())) as document:
        for page in document.pages:
            for field in page.obj.get("/Annots", ()):
                if (text := ANSWERS.get(str(field.get("/T", "")))) is not None:
                    field.V = pikepdf.String(text)
        document.save(root.parent / "filled.pdf")
    return str(root.parent / "filled.pdf")


def _a_parcel(root: Path) -> str:
    other = clubs.fresh(root.parent / "other")
    job = other / "procedures/rotor-service.yaml"
    text = job.read_text("utf-8").replace("rotor-service", "rotor-check").replace("ROT", "ROC")
    job.unlink()
    job.with_name("rotor-check.yaml").write_text(text, "utf-8")
    words = ["--club", str(other), "pack", "ROC", "-o", str(root.parent / "other.parcel")]
    assert CliRunner().invoke(docgen, words, catch_exceptions=False).exit_code == 0
    return str(root.parent / "other.parcel")


def _left_over(root: Path) -> str:
    path = root / "engines/7A/signed/.tmp-0123"
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_bytes(b"half")
    os.utime(path, (1_000_000_000, 1_000_000_000))
    return ""


RECIPES: dict[str, tuple[Recipe, ...]] = {
    "ran": (Recipe(("ran", "7A", "8B", "36", *ON, "--yes")),),
    "note finding": (Recipe(("note", "finding", "7A", "Weeps oil", *ON, "--yes")),),
    "note dealt-with": (Recipe(("note", "dealt-with", "7A", "WHICH", "Renewed", *ON, "--yes"), before=_a_finding),),
    "note deviation": (Recipe(("note", "deviation", "7A", "rotor-nut", "Re-tapped", *ON, "--yes")),),
    "note as-model": (Recipe(("note", "as-model", "7A", "WHICH", "Bush fitted", *ON, "--yes"), before=_a_deviation),),
    "note setting": (Recipe(("note", "setting", "7A", "timing", "1.9 mm", *ON, "--yes")),),
    "note keeper": (Recipe(("note", "keeper", "7A", "Bo Lind", *ON, "--yes")),),
    "note interval": (Recipe(("note", "interval", "7A", "ROT", "--hours", "8 h", *ON, "--yes")),),
    "move": (
        Recipe(("move", "R-1", "8B", *ON, "--yes")),
        Recipe(("move", "--finish"), before=_half_a_move),
    ),
    "correct": (Recipe(("correct", "7A", "WHICH", "hours=5 min", "--why", "misread", *ON, "--yes"), before=_a_run),),
    "join": (
        Recipe(("join", *ON, "--yes"), before=_two_ends),
        Recipe(("join", *ON, "--yes", "--twice", "strike"), before=_one_twice),
    ),
    "rebuilt": (Recipe(("rebuilt", "7A", "--by", "Ada", "--approved-by", "Bo", *ON), "y\n" * 6),),
    "enter": (Recipe(("enter", NUMBER, *ON, "--accept", "fastener-without-a-word"), "\n" + "y\n" * 6, _a_draft),),
    "file": (Recipe(("file", "WHICH", *ON), "y\n" * 3 + "\n" + "y\n", _a_paper),),
    "print": (Recipe(("print", "7A", "--job", "ROT", *ON)),),
    "binder": (Recipe(("binder", "7A", "--job", "ROT", *ON)),),
    "card": (Recipe(("card", "7A", *ON)),),
    "board": (Recipe(("board", *ON)),),
    "kit": (Recipe(("kit", "--job", "ROT", *ON)),),
    "labels": (Recipe(("labels", "parts", "7A", "--job", "ROT", *ON)),),
    "safety": (Recipe(("safety",)),),
    "reading": (Recipe(("reading", "ROT", *ON)),),
    "index": (Recipe(("index", *ON), before=lambda root: _a_paper(root)),),
    "release": (Recipe(("release", "ROT")),),
    "schema": (Recipe(("schema", "--write")),),
    "pack": (Recipe(("pack", "ROT", "-o", "PLACE/rotor.parcel")),),
    "receive": (Recipe(("receive", "WHICH", *ON, "--yes"), before=_a_parcel),),
    "new club": (Recipe(("new", "club", "PLACE/inner", "--name", "Inner", "--take", "nothing", "--yes")),),
    "new engine": (Recipe(("new", "engine", "9C", "--keeper", "Ada", "--received", "2030-01-01", "--yes")),),
    "new model": (Recipe(("new", "model", "elm-60", "--yes")),),
    "new procedure": (Recipe(("new", "procedure", "rotor-look", "--yes")),),
    "verify": (Recipe(("verify", "--tidy"), before=_left_over),),
}


def commands(group: click.Group = docgen, before: str = "") -> Iterator[tuple[str, click.Command]]:
    """Every command with its name, those within a group too."""
    context = click.Context(group)
    for name in group.list_commands(context):
        command = group.get_command(context, name)
        if isinstance(command, click.Group):
            yield from commands(command, f"{before}{name} ")
        elif command is not None:
            yield f"{before}{name}", command


def recipes() -> Iterator[tuple[str, Recipe]]:
    """The trials of every command: those written down, else what its help shows."""
    for name, command in commands():
        if name in RECIPES:
            yield from ((name, recipe) for recipe in RECIPES[name])
            continue
        lines = (line.strip() for line in (command.epilog or "").splitlines())
        for line in lines:
            if line.startswith("docgen "):
                yield name, Recipe(tuple(shlex.split(line)[1:]))
