"""The demo club's sheets, printed once each for all tests that look at them; nothing is written into the club."""

from __future__ import annotations

import io
import re
from collections.abc import Callable
from datetime import date
from functools import cache
from pathlib import Path

import pypdf
import pytest

from docgen.club.folder import Folder
from docgen.club.read import read_club
from docgen.job.job import Job
from docgen.job.resolve import resolve
from docgen.press.orders import order
from docgen.press.workers import press
from docgen.sheets.leaf import leaf
from docgen.sheets.reading import reading
from docgen.sheets.signoff import signoff
from docgen.visit.job import in_one_visit, visit_job
from docgen.visit.together import visit

ON = date(2027, 2, 20)
ROOT = Path(__file__).resolve().parents[2]
MAKERS = {"leaf": leaf, "reading": reading, "sign-off": signoff}

Printed = Callable[[str, str, str], bytes]
Text = Callable[[str, str, str], str]


@cache
def _club() -> Folder:
    return read_club(ROOT)


@cache
def _job(engine: str, procedure: str) -> Job:
    """The job on the engine; where it gathers others, the visit with them."""
    folder = _club()
    record, job = folder.engines[engine], folder.procedures[procedure]
    if not job.value.gathers:
        return resolve(folder, record, job, ON)
    return visit_job(folder, record, visit(folder, record, in_one_visit(folder, record, [job]), ON), ON)


@cache
def _printed(engine: str, procedure: str, sheet: str) -> bytes:
    club = _club().club
    assert club is not None
    job = _job(engine, procedure)
    outcome = press(order("test", MAKERS[sheet](job, club.value), job, club.value.club, forms=sheet == "sign-off"))
    assert outcome.pressed is not None, outcome.faults
    return outcome.pressed.pdf


@cache
def _text(engine: str, procedure: str, sheet: str) -> str:
    reader = pypdf.PdfReader(io.BytesIO(_printed(engine, procedure, sheet)))
    return re.sub(r"\s+", " ", " ".join(page.extract_text() for page in reader.pages))


@pytest.fixture(scope="session")
def demo() -> Folder:
    """The demo club, read."""
    return _club()


@pytest.fixture(scope="session")
def printed() -> Printed:
    """The PDF of one sheet: engine, procedure, "leaf", "reading" or "sign-off"."""
    return _printed


@pytest.fixture(scope="session")
def text() -> Text:
    """The text of one sheet, white space folded."""
    return _text


@pytest.fixture(scope="session")
def job() -> Callable[[str, str], Job]:
    """The job of a procedure on an engine."""
    return _job
