"""move and components as a member uses them, and a move that is cut off between its two logs."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from docgen.club.read import read_club
from docgen.returns import moving
from docgen.returns.filing import Filed, append_to
from tests.cli.record_club import log_of, numbered, on_the_day, say


@pytest.fixture
def root(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Both engines have run: 7A for an hour, 8B for half of one."""
    on_the_day(monkeypatch)
    root = numbered(tmp_path / "club")
    assert say(root, "ran", "7A", "1 h", "8B", "30", "--on", "2030-05-05", "--yes").exit_code == 0
    return root


def text(root: Path, engine: str) -> str:
    """The last event of an engine, without its parents."""
    name = next(name for name in log_of(root, engine) if "component" in name)
    return (root / "engines" / engine / "log" / name).read_text("utf-8").partition("parents:")[0]


def test_what_was_there_goes_to_the_shelf(root: Path) -> None:
    result = say(root, "move", "R-1", "8B", "--on", "2030-05-06", "--by", "Bo Lind", typed="y\n")
    (one,) = (name for name in log_of(root, "8B") if "component" in name)
    (two,) = (name for name in log_of(root, "7A") if "component" in name)
    assert (result.exit_code, result.stderr) == (0, "")
    assert (
        result.stdout
        == f"""\
On 2030-05-06:
  rotor R-1 (5.0 h) goes on engine 8B from engine 7A
  rotor R-2 (0.5 h in this record) comes off engine 8B and goes to the shelf
Write this into the record? [y/N]: y
Filed: engines/8B/log/{one}
Filed: engines/7A/log/{two}
"""
    )
    assert text(root, "8B") == (
        "event: component\ndate: 2030-05-06\nby: Bo Lind\ncomponent: rotor\nremoved: R-2\nfitted: R-1\ncame_from: 7A\n"
    )
    digest = next(e.digest for e in read_club(root).engines["8B"].log.entries if e.file == one)
    assert text(root, "7A") == (
        "event: component\ndate: 2030-05-06\nby: Bo Lind\ncomponent: rotor\nremoved: R-1\nto: 8B\n"
        f"counterpart: {digest}\n"
    )
    assert read_club(root).problems == []
    say(root, "ran", "8B", "2 h", "--on", "2030-05-07", "--yes")
    assert say(root, "components", "--on", "2030-06-01").stdout == (
        "rotor            R-1          engine 8B since 2030-05-06     7.0 h since new\n"
        "rotor            R-2          shelf since 2030-05-06         0.5 h in this record; not known before\n"
    )
    assert say(root, "components", "R-1", "--on", "2030-06-01").stdout == (
        "rotor R-1: 7.0 h since new\n"
        "  engine 7A     2029-03-01 to 2030-05-06 1.0 h\n"
        "  engine 8B     2030-05-06 to now        2.0 h\n"
    )


def test_from_the_shelf_back_to_an_engine(root: Path) -> None:
    say(root, "move", "R-1", "8B", "--on", "2030-05-06", "--yes")
    result = say(root, "move", "R-2", "7A", "--on", "2030-05-07", "--yes")
    assert result.stdout.splitlines()[1] == "  rotor R-2 (0.5 h in this record) goes on engine 7A"
    found = json.loads(say(root, "components", "R-2", "--json", "--on", "2030-06-01").stdout)
    assert found == [
        {
            "part": "rotor", "number": "R-2", "engine": "7A", "hours_since_new": None, "hours_recorded": 0.5,
            "stints": [
                {"engine": "8B", "since": "2030-02-01", "until": "2030-05-06", "hours": 0.5},
                {"engine": "7A", "since": "2030-05-07", "until": None, "hours": 0.0},
            ],
        }
    ]  # fmt: skip


def test_a_swap_is_one_command_and_both_sheets_show_it(root: Path) -> None:
    assert say(root, "move", "R-1", "8B", "--swap", "--on", "2030-05-06", "--yes").exit_code == 0
    folder = read_club(root)
    assert folder.problems == []
    for engine, number in (("7A", "R-2"), ("8B", "R-1")):
        say(root, "print", engine, "--job", "ROT", "--on", "2030-05-06")
        (frozen,) = (root / "engines" / engine / "issued").glob("*.yaml")
        assert f"    rotor: {number}\n" in frozen.read_text("utf-8")


