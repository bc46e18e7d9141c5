"""``docgen kit`` and ``docgen mat`` as a member meets them, with the mistakes that members make."""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from docgen.cli.frame import docgen
from docgen.club.read import read_club
from docgen.club.schema.club import Club
from docgen.desk.choosing import Unclear
from docgen.desk.mat import Maker, boxed, flat, mats
from docgen.desk.selection import wanted_jobs
from tests.smallclub import texts, write

DAY_OF = date(2030, 4, 1)
DAY = ("--on", f"{DAY_OF}")
MODEL = "models/willow-80.yaml"
SIZES = {
    "side-plate: {": "side-plate: {shape: {kind: cover, length: 90 mm, width: 60 mm}, ",
    "plate-gasket: {": "plate-gasket: {shape: {kind: gasket, length: 90 mm, width: 60 mm}, ",
    "rotor: {held": "rotor: {shape: {kind: block, outer: 80 mm, inner: 12 mm, length: 20 mm}, held",
}
STOCK = """\
counted: 2030-03-20
parts:
  W-12: {on_hand: 1, price: 2.35, place: box 3}
  W-15: {on_hand: 0, price: 1.10}
materials:
  fluid: {on_hand: 1}
  paste: {on_hand: 2}
  lock: {on_hand: 1}
"""


def say(root: Path, *words: str) -> Result:
    return CliRunner().invoke(docgen, ["--club", str(root), *words], prog_name="docgen", catch_exceptions=False)


def sized() -> str:
    text = texts()[MODEL]
    for old, new in SIZES.items():
        assert old in text
        text = text.replace(old, new)
    return text


def printed(root: Path) -> list[str]:
    """Everything that was written, issued jobs included."""
    return sorted(
        path.relative_to(root).as_posix()
        for place in ("out", "engines")
        for path in (root / place).rglob("*")
        if path.is_file() and path.name != "engine.yaml" and not path.name.startswith(".")
    )


def club(root: Path, **changes: str) -> Path:
    """The small club in euros."""
    text = texts()["club.yaml"].replace("paper: A4\n", "paper: A4\ncurrency: EUR\n")
    return write(root, {"club.yaml": text, **changes})


# --- mat --------------------------------------------------------------------------------------------------------------


def test_a_part_without_a_size_is_named_and_nothing_is_printed(tmp_path: Path) -> None:
    result = say(write(tmp_path), "mat", "7A", "--job", "ROT", *DAY)
    assert result.exit_code == 1
    assert result.stdout == ""
    assert result.stderr == """\
models/willow-80.yaml:6:3 part-without-size: side-plate comes off in this job, and its size is not stated: the mat has no place for it
   6 |   side-plate: {held_by: [plate-screws], sealable: true}
     |   ^
       to mend: write shape: {kind: block, length: 60 mm, width: 40 mm} (or outer: for a round one), or print --box

models/willow-80.yaml:7:3 part-without-size: plate-gasket comes off in this job, and its size is not stated: the mat has no place for it
   7 |   plate-gasket: {single_use: true, number: W-12, behind: [side-plate]}
     |   ^
       to mend: write shape: {kind: block, length: 60 mm, width: 40 mm} (or outer: for a round one), or print --box

models/willow-80.yaml:8:3 part-without-size: rotor comes off in this job, and its size is not stated: the mat has no place for it
   8 |   rotor: {held_by: [rotor-nut], behind: [plate-gasket], life: 10 h}
     |   ^
       to mend: write shape: {kind: block, length: 60 mm, width: 40 mm} (or outer: for a round one), or print --box

3 faults, 0 notes
"""  # noqa: E501
    assert printed(tmp_path) == []


def test_a_box_needs_no_sizes(tmp_path: Path) -> None:
    result = say(write(tmp_path), "mat", "7A", "--job", "ROT", "--box", "3x3", *DAY)
    assert (result.exit_code, result.output) == (0, f"Box for ROT, 1 page: {tmp_path}/out/7A/7A-ROT-box.pdf\n")


