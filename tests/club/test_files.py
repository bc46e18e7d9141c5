"""What is opened in a club's folder, and what is not."""

from __future__ import annotations

from pathlib import Path

from docgen.club.read import read_club
from tests.smallclub import write


def said(root: Path) -> list[str]:
    return [f"{p.path} {p.name}" for p in read_club(root).problems]


def test_a_link_is_not_followed(tmp_path: Path) -> None:
    outside = tmp_path / "outside.yaml"
    outside.write_text("secret: kept\n", "utf-8")
    root = write(tmp_path / "club")
    (root / "procedures/stray.yaml").symlink_to(outside)
    (problem,) = read_club(root).problems
    assert str(problem) == (
        "procedures/stray.yaml link-not-read: this is a link to another place; only what lies in the club's folder is"
        " read\n       to mend: put the file itself here"
    )


def test_folders_and_stray_files_where_files_are_expected(tmp_path: Path) -> None:
    root = write(tmp_path)
    (root / "procedures/folder.yaml").mkdir()
    (root / "procedures/notes.txt").write_text("x", "utf-8")
    (root / "procedures/.hidden.yaml").write_text("x: [", "utf-8")
    (root / "engines/7A/log").mkdir()
    (root / "engines/7A/log/.tmp-half").write_text("event: ru", "utf-8")
    assert said(root) == []
    (root / "engines/9").mkdir()
    assert said(root) == ["engines/9/engine.yaml no-engine-file"]


def test_a_club_without_engines_or_procedures_is_no_fault(tmp_path: Path) -> None:
    (tmp_path / "club.yaml").write_text("club: New\nbench_distance: 600 mm\nhours_a_meeting: 1 h\n", "utf-8")
    assert said(tmp_path) == []
