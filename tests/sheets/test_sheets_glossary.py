"""The glossary: one page, from A to Z, and every term of it is used by the jobs, models or sheets."""

from __future__ import annotations

from pathlib import Path

import pymupdf
from click.testing import CliRunner, Result

from docgen.cli.frame import docgen
from docgen.club.read import read_club
from docgen.club.sidefiles import read_glossary
from tests.smallclub import write
from tools.wordlist import all_words

ROOT = Path(__file__).resolve().parents[2]


def say(root: Path, *words: str) -> Result:
    return CliRunner().invoke(docgen, ["--club", str(root), *words], prog_name="docgen", catch_exceptions=False)


def test_the_demo_s_terms_stand_on_one_page_in_their_order(tmp_path: Path) -> None:
    read, problems = read_glossary(read_club(ROOT))
    assert problems == []
    assert read is not None
    assert len(read.value.terms) >= 60
    result = say(ROOT, "glossary", "--on", "2027-02-20", "--out", str(tmp_path))
    assert (result.exit_code, result.output.startswith("Glossary, 1 page: ")) == (0, True)
    with pymupdf.open(tmp_path / "glossary.pdf") as document:
        text = " ".join(document[0].get_text().split())
    assert "The engine maker’s manual, class rules, local codes and licensed practice come first. Page 1 of 1" in text
    last = 0
    for name in sorted(read.value.terms, key=str.casefold):
        said = f"{name[0].upper()}{name[1:]} {read.value.terms[name].means}".replace("  ", " ")
        at = text.replace("\u00a0", " ").find(said)
        assert at > last, name
        last = at


def test_each_term_of_the_glossary_is_used() -> None:
    """In the jobs, models or registers, or as a word of the sheets themselves."""
    read, _ = read_glossary(read_club(ROOT))
    assert read is not None
    places = [*ROOT.glob("procedures/*.yaml"), *ROOT.glob("models/*.yaml"), ROOT / "club.yaml"]
    said = [*(path.read_text("utf-8") for path in places), *(text for _, text in all_words())]
    text = " ".join(said).casefold().replace("-", " ")
    for name, term in read.value.terms.items():
        assert any(form.casefold().replace("-", " ") in text for form in (name, *term.forms)), name


def test_a_club_without_a_glossary_is_told_where_to_write_one(tmp_path: Path) -> None:
    result = say(write(tmp_path), "glossary")
    assert result.exit_code == 1
    says = "There are no terms to print: write them into glossary.yaml in the club's folder."
    assert result.output == f"{says}\nNothing was printed.\n"


def test_a_glossary_that_cannot_be_read_says_where(tmp_path: Path) -> None:
    write(tmp_path, {"glossary.yaml": "terms:\n  bore: {meaning: A hole.}\n"})
    result = say(tmp_path, "glossary")
    assert result.exit_code == 1
    assert "glossary.yaml:2:" in result.output
    assert say(tmp_path, "proof").output.count("glossary.yaml:2:") >= 1
