"""``docgen labels`` as a member meets it: what it prints, and the mistakes that members make."""

from __future__ import annotations

import io
from pathlib import Path

import pypdf
import pytest

from tests.cli.record_club import numbered, on_the_day, say
from tests.smallclub import write

DAY = ("--on", "2030-06-10")
OWN = """\
sheets:
  bench-roll: {paper: A4, columns: 2, rows: 5, width: 90 mm, height: 50 mm, left: 12 mm, top: 20 mm}
"""


def text(path: Path) -> str:
    pages = pypdf.PdfReader(io.BytesIO(path.read_bytes())).pages
    return " ".join(" ".join(page.extract_text().split()) for page in pages)


def files(root: Path) -> list[str]:
    return sorted(p.relative_to(root).as_posix() for p in (root / "out").rglob("*") if p.is_file())


def test_one_bag_a_stage_and_one_for_the_old_parts(tmp_path: Path) -> None:
    root = write(tmp_path)
    result = say(root, "labels", "parts", "7A", "--job", "ROT", "--start", "5", *DAY)
    path = root / "out/7A/7A-labels-parts.pdf"
    assert (result.exit_code, result.output) == (0, f"2 labels (parts) from position 5, 1 page: {path}\n")
    assert text(path) == (
        "7A ROT 1–4 Open Rows 1 to 4, ROT revision 3 Goes back: 3 × plate screws (1), side plate (2), rotor nut (3),"
        " rotor (4). New if its check fails: spacer (4). Old, a new one goes back: plate gasket (2)."
        " Came off 10 June 2030"
        " DO NOT REFIT 7A ROT Old parts: new ones were fitted plate gasket (2, W-12) Came off 10 June 2030"
    )


def test_what_new_ones_replace_is_not_to_be_refitted(tmp_path: Path) -> None:
    root = write(tmp_path)
    result = say(root, "labels", "old", "7A", "--job", "ROT", "--blank", "1", *DAY)
    assert result.exit_code == 0, result.output
    assert text(root / "out/7A/7A-labels-old.pdf") == (
        "DO NOT REFIT 7A ROT Old parts: new ones were fitted plate gasket (2, W-12) Came off 10 June 2030"
        " DO NOT REFIT Engine What Why"
    )