def mats_of(
    root: Path, make: Callable[[Club], Maker], job: str = "ROT", box: bool = False
) -> tuple[list[str], list[str]]:
    """What is said of the mats of a job, laid out and not printed; and the jobs that need none."""
    folder = read_club(root)
    wanted = wanted_jobs(folder, ["7A"], [job], DAY_OF, say=print)
    wishes, bare = mats(folder, wanted, DAY_OF, root / "out", make(folder.club.value), box=box)
    return [wish.order.key for wish in wishes], bare


@pytest.mark.parametrize(("paper", "said"), [
    ("", "Mat for ROT on A3 (A4 does not hold its 6 places at full size)"),
    ("A4", "Mat for ROT, outlines at 80 %"),
    ("A3", "Mat for ROT on A3"),
])  # fmt: skip
def test_each_paper(tmp_path: Path, paper: str, said: str) -> None:
    assert mats_of(write(tmp_path, {MODEL: sized()}), lambda club: flat(club, paper)) == ([said], [])


@pytest.mark.parametrize(("plate", "rotor", "paper", "said"), [
    ("length: 40 mm, width: 30 mm", "outer: 40 mm", "", "Mat for ROT"),
    ("length: 90 mm, width: 60 mm", "outer: 120 mm", "A4", "Mat for ROT, outlines at 60 %"),
    ("length: 150 mm, width: 120 mm", "outer: 80 mm", "A4", "Mat for ROT, 2 large pieces beside it"),
    ("length: 500 mm, width: 120 mm", "outer: 40 mm", "", "Mat for ROT, 2 large pieces beside it"),
])  # fmt: skip
def test_small_and_large_pieces(tmp_path: Path, plate: str, rotor: str, paper: str, said: str) -> None:
    model = sized().replace("length: 90 mm, width: 60 mm", plate).replace("outer: 80 mm", rotor)
    assert mats_of(write(tmp_path, {MODEL: model}), lambda club: flat(club, paper)) == ([said], [])


@pytest.mark.parametrize(("make", "message"), [
    (lambda club: flat(club, "A5"), 'a mat is not printed on "A5"; this club can print it on A4 or A3'),
    (lambda club: boxed(club, None, "0x3", None), '--box "0x3" is not understood: two numbers from 1 to 20, as in 4x6'),
    (lambda club: boxed(club, "A3", "3x3", None), "a box is printed on A4: leave --paper out"),
    (lambda club: boxed(club, None, None, "40x30"), "--compartment goes with --box: say how many there are, as in"
     " --box 4x6"),
    (lambda club: boxed(club, None, "4x4", "90x30"), "4 by 4 compartments of 90 by 30 mm are larger than the 194 by 226"
     " mm that A4 leaves them: write fewer, or smaller ones"),
])  # fmt: skip
def test_words_that_are_not_understood(tmp_path: Path, make: Callable[[Club], Maker], message: str) -> None:
    with pytest.raises(Unclear) as caught:
        mats_of(write(tmp_path, {MODEL: sized()}), make, box=True)
    assert str(caught.value) == message


def test_what_is_not_understood_ends_the_command(tmp_path: Path) -> None:
    result = say(write(tmp_path), "mat", "7A", "--job", "ROT", "--box", "0x3", *DAY)
    assert result.exit_code == 2
    assert result.stderr.splitlines()[-1].startswith('Error: --box "0x3" is not understood')
    assert printed(tmp_path) == []


def test_a_job_that_takes_nothing_off(tmp_path: Path) -> None:
    steps = "\nstages:\n  - stage: Look\n    steps:\n      - do: Look.\n        look: {id: seen, accept: Whole.}\n"
    head = texts()["procedures/rotor-service.yaml"].partition("every:")[0]
    looked = head.replace("rotor-service", "look-round").replace("ROT", "LKR") + "every: {months: 6}" + steps
    root = write(tmp_path, {"procedures/look-round.yaml": looked})
    assert mats_of(root, flat, "LKR") == ([], ["LKR"])
    result = say(root, "mat", "7A", "--job", "LKR", *DAY)
    assert (result.exit_code, result.output) == (0, "Nothing comes off in LKR: it needs no mat.\n")
    assert printed(tmp_path) == []


# --- kit --------------------------------------------------------------------------------------------------------------


