"""Unfinished files are named wherever they lie, and taken away when nothing is lost with them."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from docgen.returns.filing import file_event
from tests.cli.record_club import log_of, numbered, say

ENGINE = "engines/7A/"
PLACES = (
    *("", "procedures/", "models/", "shared/", "shared/versions/", "out/", "out/7A/", "out/blank/willow-80/"),
    *(ENGINE, f"{ENGINE}issued/", f"{ENGINE}signed/", f"{ENGINE}drafts/", f"{ENGINE}log/"),
)


@pytest.fixture
def root(tmp_path: Path) -> Path:
    root = numbered(tmp_path / "club")
    for day in ("2030-05-04", "2030-05-05", "2030-05-06"):
        file_event(root, "7A", {"event": "run", "date": day, "hours": "10 min"})
    return root


def old(path: Path) -> None:
    os.utime(path, (1_000_000_000, 1_000_000_000))


@pytest.mark.parametrize("place", PLACES)
def test_what_was_cut_off_is_named_and_taken_away(root: Path, place: str) -> None:
    path = root / place / ".tmp-0123"
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_bytes(b"half of a f")
    named = say(root, "verify")
    assert (named.exit_code, f"{place}.tmp-0123 was left by " in named.stdout) == (0, True), named.output
    assert f"{place}.tmp-0123 is new: somebody may be filing; left alone" in say(root, "verify", "--tidy").stdout
    old(path)
    assert f"{place}.tmp-0123 taken away" in say(root, "verify", "--tidy").stdout
    assert not path.exists()
    assert ".tmp-" not in say(root, "verify").stdout


@pytest.mark.parametrize("which", [0, 1])
def test_an_event_that_bears_such_a_name_is_named_and_stays(root: Path, which: int) -> None:
    name = log_of(root, "7A")[which]
    hidden = root / "engines/7A/log/.tmp-0123"
    (root / "engines/7A/log" / name).rename(hidden)
    old(hidden)
    result = say(root, "verify", "--tidy")
    assert (result.exit_code, hidden.exists()) == (1, True)
    assert result.stderr == (
        "engines/7A/log/.tmp-0123 event-renamed: this event was renamed: it bears the name of an unfinished file, and "
        f"the log does not have it\n       to mend: name it {name} again\n\n1 fault, 0 notes\n"
    )
    hidden.rename(root / "engines/7A/log" / name)
    assert say(root, "verify").exit_code == 0


def test_the_last_event_that_bears_such_a_name_is_said_and_stays(root: Path) -> None:
    name = log_of(root, "7A")[2]
    hidden = root / "engines/7A/log/.tmp-0123"
    (root / "engines/7A/log" / name).rename(hidden)
    old(hidden)
    result = say(root, "verify", "--tidy")
    assert (result.exit_code, hidden.exists()) == (0, True)
    assert f"name it {name}, or delete it (--tidy leaves it alone)" in result.stdout


def test_the_second_name_of_an_event_goes(root: Path) -> None:
    """A kill between the link and the unlink leaves two names of one file."""
    name = log_of(root, "7A")[2]
    second = root / "engines/7A/log/.tmp-0123"
    second.hardlink_to(root / "engines/7A/log" / name)
    old(second)
    assert "engines/7A/log/.tmp-0123 taken away" in say(root, "verify", "--tidy").stdout
    assert (second.exists(), say(root, "verify").exit_code) == (False, 0)


def test_links_are_not_followed(root: Path, tmp_path: Path) -> None:
    elsewhere = tmp_path / "elsewhere"
    elsewhere.mkdir()
    (elsewhere / ".tmp-0123").write_bytes(b"somebody's own")
    old(elsewhere / ".tmp-0123")
    (root / "out").mkdir()
    (root / "out/7A").symlink_to(elsewhere)
    assert ".tmp-" not in say(root, "verify", "--tidy").stdout
    assert (elsewhere / ".tmp-0123").exists()
