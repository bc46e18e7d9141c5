"""The engineering on the demo's sheets: what is computed is there, marked, and never beyond screw or boss."""

from __future__ import annotations

import re
from collections.abc import Callable

import pytest

from docgen.club.folder import Folder
from docgen.club.schema.model import Fastener
from docgen.job.estimates import estimated, joint_of, may_be_estimated
from docgen.job.job import Job
from docgen.job.marks import TorqueMark
from docgen.trade.tightening import check_torque
from tests.demo.conftest import Text

CLU, SPR = "clutch-service", "sprocket-chain-inspection"


def test_retapped_thread_s_figures_are_in_the_box_and_at_the_step(text: Text) -> None:
    sheet = text("023", CLU, "reading")
    assert re.search(r"thread M6×1 instead of M5×0\.8", sheet)
    assert re.search(r"tighten 6\.5 N·m ± 10 % \(estimate, not the maker's; the boss governs\)", sheet)
    assert "No longer holds: The maker's torque, driver and source for the old thread no longer hold." in sheet
    assert sheet.index("This engine is not as its model") < sheet.index("Before you start")
    assert sheet.count("6.5 N·m ± 10 %") == 2, "once in the box, once where the screw is tightened"


def test_computed_torque_is_marked_an_estimate(text: Text, job: Callable[[str, str], Job]) -> None:
    marks = [m for s in job("023", CLU).instructions.steps for m in s.marks if isinstance(m, TorqueMark)]
    computed = [m for m in marks if m.value.origin == "computed"]
    assert [m.item for m in computed] == ["earth-strap-screw"]
    for sheet in ("leaf", "reading", "sign-off"):
        assert "estimate" in text("023", CLU, sheet)


def test_accept_band_stands_beside_the_limit(text: Text) -> None:
    assert re.search(r"Accept 8\.5 to 17\.5 mm", text("023", CLU, "reading"))


def test_last_readings_and_hours_left_are_on_the_sign_off(text: Text) -> None:
    sheet = text("023", CLU, "sign-off")
    readings = re.search(r"((?:74\.\d\d mm / 74\.\d\d mm at \d+\.\d h ?)+)", sheet)
    assert readings
    assert readings[1].count(" at ") == 3
    assert re.search(r"0\.09 mm to the limit: about 6\.3 h left \(5\.3 to 7\.5\)", sheet)


def test_ready_to_run_time_is_on_the_head(text: Text, job: Callable[[str, str], Job]) -> None:
    told = job("023", CLU).instructions
    assert told.wait_minutes == 24 * 60 + 5
    assert re.search(r"Work, about 1 h \d+ min Waiting 24 h 5 min", text("023", CLU, "reading"))


def test_tightening_order_is_drawn(text: Text, printed: Callable[[str, str, str], bytes]) -> None:
    assert "Tightening order" in text("023", CLU, "reading")


def _fasteners(demo: Folder) -> list[tuple[str, str, Fastener]]:
    return [(m, n, f) for m, read in demo.models.items() for n, f in read.value.fasteners.items()]


def test_no_estimate_for_what_must_never_be_guessed(demo: Folder) -> None:
    kept = [
        (m, n) for m, n, f in _fasteners(demo) if f.critical or f.hand_only or (f.boss and f.boss.material == "plastic")
    ]
    assert len(kept) > 20
    assert [(m, n) for m, n, f in _fasteners(demo) if (m, n) in kept and may_be_estimated(f)] == []


def test_no_estimate_passes_what_the_weaker_side_allows(demo: Folder) -> None:
    """With the demo's real fasteners stripped of the maker's torque: the upper end never overloads screw or boss."""
    tried = 0
    for model, name, fastener in _fasteners(demo):
        bare = fastener.model_copy(update={"torque": None, "by_feel": None, "critical": False, "hand_only": False})
        found, joint = estimated(bare), joint_of(bare)
        if found is None or joint is None:
            continue
        tried += 1
        assert found.torque.high is not None
        assert float(found.torque.high) <= found.ceiling_nm, (model, name)
        assert check_torque(joint, found.torque).verdict == "plausible", (model, name)
    assert tried >= 20


@pytest.mark.parametrize("engine", ["004", "017"])
def test_engines_without_the_deviation_keep_the_maker_s_figure(text: Text, engine: str) -> None:
    assert "4.5 N·m ± 10 %" in text(engine, CLU, "reading")