def test_the_kit_and_its_order(tmp_path: Path) -> None:
    root = club(tmp_path, **{"stock.yaml": STOCK})
    result = say(root, "kit", "--job", "ROT", *DAY)
    assert (result.exit_code, result.stderr) == (0, "")
    assert result.stdout == (
        f"Kit list, 2 pages: {tmp_path}/out/kit-ROT.pdf\nOrder, 2 lines, EUR 3.45: {tmp_path}/out/order-ROT.csv\n"
    )
    data = (tmp_path / "out/order-ROT.csv").read_bytes()
    assert data.startswith(b"\xef\xbb\xbf")
    rows = list(csv.reader(io.StringIO(data.decode("utf-8-sig"))))
    assert rows == [
        ["part_number", "name", "pack", "count", "price", "cost", "currency", "for"],
        ["W-12", "plate gasket", "", "1", "2.35", "2.35", "EUR", "7A-ROT 8B-ROT"],
        ["W-15", "spacer", "", "1", "1.10", "1.10", "EUR", "7A-ROT 8B-ROT"],
    ]
    assert printed(tmp_path) == ["out/kit-ROT.pdf", "out/order-ROT.csv"]


def test_the_kit_for_a_script(tmp_path: Path) -> None:
    result = say(club(tmp_path, **{"stock.yaml": STOCK}), "kit", "7A", "--job", "ROT", "--json", *DAY)
    said = json.loads(result.stdout)
    assert said["parts"] == [
        {"number": "W-12", "name": "plate gasket", "model": "Willow 80", "needed": 1, "at_hand": 0, "if_all_fail": 0,
         "on_hand": "1", "short": 0, "place": "box 3", "price": "2.35", "jobs": ["7A ROT"]},
        {"number": "W-15", "name": "spacer", "model": "Willow 80", "needed": 0, "at_hand": 1, "if_all_fail": 1,
         "on_hand": "0", "short": 1, "place": "", "price": "1.10", "jobs": ["7A ROT"]},
    ]  # fmt: skip
    assert (said["currency"], said["total"]) == ("EUR", "1.10")
    assert printed(tmp_path) == []


def test_a_currency_without_a_price(tmp_path: Path) -> None:
    root = club(tmp_path, **{"stock.yaml": STOCK.replace(", price: 2.35", "")})
    result = say(root, "kit", "--job", "ROT", *DAY)
    assert result.exit_code == 1
    assert result.stdout == ""
    assert result.stderr == """\
stock.yaml:3:3 no-price: plate gasket (W-12) is to be ordered and has no price in EUR
   3 |   W-12: {on_hand: 1, place: box 3}
     |   ^
       to mend: write its price: 12.50, or leave the cost out with --no-cost

1 fault, 0 notes
"""
    assert printed(tmp_path) == []
    assert say(root, "kit", "--job", "ROT", "--no-cost", *DAY).exit_code == 0


@pytest.mark.parametrize(("old", "new", "said"), [
    ("W-12", "W-21", 'stock.yaml:3:3 unknown-part-number: no engine type has a part with the number "W-21"'),
    ("on_hand: 1, price", "on_hnad: 1, price", 'stock.yaml:3:10 unknown-key: "on_hnad" is not a key known here'),
    ("paste", "pasta", 'stock.yaml:7:3 unknown-material: the register of club.yaml has no material called "pasta"'),
    ("fluid: {on_hand: 1}", "fluid: {on_hand: 1 mm}", "stock.yaml:6:20 wrong-dimension: fluid is not sold by length"),
    ("price: 2.35", "price: 2,35", "stock.yaml:3:"),
])  # fmt: skip
def test_a_stock_file_with_a_mistake(tmp_path: Path, old: str, new: str, said: str) -> None:
    assert old in STOCK
    result = say(club(tmp_path, **{"stock.yaml": STOCK.replace(old, new)}), "kit", "--job", "ROT", *DAY)
    assert result.exit_code == 1
    assert result.stderr.startswith(said), result.stderr
    assert result.stderr.endswith("1 fault, 0 notes\n"), result.stderr
    assert printed(tmp_path) == []


def test_nothing_due(tmp_path: Path) -> None:
    result = say(write(tmp_path), "kit", "--due", *DAY)
    assert result.exit_code == 0
