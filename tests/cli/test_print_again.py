"""Printing again: what did not change is not printed, what did is, and nothing that was edited is taken for whole."""

from __future__ import annotations

import json
import os
import shutil
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from docgen.cli._stamps import PLACE as STAMPS
from docgen.cli.frame import docgen
from docgen.club.schema.club import Club
from docgen.job.issue import issue
from docgen.job.job import Job
from docgen.press.journal import PLACE as JOURNAL
from docgen.sheets.leaf import leaf
from docgen.sheets.page import Page
from tests.cli.test_print import FAULTY
from tests.smallclub import write

DUE = ("print", "--due", "--on", "2030-04-01")
SHEETS = ["7A/7A-ROT-leaf.pdf", "7A/7A-ROT-sign-off.pdf", "8B/8B-ROT-leaf.pdf", "8B/8B-ROT-sign-off.pdf"]


def say(root: Path, *words: str) -> Result:
    result = CliRunner().invoke(docgen, ["--club", str(root), *words], prog_name="docgen", catch_exceptions=False)
    assert result.exit_code == 0, result.output
    return result


@pytest.fixture(scope="module")
def printed(tmp_path_factory: pytest.TempPathFactory) -> Path:
    root = write(tmp_path_factory.mktemp("club"))
    say(root, *DUE)
    return root


@pytest.fixture
def club(printed: Path, tmp_path: Path) -> Path:
    """The printed club, and the stamp of a run without any change."""
    shutil.copytree(printed, tmp_path / "club")
    say(tmp_path / "club", *DUE)
    return tmp_path / "club"


def times(root: Path) -> dict[str, int]:
    return {name: (root / "out" / name).stat().st_mtime_ns for name in SHEETS}


def written(root: Path, *words: str) -> list[str]:
    """The sheets that a command writes anew."""
    before = times(root)
    say(root, *(words or DUE))
    return [name for name, at in times(root).items() if at != before[name]]


def test_a_run_without_a_change_does_nothing_and_says_so(club: Path) -> None:
    before = times(club)
    result = say(club, *DUE)
    lie = f"4 sheets on {_pages(club)} pages lie in {club}/out/ as they were printed"
    assert result.output == f"Nothing changed: {lie}, as of 2030-04-01.\n"
    assert times(club) == before


def _pages(root: Path) -> int:
    return sum(one["pages"] for one in json.loads(say(root, *DUE, "--json").stdout))


def stamp(root: Path) -> Path:
    """The stamp of a club where it lies now: the one that came with the copy is older."""
    found = list((root / "out" / STAMPS).iterdir())
    assert len(found) == 2
    return max(found, key=lambda one: one.stat().st_mtime_ns)


def test_it_says_the_same_to_a_script(club: Path) -> None:
    now = json.loads(say(club, *DUE, "--json").stdout)
    stamp(club).unlink()
    assert json.loads(say(club, *DUE, "--json").stdout) == now
    assert [one["path"] for one in now] == [f"{club}/out/{name}" for name in SHEETS]


def test_an_engine_that_changed_reprints_its_own_sheets(club: Path) -> None:
    path = club / "engines/7A/engine.yaml"
    text = path.read_text("utf-8")
    assert "Ágnes" in text
    path.write_text(text.replace("Ágnes", "Agnes"), "utf-8")
    assert written(club) == SHEETS[:2]
    assert written(club) == []


@pytest.mark.parametrize("sheet", SHEETS[:2])
def test_a_file_that_was_edited_or_is_gone_is_printed_again(club: Path, sheet: str) -> None:
    path = club / "out" / sheet
    data = path.read_bytes()
    told = path.stat()
    path.write_bytes(data[:-20] + b" " * 20)
    os.utime(path, ns=(told.st_atime_ns, told.st_mtime_ns))
    say(club, *DUE)
    assert path.read_bytes() == data
    path.unlink()
    say(club, *DUE)
    assert path.read_bytes() == data


def test_an_edit_that_keeps_size_and_time_is_noticed(club: Path) -> None:
    path = club / "engines/7A/engine.yaml"
    told, text = path.stat(), path.read_text("utf-8")
    path.write_text(text.replace("Ágnes", "Ágner"), "utf-8")
    os.utime(path, ns=(told.st_atime_ns, told.st_mtime_ns))
    assert written(club) == SHEETS[:2]