def test_off_to_the_shelf_and_a_new_one(root: Path) -> None:
    result = say(root, "move", "R-1", "shelf", "--on", "2030-05-06", "--yes")
    assert result.stdout.splitlines()[1] == "  rotor R-1 (5.0 h) comes off engine 7A and goes to the shelf"
    result = say(root, "move", "R-9", "7A", "--part", "rotor", "--hours", "0 h", "--on", "2030-05-07", "--yes")
    assert result.stdout.splitlines()[1] == "  rotor R-9 (0 h when it came) goes on engine 7A"
    assert "rotor            R-9          engine 7A since 2030-05-07     0.0 h since new\n" in (
        say(root, "components", "--on", "2030-06-01").stdout
    )


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["r-1", "7A"], 'refused unknown-component: the record knows no component r-1\n    did you mean "R-1"?'),
        (["XX", "7A"], "refused unknown-component: the record knows no component XX\n"
         "    for a new one say what it is: --part carburettor"),
        (["R-1", "7A"], "refused there-already: rotor R-1 is on engine 7A already"),
        (["XX", "7A", "--part", "coil"], "refused not-on-this-model: Willow 80 has no part called coil"),
        (["XX", "shelf", "--part", "rotor"], "refused not-on-an-engine: rotor XX is on no engine"),
        (["XX", "7A", "--part", "rotor", "--swap"],
         "refused nothing-to-swap: rotor XX is on no engine, so nothing can be swapped\n    leave --swap out"),
        (["XX", "7A", "--part", "rotor", "--hours", "3"],
         'refused no-unit: "3" has no unit\n    write it after the figure, as in 3 h'),
        (["R-1", "8B", "--on", "2030-06-11"], "refused date-in-future: 2030-06-11 has not come yet"),
    ],
)  # fmt: skip
def test_what_cannot_be_moved(root: Path, words: list[str], said: str) -> None:
    result = say(root, "move", *words, *(() if "--on" in words else ("--on", "2030-05-06")), "--yes")
    assert result.exit_code == 1
    assert f"  {said}" in result.stdout
    assert result.stdout.endswith("Nothing was written.\n")
    assert len(log_of(root, "7A") + log_of(root, "8B")) == 2


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ([], "say which component goes where, as in: docgen move LC-2231 042"),
        (["R-1"], "say which component goes where, as in: docgen move LC-2231 042"),
        (["R-1", "7C"], 'there is no engine "7C"; known: 7A, 8B'),
        (["R-1", "8B", "--finish"], "--finish stands alone"),
    ],
)
def test_what_is_not_understood(root: Path, words: list[str], said: str) -> None:
    result = say(root, "move", *words)
    assert (result.exit_code, result.stderr.splitlines()[-1]) == (2, f"Error: {said}")


def test_a_move_is_not_slipped_in_before_a_later_one(root: Path) -> None:
    say(root, "move", "R-1", "8B", "--swap", "--on", "2030-05-08", "--yes")
    result = say(root, "move", "R-1", "shelf", "--on", "2030-05-06", "--yes")
    assert result.stdout.startswith("  refused moved-later: on 2030-05-08 the rotor of engine 8B was moved again\n")


