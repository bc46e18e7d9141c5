"""Two copies of a folder, the same thing entered in both: said after the merge, and one of them struck out."""

from __future__ import annotations

import shutil
from fractions import Fraction
from pathlib import Path

import pytest

from docgen.club.read import read_club
from docgen.club.schema.event import Run
from docgen.job.components import components
from docgen.job.state import state_of
from docgen.returns import correcting
from docgen.returns.filing import Filed, append_to, file_event, file_service
from docgen.returns.verify import verify
from tests.cli.record_club import TODAY, log_of, numbered, on_the_day, say

ON = ("--on", "2030-06-10")
RUN = {"event": "run", "date": "2030-05-04", "hours": "36 min", "by": "Bo Lind"}


@pytest.fixture
def one(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    on_the_day(monkeypatch)
    root = numbered(tmp_path / "one")
    engine = (root / "engines/8B/engine.yaml").read_text("utf-8")
    (root / "engines/9C").mkdir()
    (root / "engines/9C/engine.yaml").write_text(engine.replace("8B", "9C").replace("R-2", "R-3"), "utf-8")
    for number in ("7A", "8B", "9C"):
        file_event(root, number, {"event": "run", "date": "2030-05-01", "hours": "10 min"})
    return root


@pytest.fixture
def other(one: Path, tmp_path: Path) -> Path:
    return Path(shutil.copytree(one, tmp_path / "other"))


def merge(into: Path, came: Path) -> None:
    """What git does with files that are only ever added."""
    for path in came.rglob("*"):
        if path.is_file() and not (into / path.relative_to(came)).exists():
            place = into / path.relative_to(came)
            place.parent.mkdir(parents=True, exist_ok=True)
            shutil.copy(path, place)


def hours(root: Path, engine: str = "7A") -> Fraction:
    return state_of(read_club(root).engines[engine], TODAY).hours


def twice(root: Path, engine: str = "7A") -> list[str]:
    return [p.message for p in verify(root, engine).problems if p.name in ("said-twice", "sheet-twice")]


@pytest.fixture
def run_twice(one: Path, other: Path) -> Path:
    file_event(one, "7A", RUN)
    file_event(other, "7A", {**RUN, "by": "Ágnes Őry", "sessions": "3 x 12 min"})
    merge(one, other)
    return one


def test_a_running_that_both_entered_is_said_and_struck_out(run_twice: Path) -> None:
    both = read_club(run_twice).engines["7A"].log
    first, second = (entry.file for entry in both.entries[1:])
    assert hours(run_twice) == Fraction(4) + Fraction(82, 60)
    assert twice(run_twice) == [
        f"the running of 36 min on 2030-05-04 was filed twice, apart: it is also {first}, and both count"
    ]
    result = say(run_twice, "join", *ON, typed="y\ny\n")
    assert result.exit_code == 0, result.output
    names = {entry.file: entry.event.by for entry in both.entries}
    assert result.stdout.splitlines()[5:9] == [
        "The running of 36 min on 2030-05-04 was filed twice:", f"  1  {first}, by {names[first]}",
        f"  2  {second}, by {names[second]}", "Is it one and the same, so that 2 is struck out? [y/N]: y",
    ]  # fmt: skip
    assert hours(run_twice) == Fraction(4) + Fraction(46, 60)
    assert (twice(run_twice), say(run_twice, "verify").exit_code) == ([], 0)
    assert say(run_twice, "join").stdout == "Nothing was filed apart.\n"


def test_who_says_that_both_stand_is_not_asked_again(run_twice: Path) -> None:
    assert say(run_twice, "join", *ON, typed="n\ny\n").exit_code == 0
    assert hours(run_twice) == Fraction(4) + Fraction(82, 60)
    assert (twice(run_twice), say(run_twice, "verify").exit_code) == ([], 0)
    assert say(run_twice, "join").stdout == "Nothing was filed apart.\n"


def test_yes_alone_settles_nothing(run_twice: Path) -> None:
    before = log_of(run_twice, "7A")
    result = say(run_twice, "join", *ON, "--yes")
    assert (result.exit_code, log_of(run_twice, "7A")) == (1, before)
    assert "--twice strike takes the second of each out, --twice keep lets both stand" in result.stdout
    assert say(run_twice, "join", *ON, "--yes", "--twice", "strike").exit_code == 0
    assert hours(run_twice) == Fraction(4) + Fraction(46, 60)


def test_a_filing_that_follows_both_does_not_settle_it(run_twice: Path) -> None:
    """Whoever files next joins the ends without having been asked."""
    file_event(run_twice, "7A", {"event": "run", "date": "2030-05-08", "hours": "5 min"})
    assert len(read_club(run_twice).engines["7A"].log.heads) == 1
    assert len(twice(run_twice)) == 1
    result = say(run_twice, "join", *ON, "--yes", "--twice", "strike")
    assert result.stdout.startswith("Engine 7A: joined, with something twice\n")
    assert (hours(run_twice), twice(run_twice)) == (Fraction(4) + Fraction(51, 60), [])


def test_what_is_not_the_same_is_not_said(one: Path, other: Path) -> None:
    file_event(one, "7A", {**RUN, "meeting": "Practice"})
    file_event(other, "7A", {**RUN, "meeting": "Race"})
    file_event(one, "8B", RUN)
    file_event(other, "8B", {**RUN, "hours": "37 min"})
    file_event(one, "9C", RUN)
    file_event(one, "9C", {**RUN, "note": "again, in the evening"})
    merge(one, other)
    assert [twice(one, engine) for engine in ("7A", "8B", "9C")] == [[], [], []]


def test_a_sheet_and_a_finding_that_both_filed(one: Path, other: Path) -> None:
    service = {"event": "service", "date": "2030-05-06", "procedure": "rotor-service", "revision": "3",
               "issue": "c" * 64}  # fmt: skip
    for root, by in ((one, "Bo Lind"), (other, "Ágnes Őry")):
        file_service(root, "7A", {**service, "by": by})
        file_event(root, "7A", {"event": "finding", "date": "2030-05-06", "finding": "Weeps oil", "by": by})
    merge(one, other)
    assert len(twice(one)) == 2
    result = say(one, "join", *ON, "--yes", "--twice", "strike")
    assert result.exit_code == 0, result.output
    state = state_of(read_club(one).engines["7A"], TODAY)
    assert (len(state.services["rotor-service"]), len(state.findings), twice(one)) == (1, 1, [])


def test_the_same_move_in_both_is_struck_out_of_both_logs(one: Path, other: Path) -> None:
    for root, by in ((one, "Bo"), (other, "Ada")):
        assert say(root, "move", "R-1", "8B", "--on", "2030-05-06", "--by", by, "--yes").exit_code == 0
    merge(one, other)
    assert [len(twice(one, engine)) for engine in ("7A", "8B")] == [1, 1]
    assert say(one, "join", *ON, "--yes", "--twice", "strike").exit_code == 0
    assert [twice(one, engine) for engine in ("7A", "8B")] == [[], []]
    assert say(one, "verify").exit_code == 0
    stints = components(read_club(one), TODAY)["rotor", "R-1"].stints
    assert [(s.engine, s.until is None) for s in stints] == [("7A", False), ("8B", True)]


def test_the_very_same_first_half_with_two_answers(one: Path, other: Path) -> None:
    """Both wrote the same bytes into the log of 8B; the log of 7A differed by a run."""
    file_event(other, "7A", {"event": "run", "date": "2030-05-02", "hours": "5 min"})
    for root in (one, other):
        assert say(root, "move", "R-1", "8B", "--on", "2030-05-06", "--yes").exit_code == 0
    merge(one, other)
    assert [len(twice(one, engine)) for engine in ("7A", "8B")] == [1, 0]
    assert say(one, "join", *ON, "--yes", "--twice", "strike").exit_code == 0
    assert (say(one, "verify").exit_code, places(one)) == (0, {"7A": "", "8B": "R-1", "9C": "R-3"})


@pytest.fixture
def two_places(one: Path, other: Path) -> Path:
    """Both moved rotor R-1 off 7A, one to 8B, the other to 9C."""
    assert say(one, "move", "R-1", "8B", "--on", "2030-05-06", "--by", "Bo", "--yes").exit_code == 0
    assert say(other, "move", "R-1", "9C", "--on", "2030-05-06", "--by", "Ada", "--yes").exit_code == 0
    merge(one, other)
    return one


def places(root: Path) -> dict[str, str]:
    folder = read_club(root)
    return {engine: state_of(record, TODAY).components.get("rotor", "") for engine, record in folder.engines.items()}


@pytest.mark.parametrize(("answer", "then"), [("1", {"7A": "", "8B": "R-1", "9C": "R-3"}),
                                              ("2", {"7A": "", "8B": "R-2", "9C": "R-1"})])  # fmt: skip
def test_a_component_on_two_engines_is_asked_about(two_places: Path, answer: str, then: dict[str, str]) -> None:
    blocked = say(two_places, "ran", "8B", "5", "--on", "2030-05-09", "--yes")
    assert "to mend: docgen join asks which move stands" in blocked.stderr
    result = say(two_places, "join", *ON, typed=f"{answer}\ny\ny\ny\n")
    assert result.exit_code == 0, result.output
    assert result.stdout.startswith("rotor R-1 was moved to 2 engines:\n  1  to engine 8B on 2030-05-06: ")
    assert places(two_places) == then
    assert say(two_places, "verify").exit_code == 0, say(two_places, "verify").output
    assert say(two_places, "ran", "8B", "5", *ON, "--yes").exit_code == 0


def test_it_is_put_right_by_hand_too(two_places: Path) -> None:
    name = next(name for name in log_of(two_places, "9C") if "component" in name)
    assert "strike the wrong one out, as in docgen correct" in say(two_places, "join", *ON, "--yes").stdout
    result = say(two_places, "correct", "9C", name, "--strike", "--why", "it went to 8B", *ON, "--yes")
    assert (result.exit_code, result.stdout.count("Filed: ")) == (0, 2), result.output
    assert places(two_places) == {"7A": "", "8B": "R-1", "9C": "R-3"}


def test_a_strike_that_was_cut_off_is_finished(two_places: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    written: list[Filed] = []

    def full(*words: object) -> Filed:
        if written:
            raise OSError(28, "No space left on device")
        written.append(append_to(*words))  # type: ignore[arg-type]
        return written[0]

    name = next(name for name in log_of(two_places, "9C") if "component" in name)
    with monkeypatch.context() as patch:
        patch.setattr(correcting, "append_to", full)
        result = say(two_places, "correct", "9C", name, "--strike", "--why", "it went to 8B", *ON, "--yes")
    assert (result.exit_code, "refused half-written: engine 9C has the correction" in result.stdout) == (1, True)
    problems = [p for p in read_club(two_places).problems if p.name == "unfinished-move"]
    assert [(p.message, p.hint) for p in problems] == [
        ("the move that this event answers was struck out in the log of 9C, and here it was not",
         "docgen move --finish strikes it out too"),
    ]  # fmt: skip
    assert say(two_places, "move", "--finish").exit_code == 0
    assert places(two_places) == {"7A": "", "8B": "R-1", "9C": "R-3"}
    assert [p for p in read_club(two_places).problems if p.level == "error"] == []
    assert say(two_places, "move", "--finish").stdout == "No move was cut off.\n"


def test_hours_of_each_run_count_once_it_is_settled(run_twice: Path) -> None:
    assert say(run_twice, "join", *ON, "--yes", "--twice", "strike").exit_code == 0
    assert len(read_club(run_twice).engines["7A"].log.of(Run)) == 2
