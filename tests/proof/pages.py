"""The pages of docs/rules as tests: prose, a failing example, what proofing says of it, a passing version."""

from __future__ import annotations

import re
import shutil
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from docgen.club.problem import Problem
from docgen.club.read import read_club
from docgen.club.sidefiles import read_glossary
from docgen.proof import Seen, proof_all, proof_job
from docgen.proof.releases import read_released

PAGES = Path(__file__).resolve().parents[2] / "docs" / "rules"
EXAMPLE_CLUB = PAGES / "example-club"
_PAGE = re.compile(r"# (.+?)\n\n(.+?)\n## A failing example\n(.+?)\n## The passing version\n(.+)", re.DOTALL)
_BLOCK = re.compile(r"^`(?P<path>[^`\n]+)`:\n\n```(?:yaml|text)\n(?P<text>.*?)^```$", re.MULTILINE | re.DOTALL)
_SAYS = re.compile(r"^Proofing says(?P<how>[^:]*):\n\n```text\n(?P<text>.*?)^```$", re.MULTILINE | re.DOTALL)


@dataclass(frozen=True)
class Page:
    """One rule's page. `on` and `engine` come from `Proofing says, on 2027-07-01, for engine 007:`."""

    name: str
    title: str
    prose: str
    failing: dict[str, str]
    says: str
    passing: dict[str, str]
    on: date | None
    engine: str | None


def read_page(path: Path) -> Page:
    """A page in its parts. Errors: AssertionError for one that lacks a part."""
    text = path.read_text("utf-8")
    match = _PAGE.fullmatch(text)
    assert match, f"{path.name} has not the four parts of a page"
    title, prose, failing, passing = match.groups()
    said = _SAYS.search(failing)
    assert said, f"{path.name} does not say what proofing says"
    on = re.search(r"on (\d{4}-\d{2}-\d{2})", said["how"])
    engine = re.search(r"for engine (\w+)", said["how"])
    page = Page(
        path.stem, title, prose, _files(failing), said["text"], _files(passing),
        date.fromisoformat(on[1]) if on else None, engine[1] if engine else None,
    )  # fmt: skip
    assert page.failing, f"{path.name} has no failing file"
    assert page.passing, f"{path.name} has no passing file"
    return page


def _files(text: str) -> dict[str, str]:
    return {match["path"]: match["text"] for match in _BLOCK.finditer(text)}


def club_with(folder: Path, files: dict[str, str]) -> Path:
    """The example club in `folder`, with some files laid over it."""
    shutil.copytree(EXAMPLE_CLUB, folder)
    for path, text in files.items():
        (folder / path).parent.mkdir(parents=True, exist_ok=True)
        (folder / path).write_text(text, "utf-8")
    return folder


def findings(root: Path, on: date | None, engine: str | None, seen: Seen | None = None) -> list[Problem]:
    """Everything that reading and proofing say of a club."""
    folder = read_club(root)
    releases, problems = read_released(root)
    _, misread = read_glossary(folder)
    problems += misread
    if engine is None:
        return [*folder.problems, *problems, *proof_all(folder, on, released=releases, seen=seen)]
    assert on is not None
    record = folder.engines[engine]
    jobs = [proof_job(folder, read, record, on, seen) for _, read in sorted(folder.procedures.items())]
    return [*folder.problems, *sorted({problem for job in jobs for problem in job})]
