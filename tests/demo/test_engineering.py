"""The engineering on the demo's sheets: what is computed is there, marked, and never beyond screw or boss."""

from __future__ import annotations

import io
import re
from collections.abc import Callable

import pikepdf
import pypdf
import pytest

from docgen.club.folder import Folder
from docgen.club.schema.model import Fastener
from docgen.job.estimates import estimated, joint_of, may_be_estimated
from docgen.job.figures import Figures
from docgen.job.job import Job
from docgen.job.marks import TorqueMark
from docgen.job.readings import accepted
from docgen.plan.standing import standing
from docgen.press.orders import plain_order
from docgen.press.workers import press
from docgen.proof.proofing import NO_RECORD
from docgen.sheets.card import card
from docgen.trade.quantity import Band, Quantity
from docgen.trade.tightening import check_torque
from tests.demo.conftest import ON, Text

CLU, SPR = "clutch-service", "sprocket-chain-inspection"


def test_retapped_thread_s_figures_are_in_the_box_and_at_the_step(text: Text) -> None:
    sheet = text("023", CLU, "reading")
    assert re.search(r"thread M6×1 instead of M5×0\.8", sheet)
    assert re.search(r"tighten 6\.5 N·m ± 10 % \(estimate, not the maker's; the boss governs\)", sheet)
    assert "No longer holds: The maker's torque, driver and source for the old thread no longer hold." in sheet
    assert sheet.index("this engine Screw of the earth strap") < sheet.index("Before you start")
    assert sheet.count("6.5 N·m ± 10 %") == 2, "once in the box, once where the screw is tightened"


def test_computed_torque_is_marked_an_estimate(text: Text, job: Callable[[str, str], Job]) -> None:
    marks = [m for s in job("023", CLU).instructions.steps for m in s.marks if isinstance(m, TorqueMark)]
    computed = [m for m in marks if m.value.origin == "computed"]
    assert [m.item for m in computed] == ["earth-strap-screw"]
    for sheet in ("leaf", "reading", "sign-off"):
        assert "estimate" in text("023", CLU, sheet)


def test_what_an_estimate_rests_on_stands_at_the_end_of_the_reading_and_nowhere_else(text: Text) -> None:
    sheet = text("023", CLU, "reading")
    step, annex = sheet.index("Tighten the screw of the earth strap"), sheet.index("How the estimates were made")
    assert "how it was made: at the end" in sheet[step : step + 400]
    assert sheet.index("After the first run") < annex
    assert re.search(r"Screw of the earth strap: estimate, not the maker's: M6×1, class 8\.8; .*6063-T5", sheet[annex:])
    assert "6063-T5" not in sheet[:annex] + text("023", CLU, "leaf")
    assert "How the estimates were made" not in text("004", CLU, "reading")


def test_accept_band_stands_beside_the_limit(text: Text) -> None:
    assert "Limit: 8 to 18 mm Accept: 8.5 to 17.5 mm" in text("023", CLU, "reading")


def test_no_new_part_of_an_engine_type_is_rejected(demo: Folder) -> None:
    """Both ends of what new parts have lie within what is accepted, whatever the gauge (ISO 14253-1, one-sided)."""
    tried, rejected = 0, []
    for model, read in demo.models.items():
        figures = Figures(demo.club.value, read.value, NO_RECORD)
        for name, limit in read.value.limits.items():
            accept, _ = accepted(figures, name)
            if limit.new is None or not isinstance(accept, Band):
                continue
            tried += 1
            ends = [end for end in (limit.new.low, limit.new.high) if end is not None]
            rejected += [(model, name, end) for end in ends if not accept.contains(Quantity(end, limit.new.unit))]
    assert tried > 60
    assert rejected == []


def test_the_last_reading_stands_beside_what_to_accept_on_the_sign_off(text: Text) -> None:
    sheet = text("023", CLU, "sign-off")
    assert "21 Bore of the clutch drum on diameter 74.20 mm / 74.21 mm at 16.2 h at most 74.290 mm" in sheet


def test_hours_left_are_on_the_engine_card(demo: Folder) -> None:
    page = card(standing(demo, demo.engines["023"], ON), demo.club.value)
    outcome = press(plain_order("card", page, demo.club.value.club, ON, ()))
    assert outcome.pressed is not None, outcome.faults
    pages = pypdf.PdfReader(io.BytesIO(outcome.pressed.pdf)).pages
    told = re.sub(r"\s+", " ", " ".join(page.extract_text() for page in pages))
    assert "Bore of the clutch drum 0.09 mm to the limit: about 6.3 h left (4.9 to 8)" in told


def test_ready_to_run_time_is_on_the_head(text: Text, job: Callable[[str, str], Job]) -> None:
    told = job("023", CLU).instructions
    assert told.wait_minutes == 24 * 60 + 5
    for sheet in ("leaf", "reading"):
        assert re.search(r"[Aa]bout 1 h \d+ min, waiting 24 h 5 min", text("023", CLU, sheet))


def test_tightening_order_is_drawn(paper: Text, printed: Callable[[str, str, str], bytes]) -> None:
    """Its numbers are drawn, and its alternative text says them."""
    with pikepdf.open(io.BytesIO(printed("023", CLU, "reading"))) as pdf:
        said = [str(one.Alt) for one in pdf.objects if isinstance(one, pikepdf.Dictionary) and "/Alt" in one]
    assert said.count("Tightening order of 4; as they stand, the turns are 1, 3, 4, 2") == 1
    assert " 1 3 4 2 " in paper("023", CLU, "reading")


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
