"""What comes along with the jobs of a parcel: entries of registers, and the record of an engine."""

from __future__ import annotations

import hashlib
from pathlib import Path

import pytest

from docgen.club.read import read_club
from docgen.club.store import append
from docgen.share.container import from_bytes, to_bytes
from tests.share.receiving import JOB, MODEL, edit, packed, receive, say, snapshot
from tests.smallclub import texts, write


def without_stop(text: str) -> str:
    return text.replace("  rotor-stop: {name: Rotor stop}\n", "").replace("    holding_tool: rotor-stop\n", "")


@pytest.fixture
def bare(tmp_path: Path) -> Path:
    """A club with neither the job nor the engine type, without the tool and the paste that they name."""
    shelf = without_stop(texts()["club.yaml"]).replace("  paste: {name: Bearing paste, kind: sealant}\n", "")
    return write(tmp_path / "bare", {
        JOB: None, MODEL: None, "engines/7A/engine.yaml": None, "engines/8B/engine.yaml": None, "club.yaml": shelf,
    })  # fmt: skip


def test_what_the_jobs_name_is_added_where_the_club_has_it_not(other: Path, bare: Path) -> None:
    edit(bare, "club.yaml", ("materials:", "# Our shelf\nmaterials:  # all of it"))
    before = (bare / "club.yaml").read_text()
    code, said = receive(bare, packed(other), "--yes")
    assert code == 0, said
    assert said.splitlines()[-1] == "Added to club.yaml: rotor-stop, paste"
    assert (bare / "club.yaml").read_text() == before.replace(
        "tools:\n", "tools:\n  # from Other Club\n  rotor-stop: {name: Rotor stop}\n"
    ).replace("# all of it\n", "# all of it\n  # from Other Club\n  paste: {name: Bearing paste, kind: sealant}\n")


def test_a_register_that_is_not_there_is_made(other: Path, bare: Path) -> None:
    text = (bare / "club.yaml").read_text()
    head = text.partition("materials:\n")[0]
    (bare / "club.yaml").write_text(head)
    assert receive(bare, packed(other), "--yes")[0] == 0
    assert (bare / "club.yaml").read_text().endswith("""\
materials:
  # from Other Club
  fluid: {name: Cleaning fluid, kind: solvent, hazards: [solvent], waste: Put wet rags in the metal bin.}
  lock: {name: Threadlocker, kind: threadlocker, cures: {handling: 20 min, full: 24 h}}
  paste: {name: Bearing paste, kind: sealant}
""")


def test_registers_laid_out_otherwise_are_left_to_the_club(other: Path, bare: Path) -> None:
    text = (bare / "club.yaml").read_text()
    head, _, rest = text.partition("materials:\n")
    inside = ", ".join(line.strip() for line in rest.splitlines())
    (bare / "club.yaml").write_text(f"{head}materials: {{{inside}}}\n")
    before = snapshot(bare)
    parcel = packed(other)
    code, said = receive(bare, parcel, "--yes")
    assert code == 1
    assert said == (
        "registers-by-hand: club.yaml is laid out in a way that nothing could be added to it\n"
        "  to mend: write this into it yourself, then try again:\n"
        "tools:\n  rotor-stop: {name: Rotor stop}\n"
        "materials:\n  paste: {name: Bearing paste, kind: sealant}\n\n"
        "Nothing was written.\n"
    )
    assert snapshot(bare) == before


def test_where_both_have_one_and_mean_another_thing_ours_stays_and_it_is_said(other: Path, home: Path) -> None:
    edit(home, "club.yaml", ("full: 24 h", "full: 12 h"))
    own = (home / "club.yaml").read_bytes()
    edit(other, MODEL, ("10 h}", "12 h}"))
    code, said = receive(home, packed(other), "--yes", "--take", "willow-80")
    assert code == 0
    assert (
        "Of these, both clubs have one and mean another thing; yours stays, and the jobs will use it:\n"
        "  SAFETY  lock: cures, yours handling 20 min, full 12 h; theirs handling 20 min, full 24 h\n"
    ) in said
    assert (home / "club.yaml").read_bytes() == own


def test_an_engine_comes_with_its_record(other: Path, home: Path) -> None:
    (other / "engines/9C").mkdir()
    (other / "engines/9C/engine.yaml").write_text(texts()["engines/7A/engine.yaml"].replace("7A", "9C"))
    append(other / "engines/9C/log", {"event": "run", "date": "2030-03-01", "hours": "1 h"}, ())
    code, said = receive(home, packed(other, "--engine", "9C"), "--yes")
    assert (code, said.splitlines()[-1]) == (0, "Records taken in: 9C")
    assert "The record of engine 9C: 2 files that are not here yet\n" in said
    assert len(read_club(home).engines["9C"].log.entries) == 1
    append(other / "engines/9C/log", {"event": "run", "date": "2030-03-08", "hours": "2 h"},
           read_club(other).engines["9C"].log.heads)  # fmt: skip
    code, said = receive(home, packed(other, "--engine", "9C"), "--yes")
    assert code == 0
    assert "The record of engine 9C: 1 files that are not here yet\n" in said
    assert len(read_club(home).engines["9C"].log.entries) == 2
    assert say(home, "verify", "9C").exit_code == 0


def test_another_engine_of_the_same_number_is_refused(other: Path, home: Path) -> None:
    edit(home, "engines/7A/engine.yaml", ("W80-0007", "W80-9999"))
    before, parcel = snapshot(home), packed(other, "--engine", "7A")
    assert receive(home, parcel, "--yes") == (1, (
        "another-engine: the parcel brings an engine 7A, and yours of that number is another one\n"
        "  to mend: ask the sender for a parcel without it\n"
        "Nothing was written.\n"
    ))  # fmt: skip
    assert snapshot(home) == before


def test_a_record_with_a_broken_history_is_refused(other: Path, home: Path) -> None:
    (other / "engines/9C").mkdir()
    (other / "engines/9C/engine.yaml").write_text(texts()["engines/7A/engine.yaml"].replace("7A", "9C"))
    event = {"event": "run", "date": "2030-03-01", "hours": "1 h"}
    append(other / "engines/9C/log", event, ())
    files = from_bytes(Path(packed(other, "--engine", "9C")).read_bytes())
    (log,) = (path for path in files if "/log/" in path)
    changed = files[log].replace(b"1 h", b"9 h")
    manifest = files["manifest.yaml"].decode().replace(
        hashlib.sha256(files[log]).hexdigest(), hashlib.sha256(changed).hexdigest()
    )
    lying = other.parent / "lying.parcel"
    lying.write_bytes(to_bytes({**files, log: changed, "manifest.yaml": manifest.encode()}))
    before = snapshot(home)
    code, said = receive(home, str(lying), "--yes")
    assert code == 1
    assert f"{log}" in said
    assert said.endswith("Nothing was written.\n")
    assert snapshot(home) == before
