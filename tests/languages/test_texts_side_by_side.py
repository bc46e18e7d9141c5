"""A text in several languages: how it is written, which one is chosen, what is said of a wrong one."""

from __future__ import annotations

from pathlib import Path

import pytest

from docgen.club.folder import Folder
from docgen.club.read import read_club
from docgen.club.schema.prose import Said, like
from docgen.club.translation import spoken
from docgen.job.issue import frozen, thawed
from docgen.job.resolve import resolve
from docgen.sheets.leaf import leaf
from docgen.sheets.reading import reading
from tests.returns.conftest import PRINTED
from tests.smallclub import write

PLACE = "procedures/rotor-service.yaml"
NO_LANGUAGE = "no language: text is needed here, or the same text by language"


def small(root: Path, old: str = "", new: str = "", place: str = PLACE) -> Folder:
    """The small club with one text of a file written otherwise."""
    write(root)
    path = root / place
    text = path.read_text("utf-8")
    assert old in text
    path.write_text(text.replace(old, new, 1), "utf-8")
    return read_club(root)


def first_text(root: Path) -> str:
    """The text of the small club's first step, as its file has it."""
    write(root)
    folder = read_club(root)
    return str(folder.procedures["rotor-service"].value.stages[0].steps[0].do)


@pytest.mark.parametrize(
    ("written", "said"),
    [
        ("{}", "empty-value: nothing is written here"),
        ("{avoid: gloves}", f'not-a-language: "avoid" is {NO_LANGUAGE}'),
        ("{EN: Go on.}", f'not-a-language: "EN" is {NO_LANGUAGE}'),
        ("{en: Go on., de: }", 'not-text: what stands under "de" has nothing in it'),
        ("{en: [Go on.]}", 'not-text: what stands under "en" is not one text'),
        ("[Go on.]", "not-text: text is needed here, not a list"),
    ],
)
def test_a_wrong_shape_is_said_with_its_place(tmp_path: Path, written: str, said: str) -> None:
    text = first_text(tmp_path / "a")
    folder = small(tmp_path / "b", f"do: {text}", f"do: {written}")
    found = [f"{p.name}: {p.message}" for p in folder.problems if p.path == PLACE]
    assert found == [said]


def test_a_name_in_any_of_the_texts_must_be_known(tmp_path: Path) -> None:
    text = first_text(tmp_path / "a")
    folder = small(tmp_path / "b", f"do: {text}", f'do: {{en: "{text}", de: "Den {{rotor-nutt}} lösen."}}')
    assert [p.name for p in folder.problems] == ["unknown-value"]


def test_the_club_s_language_must_be_one_that_the_program_prints(tmp_path: Path) -> None:
    folder = small(tmp_path, "club:", "language: fr\nclub:", "club.yaml")
    (problem,) = [p for p in folder.problems if p.name == "unknown-language"]
    assert problem.message == 'the program has no words in "fr"'
    assert problem.hint == "known here: de, en; docs/languages.md says how to add one"


def test_the_club_s_language_is_chosen_and_another_on_demand(tmp_path: Path) -> None:
    text = first_text(tmp_path / "a")
    folder = small(tmp_path / "b", f"do: {text}", f'do: {{en: "{text}", de: Rotormutter lösen.}}')

    def step(turned: Folder) -> str:
        return str(turned.procedures["rotor-service"].value.stages[0].steps[0].do)

    german = spoken(folder, "de")
    assert (step(folder), step(german), step(spoken(german, "en"))) == (text, "Rotormutter lösen.", text)
    assert german.club.value.language == "de"


def test_a_german_club_reads_german_first(tmp_path: Path) -> None:
    text = first_text(tmp_path / "a")
    root = write(tmp_path / "b")
    (root / PLACE).write_text(
        (root / PLACE).read_text("utf-8").replace(f"do: {text}", f'do: {{en: "{text}", de: Rotormutter lösen.}}', 1),
        "utf-8",
    )
    (root / "club.yaml").write_text("language: de\n" + (root / "club.yaml").read_text("utf-8"), "utf-8")
    folder = read_club(root)
    assert [str(p) for p in folder.problems] == []
    assert folder.procedures["rotor-service"].value.stages[0].steps[0].do == "Rotormutter lösen."


def test_what_stays_in_another_language_is_marked_on_the_page_and_kept_so(tmp_path: Path) -> None:
    text = first_text(tmp_path / "a")
    folder = spoken(small(tmp_path / "b", f"do: {text}", f'do: {{en: "{text}", de: Rotormutter lösen.}}'), "de")
    job = resolve(folder, folder.engines["7A"], folder.procedures["rotor-service"], PRINTED)
    one, two = job.instructions.steps[:2]
    assert (one.text, getattr(one.text, "foreign", "")) == ("Rotormutter lösen.", "")
    assert getattr(two.text, "foreign", "") == "en"
    page = reading(job, folder.club.value)
    assert '<html lang="de">' in page.html
    assert f'<p class="do"><span lang="en">{two.text}</span></p>' in page.html.replace("&#39;", "'")
    assert '<p class="do">Rotormutter lösen.</p>' in page.html
    bench = leaf(job, folder.club.value).html
    assert '<p class="line">Rotormutter lösen.</p>' in bench
    assert '<p class="line"><span lang="en">Turn the rotor by hand.</span></p>' in bench
    again = thawed(frozen(job))
    assert again.instructions_digest == job.instructions_digest
    assert getattr(again.instructions.steps[1].text, "foreign", "") == "en"
    assert "<span" not in page.html.partition("</title>")[0]


def test_what_is_made_from_a_foreign_text_stays_foreign() -> None:
    nut = Said("nut", foreign="en")
    assert getattr(like(nut, "Nut"), "foreign", "") == "en"
    assert not hasattr(like("Mutter", "MUTTER"), "foreign")
