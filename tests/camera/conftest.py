"""The small club's sheet on paper, once for all tests of pictures."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from docgen.returns.identity import IssuedSheet
from docgen.returns.sandbox import Reader
from tests.camera.taken import Printed, printed
from tests.returns.conftest import Club, club_at


@pytest.fixture(scope="session")
def club(tmp_path_factory: pytest.TempPathFactory) -> Club:
    """For tests that write nothing."""
    return club_at(tmp_path_factory.mktemp("club"))


@pytest.fixture(scope="session")
def paper(club: Club) -> Printed:
    """The club's sheet, drawn."""
    return printed(club)


@pytest.fixture(scope="session")
def reader() -> Iterator[Reader]:
    """One process for all pictures."""
    with Reader(seconds=120) as found:
        yield found


@pytest.fixture(scope="session")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Any folder."""
    return tmp_path_factory.mktemp("photographs")


@pytest.fixture(autouse=True)
def pressed_once(paper: Printed, club: Club, monkeypatch: pytest.MonkeyPatch) -> None:
    """The small club's sheet is pressed once for all tests of pictures; the press makes the same bytes each time."""

    def once(sheet: IssuedSheet, club_now: object) -> bytes:
        assert sheet.job.issue_digest == club.sheet.job.issue_digest
        return paper.pdf

    monkeypatch.setattr("docgen.camera.gather.issued_pdf", once)
