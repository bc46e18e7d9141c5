"""The club that sends, the club that receives, and the latter once it has taken the job in."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.share.receiving import JOB, packed, receive
from tests.smallclub import texts, write


@pytest.fixture
def other(tmp_path: Path) -> Path:
    """The club that sends."""
    return write(tmp_path / "other", {"club.yaml": texts()["club.yaml"].replace("Test Bench", "Other")})


@pytest.fixture
def home(tmp_path: Path) -> Path:
    """The club that receives: it has the engine type and engines, and no job."""
    return write(tmp_path / "home", {JOB: None})


@pytest.fixture
def met(other: Path, home: Path) -> Path:
    """The club that receives, once it has taken the job in."""
    assert receive(home, packed(other), "--yes")[0] == 0
    return home
