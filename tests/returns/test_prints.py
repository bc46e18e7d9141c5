"""An engine's prints are a history: what was done to a frozen job is named, two prints of one number are told apart."""

from __future__ import annotations

import io
import shutil
from collections.abc import Callable
from datetime import date
from pathlib import Path

import pikepdf
import pytest

from docgen.club.log import digest
from docgen.club.read import read_club
from docgen.club.schema.event import Service
from docgen.desk.filing import keep
from docgen.job.issue import frozen, issue, thawed
from docgen.job.job import Job
from docgen.job.prints import prints
from docgen.job.resolve import resolve
from docgen.returns.correcting import event_named
from docgen.returns.filing import file_event, file_service
from docgen.returns.identity import sheet_numbered, typed_number
from docgen.returns.reading import understand
from docgen.returns.verify import verify
from tests.cli.record_club import numbered, on_the_day, say
from tests.returns.conftest import GOOD, NUMBER, TODAY
from tests.returns.papers import form_of
from tests.returns.test_enter import typed_for

ISSUED = "engines/7A/issued"
DAYS = (date(2030, 4, 1), date(2030, 4, 2), date(2030, 4, 3))
CHANGED = "this is not the job that {} was printed from: it was changed afterwards"


def printed(root: Path, day: date) -> Job:
    folder = read_club(root)
    assert [str(p) for p in folder.problems if p.level == "error"] == []
    job = resolve(folder, folder.engines["7A"], folder.procedures["rotor-service"], day)
    return issue(root / ISSUED, job)


def names(root: Path) -> list[str]:
    return sorted(path.name for path in (root / ISSUED).iterdir())


def found(root: Path) -> list[tuple[str, str, str]]:
    return [(p.path.removeprefix(f"{ISSUED}/"), p.name, p.message) for p in verify(root, "7A").problems]


@pytest.fixture
def root(tmp_path: Path) -> Path:
    """Three prints of one job, of which the last was filed."""
    root = numbered(tmp_path / "club")
    assert [printed(root, day).print for day in DAYS] == [1, 2, 3]
    folder = read_club(root)
    number = typed_number(sheet_text(root, 3))
    sheet = sheet_numbered(number, folder)
    event = dict(understand(sheet, GOOD, TODAY, 3).event)
    event["file"], event["file_digest"], _ = keep(root, sheet.number, b"%PDF-1.7 signed")
    assert file_service(root, "7A", event).new
    assert found(root) == []
    return root


def sheet_text(root: Path, print_: int) -> str:
    """The number of the first page of a sign-off sheet."""
    from docgen.job.number import SheetNumber

    return SheetNumber("7A", "ROT", 3, print_, "S").text


def test_each_print_names_those_before_it(root: Path) -> None:
    one, two, three = prints(root, ISSUED)
    assert [one.after, two.after, three.after] == [{}, {one.name: one.digest}, {two.name: two.digest}]
    assert [p.name for p in (one, two, three)] == [
        f"7A-ROT-03-00{n}-{p.digest[:12]}" for n, p in enumerate((one, two, three), 1)
    ]
    (service,) = read_club(root).engines["7A"].log.of(Service)
    assert (service.issue, service.printed) == (three.issue, three.digest)


def _edited(data: bytes) -> bytes:
    """The torque changed, and the digest of the issue made to fit again, as somebody would who knows how."""
    text = data.decode().replace("34 N.m", "43 N.m")
    assert text.encode() != data
    body = text.split("issue_digest: ")[1][:64]
    after = "\n".join(line for line in text.splitlines() if not line.startswith(("after:", "  7A-ROT")))
    job = Job.model_validate(_plain(after))
    return text.replace(body, job.issue_digest).encode()


def _plain(text: str) -> dict[str, object]:
    from docgen.club.yamltext import read_yaml

    document, _ = read_yaml("issued", text)
    assert document is not None
    assert isinstance(document.data, dict)
    return {key: value for key, value in document.data.items() if key in ("instructions", "issue", "print")}


