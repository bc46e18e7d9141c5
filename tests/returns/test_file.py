"""`docgen file` as a member uses it: a printed sheet filled in, filed, filed again, put right, refused."""

from __future__ import annotations

import hashlib
import json
import shutil
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from docgen.cli.frame import docgen
from docgen.club.read import read_club
from docgen.club.schema.event import Correction, Service
from docgen.job.state import state_of
from docgen.returns.filing import file_event
from docgen.returns.form import read_form
from tests.returns.conftest import GOOD, NUMBER, TODAY
from tests.returns.filling import filled, filled_in_viewer
from tests.smallclub import write

SHOWN = f"""\
{NUMBER}  Rotor - clean and regrease, engine 7A
  done 2030-04-03 at 4.0 h, by Ágnes Őry, second person Bo Lind, released by Ágnes Őry on 2030-04-03
  Readings
    rotor gap                                     0.30 mm                     within 0.20 to 0.45 mm
  Critical fasteners
    rotor nut                                     wrench Torque wrench 20 to 100
  Renewed
    plate gasket                                  W-12
  Seals
    side plate                                    removed S-100, fitted S-101, permission Scrutineer, 1 April
  Hold points
    A rotor that rubs bends the crankshaft.       second person Bo Lind
  Looked at and checked
    3 good
"""
TO_COME = "  note first-run-to-come: the checks after the first run are still to come\n"


def say(root: Path, *words: str, typed: str = "") -> Result:
    return CliRunner().invoke(
        docgen, ["--club", str(root), *words], prog_name="docgen", input=typed, catch_exceptions=False
    )


