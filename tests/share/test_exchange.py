"""The whole exchange between two clubs, as it stands in the docs, and what it left in their folders."""

from __future__ import annotations

from pathlib import Path

import pytest

from docgen.club.read import read_club
from tests.share.exchange import DOC, JOB, KESTREL, MODEL, SLATE, Play, play


@pytest.fixture(scope="module")
def played(tmp_path_factory: pytest.TempPathFactory) -> Play:
    return play(tmp_path_factory.mktemp("exchange"))


def test_what_was_said_is_what_the_docs_show(played: Play) -> None:
    """`python -m tests.share.exchange --accept` writes it again, once somebody has read it."""
    assert played.as_said() == DOC.read_text("utf-8")


def test_how_each_command_ended(played: Play) -> None:
    ends = [code for code, _ in played.said]
    #       r3 packed, no, yes, proofed; r4; r5 and again; r6, conflict, settled, r7; faulty r8, changed
    assert ends == [0, 1, 0, 0, 0, 0, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1, 1]


def lineage(root: Path, path: str) -> list[tuple[int | None, str | None]]:
    return [(one.revision, one.from_) for one in read_club(root).origins.files[path]]


def test_both_know_where_each_text_came_from(played: Play) -> None:
    assert lineage(played.root / "slate", JOB) == [
        (3, KESTREL), (4, None), (4, KESTREL), (5, None), (6, KESTREL), (7, None)
    ]  # fmt: skip
    assert lineage(played.root / "kestrel", JOB) == [
        (3, None), (4, None), (4, SLATE), (5, SLATE), (6, None), (7, SLATE), (8, None)
    ]  # fmt: skip


def test_both_have_what_either_changed(played: Play) -> None:
    for club in ("kestrel", "slate"):
        model = (played.root / club / MODEL).read_text("utf-8")
        assert "torque: 38 N.m +/- 5 %" in model
    text = (played.root / "slate" / JOB).read_text("utf-8")
    parts = ("revision: 7", "on the heater", "wait: 20 min", "In the cold", "thread-clean", "tightens: [rotor-nut]")
    for part in parts:
        assert part in text, part


def test_nothing_is_left_lying_about(played: Play) -> None:
    left = sorted(path.relative_to(played.root).as_posix() for path in (played.root / "slate/shared").rglob("*"))
    assert [path for path in left if "/versions" not in path] == [
        "slate/shared/beside", "slate/shared/origins.yaml", "slate/shared/replaced"
    ] + [path for path in left if "/replaced/" in path]  # fmt: skip
    assert [path.rpartition("-")[0] for path in left if "/replaced/" in path] == [
        "slate/shared/replaced/club", "slate/shared/replaced/rotor-service"
    ]  # fmt: skip