@pytest.fixture
def cut_off(root: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The club after a swap that was killed between its two logs."""

    class Killed(BaseException):
        pass

    written: list[Filed] = []

    def dies(*words: object) -> Filed:
        if written:
            raise Killed
        written.append(append_to(*words))  # type: ignore[arg-type]
        return written[0]

    with monkeypatch.context() as patched:
        patched.setattr(moving, "append_to", dies)
        with pytest.raises(Killed):
            say(root, "move", "R-1", "8B", "--swap", "--on", "2030-05-06", "--by", "Bo Lind", "--yes")
    assert len(log_of(root, "8B")) == 2
    assert len(log_of(root, "7A")) == 1
    return root


def test_a_move_that_was_cut_off_is_named_stops_both_engines_and_is_finished(cut_off: Path) -> None:
    (one,) = (name for name in log_of(cut_off, "8B") if "component" in name)
    shown = f"""\
engines/7A/log unfinished-move: a move between engines 8B and 7A was cut off: engines/8B/log/{one} is its one half
       to mend: docgen move --finish writes what is missing

engines/8B/log/{one}:1:1 unfinished-move: this move between engines 8B and 7A was cut off: \
the log of 7A does not know of it
   1 | event: component
     | ^
       to mend: docgen move --finish writes what is missing

2 faults, 0 notes
"""
    result = say(cut_off, "verify")
    assert (result.exit_code, result.stderr) == (1, shown)
    for engine in ("7A", "8B"):
        assert "unfinished-move" in say(cut_off, "print", engine, "--job", "ROT", "--on", "2030-05-07").stderr
        assert "unfinished-move" in say(cut_off, "ran", engine, "12", "--on", "2030-05-07", "--yes").stderr
    assert "unfinished-move" in say(cut_off, "move", "R-2", "shelf", "--on", "2030-05-07", "--yes").stderr
    result = say(cut_off, "move", "--finish")
    (two,) = (name for name in log_of(cut_off, "7A") if "component" in name)
    assert (result.exit_code, result.stdout) == (0, f"Filed: engines/7A/log/{two}\n")
    assert text(cut_off, "7A").startswith(
        "event: component\ndate: 2030-05-06\nby: Bo Lind\ncomponent: rotor\nremoved: R-1\nto: 8B\nfitted: R-2\n"
        "came_from: 8B\ncounterpart: "
    )
    assert read_club(cut_off).problems == []
    assert say(cut_off, "verify").exit_code == 0
    assert say(cut_off, "move", "--finish").stdout == "No move was cut off.\n"


def test_finishing_twice_at_once_writes_it_once(cut_off: Path) -> None:
    folder = read_club(cut_off)
    assert [filed.new for filed in moving.finish(cut_off, folder)] == [True]
    assert [filed.new for filed in moving.finish(cut_off, folder)] == [False]
    assert len(log_of(cut_off, "7A")) == 2


def test_a_disk_that_is_full_in_the_middle_says_what_to_do(root: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    written: list[Filed] = []

    def full(*words: object) -> Filed:
        if written:
            raise OSError(28, "No space left on device")
        written.append(append_to(*words))  # type: ignore[arg-type]
        return written[0]

    monkeypatch.setattr(moving, "append_to", full)
    result = say(root, "move", "R-1", "8B", "--on", "2030-05-06", "--yes")
    assert result.exit_code == 1
    assert result.stdout.endswith(
        "  refused half-written: engine 8B has the move, the other has not: the disk is full: the move of the rotor "
        "was not written\n    docgen move --finish writes the other half\n"
    )


def test_somebody_who_moved_it_meanwhile_is_not_undone(root: Path) -> None:
    folder = read_club(root)
    move = moving.planned(folder, "R-1", "8B", folder.engines["7A"].log.entries[0].event.date)
    say(root, "move", "R-1", "shelf", "--on", "2030-05-06", "--yes")
    with pytest.raises(Exception, match="somebody has just moved the rotor of engine 7A"):
        moving.file_move(root, folder, move)
    assert len(log_of(root, "8B")) == 1


def test_one_number_on_two_engines_is_an_error_of_both(tmp_path: Path) -> None:
    root = numbered(tmp_path)
    path = root / "engines/8B/engine.yaml"
    path.write_text(path.read_text("utf-8").replace("R-2", "R-1"), "utf-8")
    problems = read_club(root).problems
    assert [(p.path, p.name, p.message) for p in problems] == [
        (f"engines/{e}/engine.yaml", "component-twice", "rotor R-1 is on engines 7A and 8B at once")
        for e in ("7A", "8B")
    ]
