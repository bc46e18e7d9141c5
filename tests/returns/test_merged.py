"""Two people file apart, each in their own copy, and git merges the copies: nothing is lost, all is joined openly."""

from __future__ import annotations

import os
import subprocess
from pathlib import Path

import pytest

from docgen.club.read import read_club
from docgen.club.schema.event import Run
from docgen.job.state import state_of
from docgen.returns.filing import file_event
from tests.cli.record_club import TODAY, numbered, say

NOBODY = {
    "PATH": os.environ["PATH"],
    "GIT_CONFIG_GLOBAL": os.devnull,
    "GIT_CONFIG_SYSTEM": os.devnull,
    **{f"GIT_{who}_NAME": "A" for who in ("AUTHOR", "COMMITTER")},
    **{f"GIT_{who}_EMAIL": "a@example.invalid" for who in ("AUTHOR", "COMMITTER")},
}


def git(folder: Path, *words: str) -> None:
    subprocess.run(["git", *words], cwd=folder, check=True, capture_output=True, env=NOBODY)


def run(root: Path, day: str, minutes: int) -> None:
    file_event(root, "7A", {"event": "run", "date": day, "hours": f"{minutes} min"})


@pytest.fixture
def merged(tmp_path: Path) -> Path:
    """One run that both have, two that one filed, one that the other filed, merged by git."""
    one, other = numbered(tmp_path / "one"), tmp_path / "other"
    run(one, "2030-05-04", 10)
    git(one, "init", "-q", "-b", "main")
    git(one, "add", ".")
    git(one, "commit", "-q", "-m", "Both")
    git(tmp_path, "clone", "-q", str(one), str(other))
    for day in ("2030-05-05", "2030-05-07"):
        run(one, day, 20)
    run(other, "2030-05-06", 40)
    for folder in (one, other):
        git(folder, "add", ".")
        git(folder, "commit", "-q", "-m", "Filed")
    git(one, "pull", "-q", "--no-rebase", "--no-edit", str(other), "main")
    return one


def test_a_merge_loses_nothing_and_is_joined_openly(merged: Path) -> None:
    record = read_club(merged).engines["7A"]
    assert [str(event.hours) for _, event in record.log.happened if isinstance(event, Run)] == [
        "10 min", "20 min", "40 min", "20 min",
    ]  # fmt: skip
    assert float(state_of(record, TODAY).hours) == pytest.approx(5.5)
    assert len(record.log.heads) == 2
    assert say(merged, "verify").exit_code == 1
    joined = say(merged, "join", "--on", "2030-05-08", "--by", "Bo Lind", "--yes")
    assert joined.exit_code == 0
    both, first, other, second = (entry.file for entry in record.log.entries)
    (name,) = {path.name for path in (merged / "engines/7A/log").iterdir()} - {both, first, other, second}
    assert joined.stdout == (
        f"Engine 7A: 2 branches\n  branch 1\n    {other}\n  branch 2\n    {first}\n    {second}\n"
        f"Filed: engines/7A/log/{name}; it joins what was filed apart\n"
    )
    after = read_club(merged).engines["7A"]
    assert len(after.log.heads) == 1
    assert state_of(after, TODAY).hours == state_of(record, TODAY).hours
    assert say(merged, "verify").exit_code == 0


def test_both_may_join_and_then_merge_again(merged: Path, tmp_path: Path) -> None:
    """Each joined the same ends: with the same words it is the same event, else two ends that are joined once more."""
    git(merged, "add", ".")
    git(merged, "commit", "-q", "-m", "Merged", "--allow-empty")
    third = tmp_path / "third"
    git(tmp_path, "clone", "-q", str(merged), str(third))
    for folder in (merged, third):
        assert say(folder, "join", "--on", "2030-05-08", "--yes").exit_code == 0
        git(folder, "add", ".")
        git(folder, "commit", "-q", "-m", "Joined")
    git(merged, "pull", "-q", "--no-rebase", "--no-edit", str(third), "main")
    assert say(merged, "verify").exit_code == 0
    assert len(read_club(merged).engines["7A"].log.entries) == 5
