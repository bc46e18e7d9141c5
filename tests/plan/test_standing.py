"""Where an engine stands, worked out by hand from its past."""

from __future__ import annotations

from datetime import date
from fractions import Fraction
from pathlib import Path

import pytest

from docgen.plan.standing import Standing, standing
from docgen.returns.filing import Filed
from docgen.trade.limits import Verdict
from tests.plan.club_with_a_past import ON, folder_of, past

ROTOR = "Rotor - clean and regrease, revision 3"


@pytest.fixture(scope="module")
def filed(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, dict[str, Filed]]:
    root = tmp_path_factory.mktemp("past")
    return root, past(root)


@pytest.fixture(scope="module")
def one(filed: tuple[Path, dict[str, Filed]]) -> Standing:
    folder = folder_of(filed[0])
    return standing(folder, folder.engines["7A"], ON)


def test_hours_follow_the_corrections(one: Standing) -> None:
    assert one.state.hours == 4 + 2 + 3
    assert one.since_rebuilt == 2 + 3
    assert [(s.year, s.hours, s.days) for s in one.seasons] == [(2029, Fraction(5), 2)]


def test_owners_in_order(one: Standing) -> None:
    assert one.owners == ((date(2029, 3, 1), "Ágnes Őry"), (date(2029, 8, 1), "Bo Lind"))
    assert one.state.keeper == "Bo Lind"


def test_lives(one: Standing) -> None:
    assert [(life.item, life.number, life.used, life.left, life.fitted) for life in one.lives] == [
        ("rotor", "W-1", Fraction(5), Fraction(5), date(2029, 3, 2))
    ]


def test_readings_with_their_trend(one: Standing) -> None:
    (gap,) = one.measured
    assert [(float(r.at.hours), [str(v) for v in r.values]) for r in gap.readings] == [
        (4.0, ["0.30 mm"]),
        (6.0, ["0.34 mm"]),
        (9.0, ["0.40 mm"]),
    ]
    assert gap.verdict is Verdict.ACCEPT
    assert gap.new == 4
    assert gap.forecast is not None
    # The reading of the renewal itself does not count: 0.06 mm in 3 h, 0.05 mm are left.
    assert gap.forecast.left == pytest.approx(0.05 / (0.06 / 3))


def test_every_event_is_a_line_and_what_corrects_it_stands_beside_it(
    one: Standing, filed: tuple[Path, dict[str, Filed]]
) -> None:
    rows = [(line.day.isoformat(), line.hours, line.what, line.details, line.by, line.sheet) for line in one.lines]
    assert rows == [
        ("2029-03-02", 4, ROTOR, ("renewed: rotor (W-1)",), "Ágnes Őry", "7A-ROT-03-001-S1-I"),
        ("2029-03-02", 4, "rebuilt, approved by Club scrutineer", (), "Bo Lind", ""),
        ("2029-04-01", 6, "ran 2 h (8 x 15 min) at First", (), "", ""),
        ("2029-05-01", 6, ROTOR, ("found: Rubs a little",), "Ágnes Őry, with Bo Lind", ""),
        ("2029-06-01", 9, "ran 5 h", (), "", ""),
        ("2029-07-01", 9, ROTOR,
         ("seal of the side plate: S-100 off, S-101 on", "left blank: 1 box"), "Ágnes Őry", ""),
        ("2029-08-01", 9, "kept by Bo Lind from now on", (), "", ""),
        ("2030-02-01", None, "ran 1 h", (), "", ""),
    ]  # fmt: skip
    put = [line.corrected for line in one.lines if line.corrected]
    assert [(c.day.isoformat(), c.by, c.why, c.holds, c.details) for c in put] == [
        ("2030-02-02", "Bo Lind", "a nought too many", "ran 3 h", ()),
        ("2030-02-02", "Bo Lind", "read again", ROTOR, ("rotor gap: 0.40 mm, was 0.38 mm",)),
        ("2030-02-02", "Bo Lind", "another engine", "", ()),
    ]  # fmt: skip
    assert [line.digest for line in one.lines] == [each.digest for each in filed[1].values()]
    assert [line.what for line in one.lines if line.run] == ["ran 2 h (8 x 15 min) at First"]


def test_an_earlier_day_knows_nothing_of_later_ones(filed: tuple[Path, dict[str, Filed]]) -> None:
    folder = folder_of(filed[0])
    before = standing(folder, folder.engines["7A"], date(2029, 3, 1))
    assert (before.state.hours, before.rebuilt, before.since_rebuilt, before.lines, before.measured) == (
        4,
        None,
        None,
        (),
        (),
    )
    assert [(life.used, life.fitted) for life in before.lives] == [(4, None)]


def test_an_engine_of_unknown_age(filed: tuple[Path, dict[str, Filed]]) -> None:
    folder = folder_of(filed[0])
    other = standing(folder, folder.engines["8B"], ON)
    assert [(life.used, life.left, life.share) for life in other.lives] == [(None, None, 1.0)]
