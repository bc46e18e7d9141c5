"""Shims chosen by a clearance, oil by its amount, and a washer that follows its plug, from the files to the record."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from docgen.club.folder import EngineRecord
from docgen.club.read import read_club
from docgen.club.schema.event import Changed, Deviation
from docgen.job.figures import Figures
from docgen.job.job import Job
from docgen.job.marks import ApplyMark, SettingMark
from docgen.job.resolve import resolve
from docgen.job.state import state_of
from docgen.returns import measurements
from docgen.returns.answers import FormReading
from docgen.returns.reading import sizes
from docgen.sheets.entries import keyed
from docgen.trade.quantity import parse_band
from tests.secondtrade import FILES

ENGINE = "engine: 1\nmodel: wren-210t\nkeeper: Ida Falk\nreceived: 2030-03-01\nhours: 120 h\n"
PLUG = Deviation(event="deviation", parents=(), date=date(2030, 3, 5), by="Ida Falk", item="drain-plug",
                 what="Thread re-tapped.", changes=Changed(thread="M14x1.5"))  # fmt: skip


def engine(root: Path) -> tuple[EngineRecord, Figures]:
    for path in FILES.rglob("*.yaml"):
        target = root / path.relative_to(FILES)
        target.parent.mkdir(parents=True, exist_ok=True)
        target.write_text(path.read_text("utf-8"), "utf-8")
    (root / "engines" / "1").mkdir(parents=True)
    (root / "engines" / "1" / "engine.yaml").write_text(ENGINE, "utf-8")
    folder = read_club(root)
    assert folder.problems == []
    record = folder.engines["1"]
    return record, Figures(folder.club.value, folder.models["wren-210t"].value, state_of(record, date(2030, 4, 1)))


def job(root: Path, name: str) -> Job:
    record, _ = engine(root)
    folder = read_club(root)
    return resolve(folder, record, folder.procedures[name], date(2030, 4, 1))


def test_the_sheet_says_how_the_shim_is_worked_out(tmp_path: Path) -> None:
    marks = [mark for _, mark, _ in keyed(job(tmp_path, "valve-clearance").instructions.steps)]
    said = {one.setting: one.datum for one in marks if isinstance(one, SettingMark) and one.when == "left"}
    assert said == {
        "inlet-shim-thickness": "old one + inlet valve clearance - 0.13 mm, to the next 0.05 mm",
        "exhaust-shim-thickness": "old one + exhaust valve clearance - 0.18 mm, to the next 0.05 mm",
    }


def test_the_sheet_says_how_much_oil_goes_in(tmp_path: Path) -> None:
    marks = [mark for step in job(tmp_path, "oil-change").instructions.steps for mark in step.marks]
    (oil,) = (one for one in marks if isinstance(one, ApplyMark))
    assert (oil.material, oil.to, oil.amount) == (
        "Engine oil, as the manual asks for", ("oil in the sump",), parse_band("0.58..0.62 l"))  # fmt: skip


@pytest.mark.parametrize(
    ("left", "said"),
    [
        ("2.60", []),
        ("2.50", ["thickness of the inlet shim: 2.50 mm was left; 2.50 mm and a clearance of 0.22 mm ask for 2.60 mm"]),
    ],
)
def test_a_shim_that_the_clearance_does_not_ask_for_is_noted(tmp_path: Path, left: str, said: list[str]) -> None:
    sheet = job(tmp_path, "valve-clearance")
    keys = [(mark, key) for _, mark, key in keyed(sheet.instructions.steps)]
    answers = {key: "2.50" if mark.when == "found" else left for mark, key in keys
               if isinstance(mark, SettingMark) and mark.setting == "inlet-shim-thickness"}  # fmt: skip
    first = next(key for mark, key in keys if getattr(mark, "limit", "") == "inlet-clearance")
    on = FormReading(sheet, {**answers, first: "0.22", "findings": "Inlet valve out of its clearance, shim changed."})
    measurements.settings(on)
    measurements.readings(on)
    sizes(on)
    assert [one.message for one in on.said if one.name == "another-size"] == said


def test_a_washer_goes_by_the_thread_that_its_plug_now_has(tmp_path: Path) -> None:
    _, figures = engine(tmp_path)
    assert (figures.part("drain-washer").number, figures.part("drain-washer").size) == ("WR-111", "12 mm")
    other = replace(figures, state=replace(figures.state, deviations=[PLUG]))
    assert (other.part("drain-washer").number, other.part("drain-washer").size) == (None, "M14x1.5")
    assert (other.part("air-filter").number, other.part("air-filter").size) == ("WR-205", None)