def test_another_day_or_another_text_is_another_print(club: Path) -> None:
    assert written(club, "print", "--due", "--on", "2030-04-02") == SHEETS
    (path,) = (club / "procedures").glob("rotor*.yaml")
    path.write_text(path.read_text("utf-8").replace("revision: 3", "revision: 4"), "utf-8")
    assert written(club, "print", "--due", "--on", "2030-04-02") == SHEETS


@pytest.mark.parametrize("place", [STAMPS, JOURNAL])
@pytest.mark.parametrize("damage", [b"", b"{", b"[1, 2]\n\xff\xfe\n", b'{"a": 1}'])
def test_what_is_kept_may_be_damaged_or_lost(club: Path, place: str, damage: bytes) -> None:
    before = {name: (club / "out" / name).read_bytes() for name in SHEETS}
    (stamp(club) if place == STAMPS else club / "out" / place).write_bytes(damage)
    say(club, *DUE)
    assert {name: (club / "out" / name).read_bytes() for name in SHEETS} == before


def test_a_run_that_was_cut_off_goes_on_where_it_stopped(club: Path) -> None:
    """Each file is noted as soon as it is whole: with two notes left, two sheets are printed."""
    stamp(club).unlink()
    journal = club / "out" / JOURNAL
    lines = journal.read_bytes().splitlines(keepends=True)
    assert len(lines) == 4
    journal.write_bytes(b"".join(lines[:2]) + lines[2][:30])
    assert len(written(club)) == 2