@pytest.fixture(scope="module")
def printed(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The small club with engine 7A's sheets printed."""
    root = write(tmp_path_factory.mktemp("printed"))
    assert say(root, "print", "7A", "--job", "ROT", "--on", "2030-04-01").exit_code == 0
    return root


@pytest.fixture
def root(printed: Path, tmp_path: Path) -> Path:
    """A copy of it to write into."""
    return Path(shutil.copytree(printed, tmp_path / "club"))


def sheet(root: Path, answers: dict[str, str] | None = None, name: str = "filled.pdf") -> Path:
    """The printed sign-off sheet, filled in."""
    path = root / name
    path.write_bytes(filled((root / "out/7A/7A-ROT-sign-off.pdf").read_bytes(), GOOD | (answers or {})))
    return path


def file(root: Path, *words: object, typed: str = "") -> Result:
    return say(root, "file", "--on", "2030-04-10", *map(str, words), typed=typed)


def services(root: Path) -> list[Service]:
    folder = read_club(root)
    assert [str(p) for p in folder.problems] == []
    return list(folder.engines["7A"].log.of(Service))


def test_shown_first_then_written_when_somebody_says_so(root: Path) -> None:
    path = sheet(root)
    no = file(root, path, typed="n\n")
    question = "Write this into the record of engine 7A? [y/N]: "
    assert no.stdout == f"\n{path}\n{SHOWN}{TO_COME}{question}n\nNot filed.\n"
    assert (no.exit_code, services(root), (root / "engines/7A/signed").exists()) == (1, [], False)
    yes = file(root, path, typed="y\n")
    (event,) = (root / "engines/7A/log").glob("*.yaml")
    assert yes.stdout == f"\n{path}\n{SHOWN}{TO_COME}{question}y\nFiled: engines/7A/log/{event.name}\n"
    assert yes.exit_code == 0


def test_the_signed_file_is_kept_with_its_digest(root: Path) -> None:
    path = sheet(root)
    assert file(root, path, "--yes").exit_code == 0
    (service,) = services(root)
    digest = hashlib.sha256(path.read_bytes()).hexdigest()
    assert (service.sheet, service.file_digest) == (NUMBER, digest)
    assert service.file == f"signed/7A-ROT-03-001-{digest[:12]}.pdf"
    assert (root / "engines/7A" / service.file).read_bytes() == path.read_bytes()


def test_the_record_knows_it_at_once(root: Path) -> None:
    assert file(root, sheet(root), "--yes").exit_code == 0
    state = say(root, "engine", "7A", "--on", "2030-04-10").stdout
    assert "rotor gap: 0.30 mm (2030-04-03, 4.0 h)" in state
    assert "side plate: S-101" in state
    assert say(root, "due", "7A", "--on", "2030-04-10").stdout != say(root, "due", "7A", "--on", "2030-04-02").stdout


def test_the_same_sheet_twice_is_said_and_not_doubled(root: Path) -> None:
    path = sheet(root)
    file(root, path, "--yes")
    (event,) = (root / "engines/7A/log").glob("*.yaml")
    again = file(root, path, "--yes")
    assert again.stdout == f"\n{path}\n{NUMBER} is already filed, as {event.name}. Nothing was written.\n"
    other = root / "filled-again.pdf"  # another viewer, the same answers
    other.write_bytes(filled_in_viewer((root / "out/7A/7A-ROT-sign-off.pdf").read_bytes(), GOOD))
    assert file(root, other, "--yes").stdout.endswith("Nothing was written.\n")
    assert (again.exit_code, len(services(root)), len(list((root / "engines/7A/signed").iterdir()))) == (0, 1, 1)


def test_a_copy_that_says_more_can_take_the_place_of_the_first(root: Path) -> None:
    file(root, sheet(root), "--yes")
    (event,) = (root / "engines/7A/log").glob("*.yaml")
    more = sheet(root, {"after-run-no-noise": "on", "after-run-date": "2030-04-07"}, "more.pdf")
    told = file(root, more, "--yes")
    assert told.exit_code == 1
    assert told.stdout.endswith(
        f"Already filed, as {event.name}, but this copy differs in: checked, first_run.\n"
        '  To put it in the place of the first: --correct "WHY"\n'
    )
    assert file(root, more, "--yes", "--correct", "the engine has run").exit_code == 0
    (service,) = services(root)
    assert service.checked["after-run-no-noise"] == "done"
    (correction,) = [e.event for e in read_club(root).engines["7A"].log.entries if isinstance(e.event, Correction)]
    assert (correction.why, correction.date.isoformat()) == ("the engine has run", "2030-04-10")
    assert file(root, more, "--yes").stdout.endswith("Nothing was written.\n")


def test_refused_and_nothing_written(root: Path) -> None:
    result = file(root, sheet(root, {"measure-rotor-gap": "0,55"}), typed="y\n")
    assert result.exit_code == 1
    assert result.stdout.endswith(
        "  Read as\n"
        '    rotor gap: "0,55" understood as 0.55 mm\n'
        "  refused outside-limit: rotor gap, 0.55 mm, is outside its limit, 0.20 to 0.45 mm, "
        "and the sheet has no finding\n"
        "    write under findings what was found and what was done about it\n"
        f"{TO_COME}Not filed: put right what is refused above, then file it again.\n"
    )
    assert services(root) == []
    assert not (root / "engines/7A/signed").exists()


def test_findings_that_need_nothing_more_are_asked_for(root: Path) -> None:
    path = sheet(root, {"findings": "Gap wide\nScrew 3 renewed", "measure-rotor-gap": "0.50"})
    result = file(root, path, typed="7\n2\ny\n")
    assert result.exit_code == 0
    asked = "Which findings need nothing more? Their numbers; Enter for none: "
    assert f"{asked}7\n  There are 2: type their numbers, as in 1 2.\n{asked}2\n" in result.stdout
    (service,) = services(root)
    assert (service.findings, service.remarks) == (("Gap wide",), ("Screw 3 renewed",))
    assert [f.text for f in state_of(read_club(root).engines["7A"], TODAY).findings] == ["Gap wide"]


def test_a_doubt_is_settled_by_name_or_by_an_answer(root: Path) -> None:
    path = sheet(root, {"closing-rotor-free": ""})
    by_script = file(root, path, "--yes")
    assert by_script.exit_code == 1
    assert by_script.stdout.endswith(
        "  --yes does not settle a doubt; --accept closing-check-open does, once somebody has looked.\nNot filed.\n"
    )
    asked = file(root, path, typed="n\n")
    assert asked.stdout.endswith("closing-check-open: file it as it stands? [y/N]: n\nNot filed.\n")
    assert file(root, path, "--yes", "--accept", "closing-check-open").exit_code == 0
    assert services(root)[0].blank == ("closing-rotor-free",)


def test_wrong_engine(root: Path) -> None:
    result = file(root, sheet(root), "--engine", "8B", "--yes")
    assert result.exit_code == 1
    assert result.stdout.splitlines()[2:] == [
        "  refused wrong-engine: 7A-ROT-03-001-S1-I is a sheet of engine 7A, not of 8B",
        "    leave --engine out to file it for 7A, or look for the right sheet",
        "Not filed.",
    ]


def test_a_whole_folder_in_the_order_of_the_work(root: Path) -> None:
    assert say(root, "print", "7A", "--job", "ROT", "--on", "2030-04-05", "--out", str(root / "second")).exit_code == 0
    again = root / "second/7A/7A-ROT-sign-off.pdf"
    again.write_bytes(filled(again.read_bytes(), GOOD | {"work-started": "2030-04-06", "work-completed": "2030-04-07"}))
    sheet(root, name="second/a-first.pdf")
    (root / "second/letter.pdf").write_bytes(b"%PDF-1.7 of somebody else's")
    shutil.copy(root / "out/7A/7A-ROT-leaf.pdf", root / "second")
    result = file(root, root / "second", "--yes")
    assert result.exit_code == 1
    assert result.stdout.endswith("\n2 filed, 1 not filed, 2 files left out, being no filled sign-off sheet.\n")
    assert "refused damaged-pdf: the file is damaged or cut short" in result.stdout
    assert [service.date.day for service in services(root)] == [3, 7]


def test_for_a_script(root: Path) -> None:
    path, empty = sheet(root), root / "out/7A/7A-ROT-sign-off.pdf"
    result = file(root, path, empty, "--json")
    assert result.exit_code == 1
    rows = json.loads(result.stdout)
    assert [(row["path"], row["state"], row["sheet"], [s["name"] for s in row["said"]]) for row in rows] == [
        (str(path), "filed", NUMBER, ["first-run-to-come"]),
        (str(empty), "not filed", "", ["nothing-filled-in"]),
    ]


def test_what_cannot_be_opened(root: Path) -> None:
    result = file(root, root / "missing.pdf", "--yes")
    assert result.stdout.splitlines()[2:] == [
        f"  refused unreadable-file: {root}/missing.pdf is not there",
        "    look at the name, and whether somebody has just moved it",
        "Not filed.",
    ]
    (root / "none").mkdir()
    said = file(root, root / "none").stderr.splitlines()[-1]
    assert said == "Error: there is no PDF and no picture in what was named"


def test_a_new_print_does_not_take_the_place_of_a_filled_sheet(root: Path) -> None:
    path = root / "out/7A/7A-ROT-sign-off.pdf"
    written = filled(path.read_bytes(), GOOD)
    path.write_bytes(written)
    result = say(root, "print", "7A", "--job", "ROT", "--on", "2030-04-02")
    assert (result.exit_code, result.stderr) == (
        0,
        f"What lay there is not as it was printed; it is now {path.with_name('7A-ROT-sign-off-set-aside-1.pdf')}\n",
    )
    assert path.with_name("7A-ROT-sign-off-set-aside-1.pdf").read_bytes() == written
    assert not any(read_form(path.read_bytes()).fields.values())
    assert file(root, root / "out", "--yes").stdout.endswith(
        "\n1 filed, 2 files left out, being no filled sign-off sheet.\n"
    )


@pytest.fixture
def with_finding(tmp_path: Path) -> Path:
    """The small club; a finding was open on engine 7A when its sheets were printed."""
    root = write(tmp_path / "club")
    file_event(root, "7A", {"event": "finding", "date": "2030-03-30", "finding": "Weeps at the plate"})
    assert say(root, "print", "7A", "--job", "ROT", "--on", "2030-04-01").exit_code == 0
    return root


def test_a_sheet_that_closed_a_finding_says_the_same_the_second_time(with_finding: Path) -> None:
    path = sheet(with_finding, {"open-finding-1_done": "on", "open-finding-1_how": "Seal renewed"})
    assert file(with_finding, path, "--yes").exit_code == 0
    assert state_of(read_club(with_finding).engines["7A"], TODAY).findings == []
    again = file(with_finding, path, "--yes")
    assert (again.exit_code, again.stdout.splitlines()[-1].partition(" is already filed")[1]) == (
        0, " is already filed",
    )  # fmt: skip


def test_a_finding_that_a_sheet_closed_stays_closed_when_a_copy_takes_its_place(with_finding: Path) -> None:
    closed = {"open-finding-1_done": "on", "open-finding-1_how": "Seal renewed"}
    assert file(with_finding, sheet(with_finding, closed), "--yes").exit_code == 0
    more = sheet(with_finding, closed | {"after-run-no-noise": "on", "after-run-date": "2030-04-07"}, "more.pdf")
    told = file(with_finding, more, "--yes")
    assert "but this copy differs in: checked, first_run.\n" in told.stdout
    assert "2030-03-30: Weeps at the plate; Seal renewed" in told.stdout
    assert file(with_finding, more, "--yes", "--correct", "the engine has run").exit_code == 0
    (service,) = services(with_finding)
    assert [dealt.how for dealt in service.dealt_with] == ["Seal renewed"]
    assert state_of(read_club(with_finding).engines["7A"], TODAY).findings == []


def test_what_is_no_sign_off_sheet_is_left_out_of_a_folder(root: Path) -> None:
    assert say(root, "mat", "7A", "--job", "ROT", "--box", "3x3", "--on", "2030-04-01").exit_code == 0
    assert say(root, "reading", "ROT", "--on", "2030-04-01").exit_code == 0
    assert say(root, "print", "--blank", "willow-80", "--job", "ROT", "--on", "2030-04-01").exit_code == 0
    found = file(root, root / "out")
    assert (found.exit_code, found.stdout) == (0, "\n6 files left out, being no filled sign-off sheet.\n")
    named = file(root, root / "out/7A/7A-ROT-box.pdf")
    assert named.exit_code == 1
    assert "refused not-a-sign-off: 7A-ROT-03-000-P1-" in named.stdout
    assert " is a parts box, which stays at the bench\n    file the sign-off sheet of the same job\n" in named.stdout
