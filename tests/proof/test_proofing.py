"""What the engine of proofing does with findings: silences, where they were met, what is left out, what is shipped."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from datetime import date
from pathlib import Path

from docgen.club.catalogue import ENGLISH
from docgen.club.log import Log, digest
from docgen.club.problem import Problem
from docgen.club.read import read_club
from docgen.club.translation import spoken
from docgen.proof import Seen, proof_all, proof_job
from tests.proof.pages import PAGES, club_with, read_page
from tests.shares import share

ROOT = Path(__file__).resolve().parents[2]
JOB = "procedures/job.yaml"
HEAD = """\
procedure: job
title: Example job
code: EXA
revision: 1
dated: 2027-01-10
licence: CC-BY-4.0
stages:
  - stage: Work
    steps:
"""
SEQUENCE = """\
sequence: cap-off
title: Cap off
revision: 1
dated: 2027-01-10
licence: CC-BY-4.0
steps:
  - do: Pull the dust cap off.
    removes: [dust-cap]
"""


def said(root: Path) -> list[str]:
    folder = read_club(root)
    assert folder.problems == []
    return [str(problem) for problem in proof_all(folder)]


def test_a_silenced_finding_becomes_a_note_with_its_reason(tmp_path: Path) -> None:
    text = HEAD + (
        "      - do: Pull the dust cap off.\n"
        "        removes: [dust-cap]\n"
        "        silences: {part-left-off: The driver pushes it on again.}\n"
    )
    assert said(club_with(tmp_path / "club", {JOB: text})) == [
        "procedures/job.yaml:11:19 part-left-off (note): dust-cap comes off here and is never fitted again\n"
        "  11 |         removes: [dust-cap]\n"
        "     |                   ^\n"
        "       silenced here: The driver pushes it on again.\n"
        "       to mend: add a step that fits or renews dust-cap"
    ]


def test_a_silence_covers_its_own_step_and_rule_only(tmp_path: Path) -> None:
    page = read_page(PAGES / "still-held.md").failing[JOB]
    silent = page.replace("removes: [rotor]\n", "removes: [rotor]\n        silences: {bench-only: Because.}\n")
    assert [line.split(":")[2].split()[1] for line in said(club_with(tmp_path / "club", {JOB: silent}))] == [
        "still-held",
        "silence-of-nothing",
    ]


def test_a_rule_that_is_not_there_cannot_be_silenced(tmp_path: Path) -> None:
    text = HEAD + "      - do: Tidy the bench.\n        silences: {part-left-of: Because.}\n"
    (found,) = said(club_with(tmp_path / "club", {JOB: text}))
    assert found.startswith("procedures/job.yaml:11:20 silence-of-nothing: there is no rule 'part-left-of'\n")
    assert 'Did you mean "part-left-off"?' in found or 'did you mean "part-left-off"?' in found


def test_a_fault_in_a_sequence_is_told_once_with_the_jobs_that_meet_it(tmp_path: Path) -> None:
    job = HEAD + "      - use: cap-off\n"
    other = job.replace("procedure: job", "procedure: second").replace("EXA", "SEC")
    files = {JOB: job, "procedures/second.yaml": other, "procedures/cap-off.yaml": SEQUENCE}
    assert said(club_with(tmp_path / "club", files)) == [
        "procedures/cap-off.yaml:8:15 part-left-off: dust-cap comes off here and is never fitted again\n"
        "   8 |     removes: [dust-cap]\n"
        "     |               ^\n"
        "       met in job, second\n"
        "       to mend: add a step that fits or renews dust-cap"
    ]


def test_a_fault_in_a_sequence_used_twice_is_that_of_the_step_that_uses_it(tmp_path: Path) -> None:
    job = HEAD + (
        "      - use: cap-off\n      - use: cap-off\n"
        "      - do: Push the dust cap on.\n        fits: [dust-cap]\n"
    )  # fmt: skip
    assert said(club_with(tmp_path / "club", {JOB: job, "procedures/cap-off.yaml": SEQUENCE})) == [
        "procedures/job.yaml:11:14 taken-off-twice: dust-cap cannot be taken off here: off already\n"
        "  11 |       - use: cap-off\n"
        "     |              ^\n"
        "       it goes wrong at line 8 of procedures/cap-off.yaml\n"
        "       dust-cap went off at line 8\n"
        "       to mend: take this out, or put it back on before"
    ]


def test_a_fault_on_one_type_only_names_the_type(tmp_path: Path) -> None:
    example = (PAGES / "example-club" / "models" / "example.yaml").read_text("utf-8")
    other = example.replace("model: example", "model: other").replace("dust-cap: {}", "dust-cap: {held_by: [clamp]}")
    job = HEAD + (
        "      - do: Pull the dust cap off.\n        removes: [dust-cap]\n"
        "      - do: Push the dust cap on.\n        fits: [dust-cap]\n"
    )
    (found,) = said(club_with(tmp_path / "club", {JOB: job, "models/other.yaml": other}))
    assert found == (
        "procedures/job.yaml:11:19 still-held: dust-cap cannot come off: clamp still holds it\n"
        "  11 |         removes: [dust-cap]\n"
        "     |                   ^\n"
        "       clamp was not undone before\n"
        "       only on other\n"
        "       to mend: add a step before with  undoes: [clamp]"
    )


def test_a_job_that_cannot_be_read_whole_is_not_simulated(tmp_path: Path) -> None:
    text = HEAD + "      - do: Pull the dust cap off.\n        removes: [dust-cup]\n"
    folder = read_club(club_with(tmp_path / "club", {JOB: text}))
    assert [problem.name for problem in folder.problems] == ["unknown-part"]
    assert proof_all(folder) == []


def test_what_an_engine_was_left_without_is_not_missed(tmp_path: Path) -> None:
    page = read_page(PAGES / "old-torque-on-new-thread.md")
    job = HEAD + (
        "      - do: Undo the screws of the cover.\n        undoes: [cover-screws]\n"
        "      - do: Take the cover off.\n        removes: [cover]\n"
        "      - do: Undo the nut.\n        undoes: [nut]\n"
        "      - do: Take the drum off.\n        removes: [drum]\n"
        "      - do: Slide the drum on.\n        fits: [drum]\n"
        "      - do: Tighten the nut.\n        tightens: [nut]\n"
        "      - do: Put the cover on.\n        fits: [cover]\n"
        "      - do: Start both screws of the cover by hand.\n        starts: [cover-screws]\n"
        "      - do: Tighten the screws of the cover.\n        tightens: [cover-screws]\n"
    )
    root = club_with(tmp_path / "club", {JOB: job, "engines/007/engine.yaml": page.passing["engines/007/engine.yaml"]})
    folder = read_club(root)
    assert [problem.name for problem in proof_all(folder)] == ["something-in-front"]
    on = date(2027, 1, 10)
    whole = proof_job(folder, folder.procedures["job"], folder.engines["007"], on)
    assert [problem.name for problem in whole] == ["something-in-front"]
    event = b"event: deviation\ndate: 2026-05-02\nitem: washer\nwhat: Runs without the washer.\nleft_out: true\n"
    log = root / "engines" / "007" / "log"
    log.mkdir()
    (log / f"2026-05-02-deviation-{digest(event)[:12]}.yaml").write_bytes(event)
    folder = read_club(root)
    assert folder.problems == []
    assert proof_job(folder, folder.procedures["job"], folder.engines["007"], on) == []
    without = folder.engines["007"]
    as_model = replace(without, log=Log())
    for first, second, found in ((without, as_model, [0, 1]), (as_model, without, [1, 0])):
        seen = Seen()
        jobs = [proof_job(folder, folder.procedures["job"], one, on, seen) for one in (first, second)]
        assert [len(problems) for problems in jobs] == found


SILENCED = {
    "part-left-off": "The belts stay off over winter. The pre-season puts them on.",
    "fastener-left-undone": "The lead stays off over winter. The next job puts it on.",
    "left-inside": "The caps stay in over winter. The label on the steering wheel says so.",
}
"""What a shipped job silences, each shown as a note with its reason."""


def left(problems: Iterable[Problem]) -> list[str]:
    """What proofing says beyond the notes that are known."""
    told = {name: f"silenced here: {reason}" for name, reason in SILENCED.items()}
    return [str(one) for one in problems if one.level != "note" or told.get(one.name) not in one.trail]


def test_every_shipped_job_proofs_clean_on_every_type_and_every_engine() -> None:
    folder = read_club(ROOT)
    assert len(folder.procedures) >= 6
    assert len(folder.models) >= 3
    assert len(folder.engines) >= 3
    found = proof_all(folder, date(2027, 2, 20))
    assert folder.problems == []
    assert left(found) == []
    assert {problem.name for problem in found} == set(SILENCED)
    seen, judged = Seen(), spoken(folder, ENGLISH)
    first = {record.engine.model: number for number, record in folder.engines.items()}
    numbers = sorted(folder.engines, key=lambda number: number not in first.values())  # one of each type before others
    assert len(first) == 3
    for record in (folder.engines[number] for number in numbers[: share(3, 99)]):
        model = folder.models[record.engine.model].value
        for procedure in folder.for_model(model):
            read = folder.procedures[procedure.procedure]
            alone = proof_job(folder, read, record, date(2027, 2, 20))
            assert left(alone) == []
            assert proof_job(judged, read, record, date(2027, 2, 20), seen) == alone


def test_the_shipped_jobs_silence_what_stays_off_or_in_over_winter_and_nothing_else() -> None:
    folder = read_club(ROOT)
    steps = [step for read in folder.procedures.values() for stage in read.value.stages for step in stage.steps]
    steps += [step for read in folder.sequences.values() for step in read.value.steps]
    assert len(steps) > 200
    assert sorted(reason for step in steps for reason in step.silences.values()) == sorted(SILENCED.values())