@pytest.fixture
def made(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """The engines for whose jobs pages are made."""
    engines: list[str] = []

    def leaf_of(job: Job, club: Club) -> Page:
        engines.append(job.instructions.engine)
        return leaf(job, club)

    monkeypatch.setattr("docgen.desk.jobsheets.leaf", leaf_of)
    return engines


def test_only_what_may_have_changed_is_made_again(club: Path, made: list[str], monkeypatch: pytest.MonkeyPatch) -> None:
    path = club / "engines/7A/engine.yaml"
    path.write_text(path.read_text("utf-8").replace("Ágnes", "Agnes"), "utf-8")
    assert (written(club), made) == (SHEETS[:2], ["7A"])
    (club / "out/8B/8B-ROT-leaf.pdf").unlink()
    made.clear()
    say(club, *DUE)
    assert made == ["8B"]
    made.clear()
    monkeypatch.setattr("docgen.desk.jobsheets.program_digest", lambda: "a later version, whose pages are the same")
    path.write_text(path.read_text("utf-8") + "# the same\n", "utf-8")
    assert (written(club), made) == ([], ["7A", "8B"])
    made.clear()
    path.write_text(path.read_text("utf-8") + "# the same\n", "utf-8")
    assert (written(club), made) == ([], [])


def test_a_setting_of_the_club_that_pages_show_makes_them_all_again(club: Path, made: list[str]) -> None:
    path = club / "club.yaml"
    text = path.read_text("utf-8")
    assert "\nclub: " in f"\n{text}"
    path.write_text(f"\n{text}".replace("\nclub: ", "\nclub: New ", 1), "utf-8")
    assert (written(club), made) == (SHEETS, ["7A", "8B"])


def test_a_frozen_job_that_is_gone_is_written_again(club: Path, made: list[str]) -> None:
    (issued_job,) = (club / "engines/7A/issued").glob("*-ROT-*.yaml")
    data = issued_job.read_bytes()
    issued_job.unlink()
    say(club, *DUE)
    assert issued_job.read_bytes() == data
    assert made == ["7A"]


def test_a_job_with_faults_stops_no_other_is_named_at_the_end_and_again_the_next_time(club: Path) -> None:
    """A second job, which never renews its gasket, is due for both engines."""
    text = (club / "procedures/rotor-service.yaml").read_text("utf-8")
    assert FAULTY in text
    text = text.replace(FAULTY, "").replace("rotor-service", "gasket-left-out").replace("code: ROT", "code: GLO")
    (club / "procedures/gasket-left-out.yaml").write_text(text, "utf-8")
    for _ in range(2):
        result = CliRunner().invoke(docgen, ["--club", str(club), *DUE], prog_name="docgen", catch_exceptions=False)
        assert result.exit_code == 1
        assert "\n4 sheets on " in result.stdout
        assert result.stderr.endswith(
            "\nNot printed: 7A GLO, 8B GLO. Mend the faults, or print with --unproofed and have the sheet say so.\n"
        )
    assert not list((club / "out").rglob("*GLO*"))


def test_prints_that_are_not_whole_stop_their_engine_alone(club: Path) -> None:
    (issued,) = (club / "engines/7A/issued").iterdir()
    issued.rename(club / "elsewhere.yaml")
    issued.symlink_to(club / "elsewhere.yaml")
    result = CliRunner().invoke(docgen, ["--club", str(club), *DUE], prog_name="docgen", catch_exceptions=False)
    assert result.exit_code == 1
    assert "8B/8B-ROT-leaf.pdf" in result.stdout
    assert "7A/7A-ROT-leaf.pdf" not in result.stdout
    assert "7A ROT: prints-not-whole: " in result.stderr


def refused(root: Path, *words: str) -> Result:
    result = CliRunner().invoke(docgen, ["--club", str(root), *words], prog_name="docgen", catch_exceptions=False)
    assert result.exit_code == 1, result.output
    return result


def issued(root: Path, engine: str = "7A") -> list[str]:
    return sorted(path.name.rpartition("-")[0] for path in root.glob(f"engines/{engine}/issued/*.yaml"))


NO_GLYPH = "\U0001f3c1"


def spoilt(root: Path) -> str:
    """Have a title that no face can draw, so that nothing of the job can be printed; what its file was."""
    path = root / "procedures/rotor-service.yaml"
    text = path.read_text("utf-8")
    path.write_text(text.replace("title: Rotor", f"title: {NO_GLYPH} Rotor"), "utf-8")
    return text


def test_a_refused_print_uses_up_no_number(club: Path) -> None:
    text = spoilt(club)
    before = issued(club)
    for command in (DUE, ("binder", "7A", "--job", "ROT", "--no-mats", "--on", "2030-04-01")):
        assert f'"{NO_GLYPH}"' in refused(club, *command).stderr
        assert issued(club) == before == ["7A-ROT-03-001"]
    (club / "procedures/rotor-service.yaml").write_text(text.replace("Rotor - clean", "Rotor - cleaned"), "utf-8")
    say(club, *DUE)
    assert issued(club) == ["7A-ROT-03-001", "7A-ROT-03-002"]


def test_a_print_of_which_one_sheet_is_refused_has_its_number(club: Path) -> None:
    """The other sheet lies there, and is signed."""
    path = club / "engines/7A/engine.yaml"
    path.write_text(path.read_text("utf-8").replace("Ágnes", NO_GLYPH), "utf-8")
    assert " sign-off: " in refused(club, *DUE).stderr
    assert issued(club) == ["7A-ROT-03-001", "7A-ROT-03-002"]


def test_a_number_that_another_took_meanwhile_is_on_no_second_sheet(
    club: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Somebody prints the job as of another day between the press and the number."""
    other = shutil.copytree(club, club.parent / "other")
    say(other, "print", "7A", "--job", "ROT", "--on", "2030-04-03")
    (theirs,) = other.glob("engines/7A/issued/*-002-*.yaml")

    def second(folder: Path, job: Job, text: str = "") -> Job:
        if not (folder / theirs.name).exists():
            shutil.copy(theirs, folder)
        return issue(folder, job, text)

    monkeypatch.setattr("docgen.desk.jobsheets.issue", second)
    printed = json.loads(say(club, "print", "7A", "--job", "ROT", "--on", "2030-04-02", "--json").stdout)
    assert [(one["sheet"], one["number"][:13]) for one in printed] == [
        ("leaf", "7A-ROT-03-003"), ("sign-off", "7A-ROT-03-003"),
    ]  # fmt: skip
    assert issued(club) == ["7A-ROT-03-001", "7A-ROT-03-002", "7A-ROT-03-003"]
