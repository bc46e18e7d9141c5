"""Every rule has its page, and every page its rule; failing examples say exactly that, passing versions nothing."""

from __future__ import annotations

from pathlib import Path

import pytest

from docgen.club.bench.mistakes import FAULTS
from docgen.club.schema.procedure import VERBS
from docgen.proof import rules
from docgen.proof.rulebook import rulebook
from tests.proof.pages import PAGES, club_with, findings, read_page

PATHS = [path for path in sorted(PAGES.glob("*.md")) if path.name != "README.md"]


def test_all_rules_are_found_and_each_has_its_page() -> None:
    files = sorted(path.stem for path in Path(rules.__file__).parent.glob("*.py") if path.stem != "__init__")
    told = [*FAULTS.values(), *(told for verb in VERBS.values() for told in verb.faults.values())]
    names = [rule.name for rule in rulebook()]
    assert len(files) >= 60
    assert len(told) >= 25
    assert names == sorted([*(stem.replace("_", "-") for stem in files), *{one.rule for one in told}])
    assert sorted(names) == [path.stem for path in PATHS]


@pytest.mark.parametrize("path", PATHS, ids=lambda path: path.stem)
def test_the_failing_example_says_exactly_this(path: Path, tmp_path: Path) -> None:
    page = read_page(path)
    found = findings(club_with(tmp_path / "club", page.failing), page.on, page.engine)
    assert "\n\n".join(map(str, found)) + "\n" == page.says
    assert [problem.name for problem in found] == [page.name]


@pytest.mark.parametrize("path", PATHS, ids=lambda path: path.stem)
def test_the_passing_version_says_nothing(path: Path, tmp_path: Path) -> None:
    page = read_page(path)
    assert findings(club_with(tmp_path / "club", page.passing), page.on, page.engine) == []


@pytest.mark.parametrize("path", PATHS, ids=lambda path: path.stem)
def test_the_page_explains_itself(path: Path) -> None:
    page = read_page(path)
    assert page.title == page.name
    assert len(page.prose.split()) >= 20
    assert page.failing != page.passing
