"""The door for Python: a club opened, an engine asked, its sheets written; what is wrong is raised with its places."""

from __future__ import annotations

import re
import shutil
import subprocess
import sys
from datetime import date
from pathlib import Path

import pytest

from docgen import Club, Faulty, Refused, Unclear, Unwritten
from docgen.job.state import state_of
from tests.cli.record_club import numbered, on_the_day
from tests.cli.test_kit_and_mat import MODEL, sized
from tests.conftest import ROOT
from tests.smallclub import texts, write

DAY = date(2030, 4, 1)


def test_five_lines_print_a_job(tmp_path: Path) -> None:
    club = Club.open(write(tmp_path / "club"))
    assert club.engines == ("7A", "8B")
    leaf, signoff = club.engine("7A").sheets("ROT", on=DAY).write(tmp_path / "out")
    assert [(sheet.kind, sheet.path.name) for sheet in (leaf, signoff)] == [
        ("leaf", "7A-ROT-leaf.pdf"), ("sign-off", "7A-ROT-sign-off.pdf")
    ]  # fmt: skip
    assert leaf.path.read_bytes().startswith(b"%PDF-")
    assert leaf.pages >= 1
    assert (leaf.job, leaf.number[:13]) == ("rotor-service", "7A-ROT-03-001")
    (again, _) = club.engine("7A").sheets("rotor-service", on=DAY).write(tmp_path / "out")
    assert (again.number, again.pages) == (leaf.number, leaf.pages)


def test_what_is_due_is_said_by_engine(tmp_path: Path) -> None:
    club = Club.open(write(tmp_path))
    assert {line.engine for line in club.due(DAY)} == {"7A", "8B"}
    assert {line.engine for line in club.engine("8B").due(DAY)} == {"8B"}


def test_a_faulty_club_is_raised_with_every_error(tmp_path: Path) -> None:
    root = write(tmp_path, {
        "models/willow-80.yaml": texts()["models/willow-80.yaml"].replace("34 N.m", "34 Nmm"),
    })  # fmt: skip
    with pytest.raises(Faulty) as caught:
        Club.open(root)
    assert {problem.path for problem in caught.value.problems} >= {"models/willow-80.yaml"}
    assert "34 Nmm" in str(caught.value)


def test_a_folder_without_a_club_is_raised(tmp_path: Path) -> None:
    with pytest.raises(Faulty, match=r"club\.yaml"):
        Club.open(tmp_path)


def test_a_slip_in_a_name_gets_the_closest(tmp_path: Path) -> None:
    club = Club.open(write(tmp_path))
    with pytest.raises(LookupError, match='there is no engine "7B"; known: 7A, 8B'):
        club.engine("7B")
    with pytest.raises(LookupError, match='there is no job "rotor-servce"; did you mean "rotor-service"'):
        club.engine("7A").sheets("rotor-servce")


def test_the_bench_is_made_ready_without_a_command(tmp_path: Path) -> None:
    club, out = Club.open(write(tmp_path, {MODEL: sized()})), tmp_path / "out"
    engine = club.engine("7A")
    assert club.proof("ROT", on=DAY) == club.proof(on=DAY, engine="7A") == []
    (mat,) = engine.mats(out, "ROT", on=DAY)
    assert mat.says == "Mat for ROT on A3 (A4 does not hold its 6 places at full size)"
    assert (mat.path, mat.pages, mat.aside) == (out / "7A/7A-ROT-mat.pdf", 1, None)
    assert [use.code for use in engine.kit("ROT", on=DAY).needs.uses] == ["ROT"]
    (card,) = engine.card(out, DAY)
    assert (card.says, card.path.read_bytes()[:5]) == ("Card of engine 7A", b"%PDF-")
    with pytest.raises(Unclear, match='no job "rotr"'):
        engine.mats(out, "rotr")


def test_a_job_that_proofing_faults_is_not_printed(tmp_path: Path) -> None:
    job = texts()["procedures/rotor-service.yaml"]
    root = write(tmp_path, {"procedures/rotor-service.yaml": job.replace("        undoes: [rotor-nut]\n", "")})
    with pytest.raises(Faulty) as caught:
        Club.open(root).engine("7A").sheets("ROT", on=DAY)
    assert caught.value.problems


def test_opening_the_package_loads_no_press() -> None:
    slow = ("docgen.", "weasyprint", "pydantic")
    call = f"import docgen, sys; print(sorted(m for m in sys.modules if m.startswith({slow})))"
    done = subprocess.run([sys.executable, "-c", call], capture_output=True, text=True, check=True)
    assert done.stdout == "[]\n"


def test_the_readme_s_lines_run(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    (code,) = re.findall(r"```python\n(.*?)```", (ROOT / "README.md").read_text("utf-8"), re.DOTALL)
    for name in ("club.yaml", "procedures", "models", "engines"):
        if (ROOT / name).is_dir():
            shutil.copytree(ROOT / name, tmp_path / name, ignore=shutil.ignore_patterns("issued", "signed", "drafts"))
        else:
            shutil.copy(ROOT / name, tmp_path)
    monkeypatch.chdir(tmp_path)
    exec(compile(code, "README.md", "exec"), {})
    assert capsys.readouterr().out == "out/017/017-CLU-leaf.pdf 2\nout/017/017-CLU-sign-off.pdf 2\n"


def test_what_happened_is_written_without_a_command(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    on_the_day(monkeypatch)
    club = Club.open(numbered(tmp_path))
    engine = club.engine("7A")
    (filed,) = engine.ran("3 x 12", DAY, by="Bo Lind")
    assert (filed.new, engine.record.log.head) == (True, filed.digest)
    assert engine.ran("36 min", DAY) == []  # it is there already
    (right,) = engine.correct(filed.digest[:8], "misread", DAY, hours="30 min")
    finding = engine.note("finding", DAY, text="Weeps oil", part="rotor", calls="ROT")
    first, second = club.move("R-1", "8B", DAY, swap=True)
    assert {right.engine, finding.engine, first.engine, second.engine} == {"7A", "8B"}
    state = state_of(Club.open(tmp_path).engine("7A").record, DAY)
    assert (float(state.hours), [one.text for one in state.findings]) == (4.5, ["Weeps oil"])
    assert club.engine("8B").record.log.entries  # what was written stands in the same club


def test_what_a_script_may_not_write_says_all_about_it(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    on_the_day(monkeypatch)
    club = Club.open(numbered(tmp_path))
    engine = club.engine("7A")
    with pytest.raises(Refused, match='there is no part "rotr" for this engine'):
        engine.note("finding", DAY, text="Leaks", part="rotr")
    with pytest.raises(LookupError, match='no engine "8C"'):
        club.move("R-1", "8C", DAY)
    engine.note("keeper", DAY, keeper="Bo Lind")
    with pytest.raises(Unwritten) as caught:
        engine.ran("7 h", DAY)
    assert str(caught.value).splitlines()[0] == "7A  2030-04-01  ran 7 h"
    assert "doubt long-running: 7.0 h on 2030-04-01 is a long time for engine 7A" in str(caught.value)
    assert len(engine.ran("7 h", DAY, accept=["long-running"])) == 1
