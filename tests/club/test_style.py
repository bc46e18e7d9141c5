"""A club's own colour and logo: what is taken, the exact refusal of what is not, and where they are seen."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from docgen.club.read import read_club
from docgen.plan.standing import standing
from docgen.share.pack import shared_files
from docgen.sheets.card import card
from docgen.sheets.leaf import leaf
from docgen.trade.contrast import contrast, grey
from tests.sheets.sample import sample_club, sample_job
from tests.smallclub import texts, write

LOGO = '<svg viewBox="0 0 40 20"><circle cx="10" cy="10" r="9" onclick="x()"/></svg>'


def club_with(root: Path, style: str) -> Path:
    return write(root, {"club.yaml": f"{texts()['club.yaml']}style:\n{style}"})


def test_contrast_gives_the_published_figures() -> None:
    """Figures that contrast tables give for these colours on white, from memory; the formula is WCAG 2.2's."""
    published = {"#767676": 4.542, "#595959": 7.005, "#ff0000": 3.998, "#0000ff": 8.592, "#000000": 21.0}
    for colour, ratio in published.items():
        assert contrast(colour, "#ffffff") == pytest.approx(ratio, abs=0.0006)
        assert contrast("#ffffff", colour) == contrast(colour, "#ffffff")
    assert grey("#ffffff") == "#ffffff"
    with pytest.raises(ValueError, match="is not a colour"):
        contrast("#fff", "#ffffff")


def test_a_colour_and_a_logo_are_read_and_the_logo_is_written_anew(tmp_path: Path) -> None:
    folder = read_club(club_with(tmp_path, f"  plate: '#1a4d2e'\n  logo: |\n    {LOGO}\n"))
    assert folder.problems == []
    style = folder.club.value.style
    assert style.plate == "#1a4d2e"
    assert style.logo is not None
    assert "onclick" not in style.logo
    assert 'r="9"' in style.logo


@pytest.mark.parametrize(
    ("style", "name", "message", "hint"),
    [
        ("  plate: green\n", "not-a-colour", '"green" is not a colour',
         'write six hexadecimal digits in quotes, as in "#1a4d2e"'),
        ("  plate: '#ffd200'\n", "pale-colour",
         "white figures stand out 1.5 to 1 on #ffd200; 4.5 to 1 is needed to read them", "take a darker one"),
        ("  plate: '#ff0000'\n", "pale-colour",
         "white figures stand out 4.0 to 1 on #ff0000; 4.5 to 1 is needed to read them", "take a darker one"),
        ("  plate: 'url(http://x.example)'\n", "not-a-colour", '"url(http://x.example)" is not a colour',
         'write six hexadecimal digits in quotes, as in "#1a4d2e"'),
        ("  logo: '<svg viewBox=\"0 0 9 9\"><image/></svg>'\n", "not-drawn-here", "a drawing may not hold <image>",
         "draw it with plain lines and shapes only"),
        ("  logo: logo.png\n", "not-a-drawing", "this is not SVG: syntax error: line 1, column 0",
         "paste the whole text of an .svg file"),
        ("  font: Comic\n", "unknown-key", '"font" is not a key known here', "known here: logo, plate"),
    ],
)  # fmt: skip
def test_what_is_not_taken_says_why(tmp_path: Path, style: str, name: str, message: str, hint: str) -> None:
    (problem,) = read_club(club_with(tmp_path, style)).problems
    assert (problem.name, problem.message, problem.hint) == (name, message, hint)


def test_the_plate_has_the_colour_and_nothing_else_changes() -> None:
    plain = sample_club()
    green = plain.model_copy(update={"style": plain.style.model_copy(update={"plate": "#1a4d2e"})})
    before, after = (leaf(sample_job(), club) for club in (plain, green))
    assert before.html == after.html
    assert after.css.count("#1a4d2e") == 1
    assert after.css.replace("background: #1a4d2e", "background: #000000") == before.css


def test_the_logo_stands_on_the_card_and_goes_into_no_parcel(tmp_path: Path) -> None:
    root = club_with(tmp_path, f"  logo: |\n    {LOGO}\n")
    folder = read_club(root)
    page = card(standing(folder, folder.engines["7A"], date(2030, 6, 10)), folder.club.value)
    assert 'width="36mm" height="18mm"' in page.html
    assert f"<title>{folder.club.value.club}</title>" in page.html
    assert "club.yaml" not in shared_files(folder)
