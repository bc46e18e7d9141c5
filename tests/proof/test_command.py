"""The commands `docgen proof` and `docgen release` as a member meets them, and the hook for a club's repository."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
import yaml
from click.testing import CliRunner, Result

from docgen.cli.frame import docgen
from docgen.proof.rulebook import rulebook
from tests.proof.pages import PAGES, club_with, read_page
from tests.smallclub import write

CLEAN = read_page(PAGES / "silence-of-nothing.md").passing
FAULTY = read_page(PAGES / "still-held.md").failing
NOTED = read_page(PAGES / "missing-licence.md").failing
JOB = "procedures/job.yaml"


def run(root: Path, *arguments: str) -> Result:
    return CliRunner().invoke(docgen, ["--club", str(root), *arguments], catch_exceptions=False)


def test_a_clean_club_ends_with_0(tmp_path: Path) -> None:
    done = run(club_with(tmp_path / "club", CLEAN), "proof")
    assert (done.exit_code, done.output) == (0, "1 job proofed, nothing to mend\n")


def test_a_finding_ends_with_1_and_is_said_in_full(tmp_path: Path) -> None:
    done = run(club_with(tmp_path / "club", FAULTY), "proof", "job")
    assert done.exit_code == 1
    assert done.stderr == read_page(PAGES / "still-held.md").says + "\n1 fault, 0 notes\n"
    assert done.stdout == ""


def test_a_note_is_said_and_ends_with_0(tmp_path: Path) -> None:
    done = run(club_with(tmp_path / "club", NOTED), "proof")
    assert done.exit_code == 0
    assert done.stderr == read_page(PAGES / "missing-licence.md").says + "\n0 faults, 1 note\n"


def test_json_holds_the_same(tmp_path: Path) -> None:
    done = run(club_with(tmp_path / "club", FAULTY), "proof", "--json")
    assert done.exit_code == 1
    assert json.loads(done.stdout) == [
        {
            "path": JOB,
            "line": 11,
            "col": 19,
            "level": "error",
            "name": "still-held",
            "message": "rotor cannot come off: rotor-nut still holds it",
            "hint": "add a step before with  undoes: [rotor-nut]",
            "source": "        removes: [rotor]",
            "trail": ["rotor-nut was not undone before"],
        }
    ]
    assert json.loads(run(club_with(tmp_path / "clean", CLEAN), "proof", "--json").stdout) == []


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        (["proof", "jobb"], "there is no job"),
        (["proof", "--engine", "99"], "there is no engine"),
        (["proof", "--on", "tomorrow"], "is not a date"),
        (["release", "jobb"], "there is no job"),
    ],
)
def test_what_cannot_be_understood_ends_with_2(tmp_path: Path, arguments: list[str], says: str) -> None:
    done = run(club_with(tmp_path / "club", CLEAN), *arguments)
    assert done.exit_code == 2
    assert says in done.stderr


def test_the_rules_are_listed(tmp_path: Path) -> None:
    lines = run(tmp_path, "proof", "--rules").stdout.splitlines()
    assert [line.split()[0] for line in lines if line[0] != " "] == [rule.name for rule in rulebook()]
    assert max(map(len, lines)) <= 100


def test_a_job_is_proofed_for_the_very_engine(tmp_path: Path) -> None:
    page = read_page(PAGES / "old-torque-on-new-thread.md")
    root = club_with(tmp_path / "club", page.failing)
    done = run(root, "proof", "--engine", "007", "--on", "2027-01-10")
    assert (done.exit_code, done.stderr) == (1, page.says + "\n1 fault, 0 notes\n")
    mended = run(club_with(tmp_path / "mended", page.passing), "proof", "job", "--engine", "007", "--on", "2027-01-10")
    assert (mended.exit_code, mended.stdout) == (0, "1 job proofed, nothing to mend\n")


def test_a_job_for_other_equipment_is_refused_in_words(tmp_path: Path) -> None:
    page = read_page(PAGES / "left-dry.md")
    engine = read_page(PAGES / "old-torque-on-new-thread.md").passing["engines/007/engine.yaml"]
    root = club_with(tmp_path / "club", {**page.passing, "engines/007/engine.yaml": engine})
    done = run(root, "proof", "job", "--engine", "007")
    assert done.exit_code == 2
    assert done.stderr.endswith("Error: job is not for Example engine: it needs pulley-drive\n")


def test_a_release_is_noted_and_a_later_change_is_seen(tmp_path: Path) -> None:
    root = club_with(tmp_path / "club", CLEAN)
    assert run(root, "release").stdout == "job revision 1\n1 file released\n"
    assert run(root, "release", "job").stdout == "Nothing new to release.\n"
    record = (root / "procedures" / "RELEASED").read_text("utf-8")
    assert record.split()[1:] == ["job", "1"]
    job = root / JOB
    job.write_text("# a comment changes nothing\n" + job.read_text("utf-8"), "utf-8")
    assert run(root, "proof").exit_code == 0
    job.write_text(job.read_text("utf-8").replace("Push the dust cap on.", "Press the dust cap on."), "utf-8")
    for command in ("proof", "release"):
        done = run(root, command)
        assert done.exit_code == 1
        assert "revision-not-raised: the text is not that of revision 1 as it was released" in done.stderr
    job.write_text(job.read_text("utf-8").replace("revision: 1", "revision: 2"), "utf-8")
    assert run(root, "release").stdout == "job revision 2\n1 file released\n"
    job.write_text(job.read_text("utf-8").replace("revision: 2", "revision: 1"), "utf-8")
    assert "revision 1 is older than revision 2, released before" in run(root, "proof").stderr


def test_what_does_not_proof_clean_is_not_released(tmp_path: Path) -> None:
    root = club_with(tmp_path / "club", FAULTY)
    done = run(root, "release")
    assert done.exit_code == 1
    assert "still-held" in done.stderr
    assert not (root / "procedures" / "RELEASED").exists()


def test_a_broken_release_record_is_said(tmp_path: Path) -> None:
    root = club_with(tmp_path / "club", {**CLEAN, "procedures/RELEASED": "job 1\n"})
    done = run(root, "proof")
    assert done.exit_code == 1
    assert done.stderr.startswith("procedures/RELEASED:1:1 not-a-release: this line is not a release\n")


def test_the_hook_runs_the_command_on_the_clubs_files() -> None:
    (hook,) = yaml.safe_load((PAGES.parents[1] / ".pre-commit-hooks.yaml").read_text("utf-8"))
    assert hook["entry"].split()[0] == "docgen"
    assert hook["entry"].split()[1] in docgen.list_commands(None)  # type: ignore[arg-type]
    assert hook["pass_filenames"] is False


def test_a_type_that_cannot_be_read_is_named_by_a_job_s_proof(tmp_path: Path) -> None:
    root = write(tmp_path)
    (root / "models/sallow-80.yaml").write_text("model: sallow-80\nparts: {rotor: {number: A, 5}}\n", "utf-8")
    said = CliRunner().invoke(docgen, ["--club", str(root), "proof", "ROT"])
    assert (said.exit_code, said.stdout) == (
        0, "1 job proofed, nothing to mend\n"
        "Not proofed on models/sallow-80.yaml: docgen proof says why it cannot be read\n",
    )  # fmt: skip