DEEDS: dict[str, Callable[[bytes], bytes]] = {
    "edited": _edited,
    "a remark added": lambda data: data + b"# agreed\n",
    "one bit": lambda data: data[:200] + bytes([data[200] ^ 1]) + data[201:],
    "emptied": lambda data: b"",
    "cut": lambda data: data[: len(data) * 9 // 10],
    "zeros": lambda data: bytes(len(data)),
}


@pytest.mark.parametrize("deed", DEEDS)
@pytest.mark.parametrize("which", [0, 1, 2])
def test_a_frozen_job_that_was_changed_is_named_and_judges_nothing(root: Path, deed: str, which: int) -> None:
    path = root / ISSUED / names(root)[which]
    path.write_bytes(DEEDS[deed](path.read_bytes()))
    assert found(root)[0] == (path.name, "print-changed", CHANGED.format(path.name[:13]))
    result = say(root, "enter", sheet_text(root, which + 1), "--on", "2030-04-10", "--correct", "once more")
    assert (result.exit_code, result.stderr.splitlines()[0]) == (
        1,
        f"Error: issued-changed: {ISSUED}/{path.name} is not as it was when {sheet_text(root, which + 1)} was printed",
    )


def test_the_edit_would_fool_whoever_looks_at_the_file_alone(root: Path) -> None:
    job = thawed(_edited((root / ISSUED / names(root)[0]).read_bytes()).decode())
    assert "43 N.m" in frozen(job)


@pytest.mark.parametrize("which", [0, 1])
def test_a_print_that_was_taken_away_is_named_by_the_next(root: Path, which: int) -> None:
    gone, later = names(root)[which], names(root)[which + 1]
    (root / ISSUED / gone).unlink()
    message = f"the print {gone[:-5]} ({gone[14:-5]}) is not there, though {later[:-5]} followed it"
    assert found(root) == [(gone, "print-missing", message)]


def test_the_last_print_that_was_taken_away_is_named_by_the_sheet_that_was_filed(root: Path) -> None:
    gone = names(root)[2]
    (root / ISSUED / gone).unlink()
    (event,) = (root / "engines/7A/log").iterdir()
    message = f"the print that {event.name} was judged by ({gone[14:-5]}) is not there"
    assert found(root) == [(ISSUED, "print-missing", message)]


def test_two_that_were_exchanged_are_named(root: Path) -> None:
    one, two, _ = (root / ISSUED / name for name in names(root))
    first, second = one.read_bytes(), two.read_bytes()
    one.write_bytes(second)
    two.write_bytes(first)
    assert found(root) == [(p.name, "print-changed", CHANGED.format(p.name[:13])) for p in (one, two)]


def test_one_that_was_renamed_is_named(root: Path) -> None:
    one, *_ = names(root)
    (root / ISSUED / one).rename(root / ISSUED / one.replace("001", "009"))
    assert [(path, name) for path, name, _ in found(root)] == [(one, "print-missing")]


def test_prints_from_before_there_was_a_history_are_covered_by_the_next(root: Path) -> None:
    """Their files bore no digest in their names; what contradicts itself is found even so."""
    shutil.rmtree(root / ISSUED)
    shutil.rmtree(root / "engines/7A/log")
    for day in DAYS[:2]:
        job = printed(root, day)
        (path,) = (root / ISSUED).glob(f"7A-ROT-03-00{job.print}-*.yaml")
        path.unlink()
        (root / ISSUED / f"7A-ROT-03-00{job.print}.yaml").write_text(frozen(job), "utf-8")
    first = root / ISSUED / "7A-ROT-03-001.yaml"
    before = first.read_bytes()
    assert found(root) == []
    first.write_bytes(before.replace(b"34 N.m", b"43 N.m"))
    assert found(root) == [(first.name, "print-changed", CHANGED.format("7A-ROT-03-001"))]
    first.write_bytes(_edited(before))
    assert found(root) == [], "it agrees with itself, and nothing names it yet"
    first.write_bytes(before)
    assert printed(root, DAYS[2]).print == 3
    assert found(root) == []
    first.write_bytes(_edited(before))
    assert found(root) == [(first.name, "print-changed", CHANGED.format("7A-ROT-03-001"))]


def test_line_ends_changed_by_git_change_nothing(root: Path) -> None:
    for path in root.rglob("*.yaml"):
        path.write_bytes(path.read_bytes().replace(b"\n", b"\r\n"))
    assert found(root) == []
    assert printed(root, DAYS[2]).print == 4, "a sheet was filed since"
    assert printed(root, DAYS[2]).print == 4
    assert sheet_numbered(typed_number(sheet_text(root, 2)), read_club(root)).job.print == 2
    said = say(root, "current", sheet_text(root, 2).replace("S", "L"), "--on", "2030-04-02")
    assert said.exit_code in (0, 2)


def test_the_pdf_of_a_correction_is_looked_at(root: Path) -> None:
    folder = read_club(root)
    held = event_named(folder.engines["7A"].log, folder.engines["7A"].log.heads[0][:8])
    sheet = sheet_numbered(typed_number(sheet_text(root, 3)), folder)
    event = dict(understand(sheet, {**GOOD, "measure-rotor-gap": "0.31"}, TODAY, 3).event)
    event["file"], event["file_digest"], _ = keep(root, sheet.number, b"%PDF-1.7 signed again")
    file_event(root, "7A", {"event": "correction", "date": "2030-04-10", "corrects": held.entry.digest,
                            "why": "misread", "instead": event})  # fmt: skip
    assert found(root) == []
    name = next(path.name for path in (root / "engines/7A/log").iterdir() if "correction" in path.name)
    paper = root / "engines/7A" / event["file"]
    paper.write_bytes(b"%PDF-1.7 another")
    assert [(p.name, p.message) for p in verify(root, "7A").problems] == [
        ("paper-changed", f"the signed sheet of {name} was changed after it was filed")
    ]
    paper.unlink()
    assert [p.name for p in verify(root, "7A").problems] == ["paper-missing"]


def test_an_engine_that_a_move_names_is_missed(root: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    on_the_day(monkeypatch)
    assert say(root, "move", "R-1", "8B", "--on", "2030-05-06", "--yes").exit_code == 0
    name = next(path.name for path in (root / "engines/7A/log").iterdir() if "component" in path.name)
    first = next((root / "engines/8B/log").iterdir())
    kept = first.read_bytes()
    first.unlink()
    assert [(p.path, p.name, p.message) for p in verify(root, "7A").problems] == [
        ("engines/8B/log", "event-missing",
         f"the log does not hold the move {first.stem[-12:]}, which engine 7A answered"),
    ]  # fmt: skip
    first.write_bytes(kept)
    shutil.rmtree(root / "engines/8B")
    result = say(root, "verify")
    assert result.exit_code == 1
    assert result.stderr.splitlines()[0] == (
        f"engines/8B engine-missing: engine 8B has no record here, but {name} of engine 7A is a move with it"
    )


@pytest.fixture
def both(tmp_path: Path) -> tuple[Path, Job, Job]:
    """Print 001 was given by two copies of the folder, from different limits; then the copies were put together."""
    one, other = numbered(tmp_path / "one"), numbered(tmp_path / "other")
    model = other / "models/willow-80.yaml"
    text = model.read_text("utf-8")
    assert "0.20..0.45 mm" in text
    model.write_text(text.replace("0.20..0.45 mm", "0.20..0.32 mm"), "utf-8")
    wide, narrow = printed(one, DAYS[0]), printed(other, DAYS[0])
    assert wide.print == narrow.print == 1
    (file,) = (other / ISSUED).iterdir()
    shutil.copy(file, one / ISSUED / file.name)
    return one, wide, narrow


def test_two_prints_of_one_number_are_named(both: tuple[Path, Job, Job]) -> None:
    root, *_ = both
    assert len(names(root)) == 2
    result = say(root, "verify", "7A")
    assert result.exit_code == 0
    issues = " and ".join(one.issue[:12] for one in prints(root, ISSUED))
    assert result.stdout.splitlines()[1] == (
        f"  7A-ROT-03-001 is the number of 2 jobs, printed from two copies of the folder: issue {issues}; the foot of "
        "the paper says which, and filing asks for it"
    )
    said = say(root, "current", NUMBER, "--on", "2030-04-02")
    assert (said.exit_code, said.stdout.splitlines()[1]) == (
        1, "  the revision is the same; 2 jobs bear its number, printed from two copies of this folder",
    )  # fmt: skip
    assert printed(root, DAYS[0]).print == 2, "no third job bears it"


def test_the_paper_says_which_of_two_prints_it_is(both: tuple[Path, Job, Job]) -> None:
    root, wide, narrow = both
    typed = typed_for_sheet(root, wide)
    for job, verdict in ((narrow, "OUTSIDE 0.20 to 0.32 mm"), (wide, "within 0.20 to 0.45 mm")):
        result = say(root, "enter", NUMBER, "--on", "2030-04-10", "--issue", job.issue_digest[:8],
                     typed="".join(f"{t}\n" for t in [*typed, "stop"]))  # fmt: skip
        assert f"      {verdict}" in result.stdout, result.stdout
        shutil.rmtree(root / "engines/7A/drafts", ignore_errors=True)
    asked = say(root, "enter", NUMBER, "--on", "2030-04-10", typed=f"what\n{narrow.issue_digest[:12]}\nstop\n")
    first, second = sorted(j.issue_digest[:12] for j in (wide, narrow))
    assert asked.stdout.startswith("  refused two-prints: 7A-ROT-03-001-S1-I was printed 2 times")
    assert f"issue {narrow.issue_digest[:12]}, as at the foot of the paper" in asked.stdout
    assert first in asked.stdout
    assert second in asked.stdout
    wrong = say(root, "enter", NUMBER, "--on", "2030-04-10", "--issue", "0000")
    assert (wrong.exit_code, "other-print: the issue 0000 is not the one" in wrong.stderr) == (1, True)


def typed_for_sheet(root: Path, job: Job) -> list[str]:
    from tests.returns.conftest import Club

    folder = read_club(root)
    sheet = sheet_numbered(typed_number(NUMBER), folder, issue=job.issue_digest)
    return typed_for(Club(root, folder, sheet), {**GOOD, "measure-rotor-gap": "0.40"})[:8]


@pytest.mark.parametrize("which", [0, 1])
def test_a_pdf_is_judged_by_the_job_inside_it(both: tuple[Path, Job, Job], tmp_path: Path, which: int) -> None:
    root, job = both[0], both[1 + which]
    sheet = sheet_numbered(typed_number(NUMBER), read_club(root), issue=job.issue_digest)
    paper = tmp_path / "paper.pdf"
    paper.write_bytes(form_of(sheet, {**GOOD, "measure-rotor-gap": "0.30"}))
    result = say(root, "file", str(paper), "--on", "2030-04-10", "--yes")
    assert result.exit_code == 0, result.output
    (service,) = read_club(root).engines["7A"].log.of(Service)
    assert (service.issue, service.printed) == (job.issue_digest, sheet.printed)


def test_a_pdf_that_lost_its_job_is_a_doubt(both: tuple[Path, Job, Job], tmp_path: Path) -> None:
    root, wide, _ = both
    sheet = sheet_numbered(typed_number(NUMBER), read_club(root), issue=wide.issue_digest)
    paper = tmp_path / "paper.pdf"
    paper.write_bytes(_without_job(form_of(sheet, GOOD)))
    words = ("file", str(paper), "--on", "2030-04-10", "--yes")
    two = say(root, *words)
    assert (two.exit_code, "refused two-prints" in two.stdout) == (1, True)
    chosen = say(root, *words, "--issue", wide.issue_digest[:6])
    assert chosen.exit_code == 0, chosen.output
    for name in names(root):
        if digest((root / ISSUED / name).read_bytes()) != sheet.printed:
            (root / ISSUED / name).unlink()
    shutil.rmtree(root / "engines/7A/log")
    alone = say(root, *words)
    assert alone.exit_code == 1
    assert "doubt job-gone: the job that was printed inside the file is gone" in alone.stdout
    assert "--accept job-gone" in alone.stdout
    assert say(root, *words, "--accept", "job-gone").exit_code == 0


def _without_job(data: bytes) -> bytes:
    with pikepdf.open(io.BytesIO(data)) as document:
        del document.attachments["job.yaml"]
        out = io.BytesIO()
        document.save(out)
    return out.getvalue()
