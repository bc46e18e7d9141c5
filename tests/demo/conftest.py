"""The demo club's sheets, made once each for all tests that look at them; nothing is written into the club.

What a sheet says is read from its page, before it is laid out; ``tests/paper/test_demo_measured.py`` holds pages
against the paper, block by block. In the benchmark it is read from the paper itself.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import date
from functools import cache
from pathlib import Path

import pymupdf
import pytest

from docgen.club.folder import Folder
from docgen.club.read import read_club
from docgen.job.job import Job
from docgen.job.resolve import resolve
from docgen.press.orders import order
from docgen.press.workers import press
from docgen.sheets.leaf import leaf
from docgen.sheets.page import Page
from docgen.sheets.reading import reading
from docgen.sheets.signoff import signoff
from docgen.visit.grouping import visit
from docgen.visit.job import in_one_visit, visit_job
from tests.demo.said import said
from tests.shares import WHOLE

ON = date(2027, 2, 20)
ROOT = Path(__file__).resolve().parents[2]
MAKERS = {"leaf": leaf, "reading": reading, "sign-off": signoff}

Printed = Callable[[str, str, str], bytes]
Text = Callable[..., str]


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
def _page(engine: str, procedure: str, sheet: str) -> Page:
    return MAKERS[sheet](_job(engine, procedure), _club().club.value)


@cache
def _printed(engine: str, procedure: str, sheet: str) -> bytes:
    job, author = _job(engine, procedure), _club().club.value.club
    outcome = press(order("test", _page(engine, procedure, sheet), job, author, forms=sheet == "sign-off"))
    assert outcome.pressed is not None, outcome.faults
    return outcome.pressed.pdf


@cache
def _paper(engine: str, procedure: str, sheet: str) -> str:
    with pymupdf.open(stream=_printed(engine, procedure, sheet)) as document:
        return re.sub(r"\s+", " ", " ".join(page.get_text() for page in document))


@cache
def _text(engine: str, procedure: str, sheet: str, always: bool = True) -> str:
    return _paper(engine, procedure, sheet) if WHOLE else " ".join(said(_page(engine, procedure, sheet), always))


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
    """The text of one sheet, white space folded: what it says in any case or, not `always`, may say as well."""
    return _text


@pytest.fixture(scope="session")
def paper() -> Text:
    """The text of one sheet as it is on paper, drawings and running heads included."""
    return _paper


@pytest.fixture(scope="session")
def job() -> Callable[[str, str], Job]:
    """The job of a procedure on an engine."""
    return _job
