"""A job's values, and where each came from, on a club made from scratch."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from docgen.club.folder import Folder
from docgen.club.log import digest
from docgen.club.read import read_club
from docgen.club.store import append
from docgen.job import wording
from docgen.job.figure import Figure
from docgen.job.issue import frozen, issue, number_of, stem, thawed
from docgen.job.job import Job
from docgen.job.marks import OrientationMark, ReadingMark, RenewMark, SealMark, TorqueMark, ValueMark
from docgen.job.number import NumberError, SheetNumber, parse_number
from docgen.job.resolve import resolve
from tests.smallclub import texts, write

DAY = date(2030, 4, 1)


def job(folder: Folder, engine: str = "7A", on: date = DAY) -> Job:
    return resolve(folder, folder.engines[engine], folder.procedures["rotor-service"], on)


def torque(done: Job, item: str) -> TorqueMark:
    return next(m for s in done.instructions.steps for m in s.marks if isinstance(m, TorqueMark) and m.item == item)


def log(root: Path, *events: dict[str, object]) -> None:
    """File events one behind the other in the log of engine 7A."""
    parents: tuple[str, ...] = ()
    for event in events:
        parents = (digest(append(root / "engines/7A/log", event, parents).read_bytes()),)


RETAPPED = {
    "event": "deviation",
    "date": "2030-03-01",
    "item": "plate-screws",
    "what": "Thread re-tapped a size up",
    "changes": {"thread": "M8x1.25", "class": "8.8", "boss": {"material": "aluminium", "engaged": "14 mm"}},
}


def test_maker_s_torque_with_wrench_and_second_unit(tmp_path: Path) -> None:
    mark = torque(job(read_club(write(tmp_path))), "rotor-nut")
    assert (str(mark.value.band), mark.value.origin, mark.value.source) == ("34 N.m +/- 10 %", "model", "maker")
    assert [str(band) for band in mark.also] == ["22.6..27.5 lbf.ft"]
    assert (mark.wrench, str(mark.set_to)) == ("Torque wrench 20 to 100 N.m", "34 N.m")
    assert (mark.drive, mark.holding_tool, mark.locker, str(mark.cure)) == (
        "17 mm socket",
        "Rotor stop",
        "Threadlocker",
        "24 h",
    )
    assert mark.critical
    assert mark.key == "tighten-rotor-nut"


def test_new_thread_voids_the_maker_s_figures_and_shows_an_estimate(tmp_path: Path) -> None:
    log(write(tmp_path), RETAPPED)
    folder = read_club(tmp_path)
    assert folder.problems == []
    mark = torque(job(folder), "plate-screws")
    assert mark.thread == "M8x1.25"
    assert mark.drive == ""
    assert not mark.by_feel
    assert mark.value.origin == "computed"
    assert mark.value.assumptions[0] == "M8x1.25, class 8.8"
    (line,) = job(folder).instructions.deviations
    assert line.what == "Thread re-tapped a size up"
    assert line.voids == "The maker's torque, driver and source for the old thread no longer hold."
    assert mark.value.governs == "boss"
    assert mark.value.band is not None
    assert line.figures == (
        "thread M8x1.25 instead of M6x1",
        "drive ______",
        f"tighten {wording.band(mark.value.band)} (estimate, not the maker's; the boss governs)",
    )
    assert job(folder, "8B").instructions.deviations == ()
    assert torque(job(folder, "8B"), "plate-screws").value.words == "evenly and snug"


def test_thread_insert_voids_the_torque_but_not_the_drive(tmp_path: Path) -> None:
    model = texts()["models/willow-80.yaml"].replace(
        "by_feel: evenly and snug", "torque: 9 N.m +/- 10 %, boss: {material: aluminium, engaged: 12 mm}"
    )
    bushed = {**RETAPPED, "what": "Thread insert fitted", "changes": {"insert": "1.5 d"}}
    log(write(tmp_path, {"models/willow-80.yaml": model}), bushed)
    folder = read_club(tmp_path)
    assert folder.problems == []
    mark, maker = torque(job(folder), "plate-screws"), torque(job(folder, "8B"), "plate-screws")
    assert (str(maker.value.band), maker.value.origin) == ("9 N.m +/- 10 %", "model")
    assert mark.value.origin == "computed"
    assert mark.drive == maker.drive == "10 mm socket"
    (line,) = job(folder).instructions.deviations
    assert line.figures[0] == "thread insert 1.5 d long in M6x1"
    assert line.voids == "The maker's torque was given for the thread without an insert and no longer holds."


def test_critical_fastener_without_a_figure_stays_blank(tmp_path: Path) -> None:
    model = texts()["models/willow-80.yaml"].replace("    torque: 34 N.m +/- 10 %\n", "")
    mark = torque(job(read_club(write(tmp_path, {"models/willow-80.yaml": model}))), "rotor-nut")
    assert mark.value == Figure(origin="blank")
    assert (mark.also, mark.wrench, mark.set_to) == ((), "", None)


@pytest.mark.parametrize(
    ("was", "becomes", "origin"),
    [
        ("start_all_first: true, by_feel: evenly and snug", "boss: {material: aluminium, engaged: 10 mm}", "computed"),
        ("start_all_first: true, by_feel: evenly and snug", "boss: {material: plastic, engaged: 10 mm}", "blank"),
        ("start_all_first: true, by_feel: evenly and snug", "hand_only: true", "blank"),
        ("start_all_first: true, by_feel: evenly and snug", "critical: true", "blank"),
        ("class: 8.8, drive: hex 10 mm, start_all_first: true, by_feel: evenly and snug", "drive: hex 10 mm", "blank"),
    ],
)
def test_who_may_be_estimated(tmp_path: Path, was: str, becomes: str, origin: str) -> None:
    text = texts()["models/willow-80.yaml"]
    assert was in text
    folder = read_club(write(tmp_path, {"models/willow-80.yaml": text.replace(was, becomes)}))
    assert torque(job(folder), "plate-screws").value.origin == origin


def test_sealed_part_brings_stop_and_rows(tmp_path: Path) -> None:
    done = job(read_club(write(tmp_path)))
    assert [(s.item, s.number) for s in done.instructions.seals] == [("side-plate", "S-100")]
    seals = [m for s in done.instructions.steps for m in s.marks if isinstance(m, SealMark)]
    assert [(m.key, m.number, m.when) for m in seals] == [
        ("seal-off-side-plate", "S-100", "removed"),
        ("seal-on-side-plate", "", "fitted"),
    ]
    assert job(read_club(tmp_path), "8B").instructions.seals == ()


def test_marks_of_a_step(tmp_path: Path) -> None:
    steps = {s.key: s for s in job(read_club(write(tmp_path))).instructions.steps}
    (facing,) = [m for m in steps["fit-spacer"].marks if isinstance(m, OrientationMark)]
    assert (facing.face, facing.towards, facing.shape["chamfer"]) == ("chamfered face", "the crankcase", "1 mm")
    (reading,) = [m for m in steps["gap-seen"].marks if isinstance(m, ReadingMark)]
    assert (str(reading.allow.band), reading.new and str(reading.new.band)) == ("0.20..0.45 mm", "0.20..0.30 mm")
    assert steps["gap-seen"].text == "Measure the rotor gap at the widest place."
    assert not [m for m in steps["gap-seen"].marks if isinstance(m, ValueMark)]
    (renew,) = [m for m in steps["spacer-flat"].marks if isinstance(m, RenewMark)]
    assert (renew.number, renew.if_needed) == ("W-15", True)
    assert list(steps) == [
        "undo-plate-screws", "remove-side-plate", "undo-rotor-nut", "remove-rotor", "clean-rotor",
        "clean-rotor-nut", "step-7", "spacer-flat",
        "fit-spacer", "apply-paste", "fit-rotor", "tighten-rotor-nut", "gap-seen", "renew-plate-gasket",
        "fit-side-plate", "start-plate-screws", "tighten-plate-screws", "rotor-free",
    ]  # fmt: skip


def test_message_stands_before_the_first_step_that_meets_its_hazard(tmp_path: Path) -> None:
    steps = job(read_club(write(tmp_path))).instructions.steps
    assert [s.key for s in steps if s.messages] == ["clean-rotor"]


def test_kit_follows_from_the_steps(tmp_path: Path) -> None:
    told = job(read_club(write(tmp_path))).instructions
    assert [(t.name, t.used_for) for t in told.tools] == [
        ("10 mm socket", "plate screws"),
        ("17 mm socket", "rotor nut"),
        ("Rotor stop", "rotor nut"),
        ("Torque wrench 20 to 100 N.m", "rotor nut"),
        ("Feeler gauges", "rotor gap"),
    ]
    assert [(m.name, [str(one) for one in m.amounts], m.waste) for m in told.materials] == [
        ("Cleaning fluid", [], "Put wet rags in the metal bin."),
        ("Bearing paste", ["2 g"], ""),
        ("Threadlocker", [], ""),
    ]
    assert [(s.name, s.number, s.sure) for s in told.spares] == [
        ("plate gasket", "W-12", True),
        ("spacer", "W-15", False),
    ]
    assert (told.work_minutes, told.wait_minutes, told.wait_governs) == (28, 24 * 60, "Threadlocker cures")


def test_instructions_digest_follows_what_is_told_and_not_the_day(tmp_path: Path) -> None:
    folder = read_club(write(tmp_path))
    first, later = job(folder), job(folder, on=date(2030, 5, 1))
    assert first.instructions_digest == later.instructions_digest
    assert first.issue_digest != later.issue_digest
    changed = texts()["models/willow-80.yaml"].replace("34 N.m", "35 N.m")
    other = job(read_club(write(tmp_path / "b", {"models/willow-80.yaml": changed})))
    assert other.instructions_digest != first.instructions_digest


def test_issued_job_reads_back_and_keeps_its_number(tmp_path: Path) -> None:
    folder = read_club(write(tmp_path))
    issued = tmp_path / "engines/7A/issued"
    first = issue(issued, job(folder))
    assert number_of(first).text == "7A-ROT-03-001-L1-" + number_of(first).text[-1]
    assert thawed(next(issued.glob(f"{stem(number_of(first))}-*.yaml")).read_text("utf-8")) == first
    assert issue(issued, job(folder)).print == 1
    assert issue(issued, job(folder, on=date(2030, 4, 2))).print == 2
    assert sorted(p.name[:13] for p in issued.iterdir()) == ["7A-ROT-03-001", "7A-ROT-03-002"]


def test_edited_issued_job_is_refused(tmp_path: Path) -> None:
    text = frozen(job(read_club(write(tmp_path))))
    assert "34 N.m" in text
    with pytest.raises(ValueError, match="edited after it was printed"):
        thawed(text.replace("34 N.m", "43 N.m"))


def test_sheet_number_finds_a_wrong_character() -> None:
    number = SheetNumber("017", "CLU", 4, 3, "S", 2)
    assert parse_number(f" {number.text.lower()} ") == number
    wrong = [number.text[:i] + c + number.text[i + 1 :] for i, was in enumerate(number.text) if was.isalnum()
             for c in "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ" if c != was]  # fmt: skip
    assert len(wrong) > 400
    for text in wrong:
        with pytest.raises(NumberError):
            parse_number(text)