def test_kept_spares_with_their_hours(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    root = numbered(tmp_path)
    on_the_day(monkeypatch)
    none = say(root, "labels", "spares", *DAY)
    assert (none.exit_code, none.output) == (
        0, "No numbered component lies on the shelf on 2030-06-10; --blank 4 gives labels to write on.\n"
    )  # fmt: skip
    moved = say(root, "move", "R-1", "shelf", "--by", "Bo", "--yes", *DAY)
    assert moved.exit_code == 0, moved.output
    result = say(root, "labels", "spares", *DAY)
    assert result.exit_code == 0, result.output
    assert text(root / "out/labels-spares.pdf") == "KEPT SPARE R-1 Rotor 4.0 h since new Off engine 7A, 10 June 2030"
    on = say(root, "labels", "spares", "R-2", *DAY)
    assert on.exit_code == 2
    assert on.stderr.splitlines()[-1] == (
        "Error: R-2 is on engine 8B, not on the shelf: docgen move enters where it goes"
    )


def test_a_can_of_fuel(tmp_path: Path) -> None:
    root = write(tmp_path)
    result = say(root, "labels", "fuel", "--litres", "10", "--ratio", "24", "--by", "Ada", "--copies", "2", *DAY)
    assert result.exit_code == 0, result.output
    one = (
        "FUEL MIX 10 l petrol + 417 ml oil 24 : 1, parts of petrol to one of oil Mixed 10 June 2030 · By Ada"
        " Extremely flammable. Keep from flame and spark, closed, in the open air. Not to be swallowed."
    )
    assert text(root / "out/labels-fuel.pdf") == f"{one} {one}"


def test_the_tag_says_what_is_loose(tmp_path: Path) -> None:
    root = write(tmp_path)
    result = say(root, "labels", "tag", "7A", "--job", "ROT", "--after", "9", "--by", "Bo", *DAY)
    assert result.exit_code == 0, result.output
    assert text(root / "out/7A/7A-labels-tag.pdf") == (
        "DO NOT START 7A ROT Stopped after row 9 Rotor - clean and regrease, ROT revision 3 Off: side plate, plate"
        " gasket, rotor, 3 × plate screws, rotor nut. Parts are off or loose. It would be wrecked, and may hurt whoever"
        " stands by. By Bo, 10 June 2030 Only who put this tag on takes it off, after the last row and the closing"
        " checks. Not before the time written here: Threadlocker cures. Not before (day, time)"
    )


def test_the_tag_of_a_job_that_is_closed_but_not_done(tmp_path: Path) -> None:
    root = write(tmp_path)
    assert say(root, "labels", "tag", "7A", "--job", "ROT", "--after", "18", *DAY).exit_code == 0
    assert text(root / "out/7A/7A-labels-tag.pdf") == (
        "DO NOT START 7A ROT Stopped after row 18 Rotor - clean and regrease, ROT revision 3 Nothing is off or loose;"
        " the job is not done. Only who put this tag on takes it off, after the last row and the closing checks."
        " Not before the time written here: Threadlocker cures. Not before (day, time) By Day and time"
    )


def test_the_tag_to_fill_in_by_hand(tmp_path: Path) -> None:
    root = write(tmp_path)
    assert say(root, "labels", "tag", "7A", *DAY).exit_code == 0
    assert text(root / "out/7A/7A-labels-tag.pdf").endswith(
        "Job Stopped after row Off or loose Not before (day, time) By Day and time"
    )


@pytest.mark.parametrize(("words", "message"), [
    (["parts", "7A", "--job", "ROT", "--sheet", "3x9"], 'there is no label sheet "3x9";'
     " docgen labels sheets lists them"),
    (["parts", "7A", "--job", "ROT", "--start", "22"], "a sheet of 2x4 has positions 1 to 8: 22 is not one of them"),
    (["tag", "7A", "--job", "ROT"], "--job and --after go together: which job stopped, and after which of its rows"),
    (["tag", "7A", "--job", "ROT", "--after", "40"], "ROT on engine 7A: the job has rows 1 to 18, and no 40"),
    (["fuel", "--litres", "10"], "--litres and --ratio go together: how much oil there is follows from both"),
    (["fuel", "--litres", "ten", "--ratio", "25"], '--litres "ten" is not a number: write digits with a point, as in'
     " 12.5"),
    (["fuel", "--litres", "10", "--ratio", "2"], "ratio is 2; it must lie between 10 and 100"),
    (["spares", "R-9"], 'there is no component "R-9"; docgen components lists them'),
])  # fmt: skip
def test_words_that_are_not_understood(tmp_path: Path, words: list[str], message: str) -> None:
    root = write(tmp_path)
    result = say(root, "labels", *words, *DAY)
    assert result.exit_code == 2
    assert result.stderr.splitlines()[-1] == f"Error: {message}"
    assert files(root) == []


def test_the_club_s_own_sheet(tmp_path: Path) -> None:
    root = write(tmp_path, {"labels.yaml": OWN})
    assert say(root, "labels", "parts", "7A", "--job", "ROT", "--sheet", "bench-roll", *DAY).exit_code == 0
    listed = say(root, "labels", "sheets").output.splitlines()
    assert listed[-1] == "bench-roll A4      2 by 5 labels of 90 by 50 mm; the first 12 mm from the left, 20 mm down"


def test_a_grid_wider_than_the_page(tmp_path: Path) -> None:
    root = write(tmp_path, {"labels.yaml": OWN.replace("columns: 2", "columns: 3")})
    result = say(root, "labels", "parts", "7A", "--job", "ROT", *DAY)
    assert result.exit_code == 1
    assert result.stderr == """\
labels.yaml:2:36 grid-wider-than-page: bench-roll: 3 labels reach 282.0 mm across, and A4 is 210 mm wide
   2 |   bench-roll: {paper: A4, columns: 3, rows: 5, width: 90 mm, height: 50 mm, left: 12 mm, top: 20 mm}
     |                                    ^
       to mend: measure the label sheet: left and top to the first label, across and down from edge to edge

1 fault, 0 notes
"""
    assert files(root) == []


def test_a_typing_mistake_in_the_club_s_sheets(tmp_path: Path) -> None:
    root = write(tmp_path, {"labels.yaml": OWN.replace("height: 50 mm", "height: 50")})
    result = say(root, "labels", "sheets")
    assert result.exit_code == 1
    assert result.stderr.startswith("labels.yaml:2:70 no-unit:"), result.stderr
