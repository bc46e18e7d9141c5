"""What is loose when work stops: from the simulation, checked against the steps themselves."""

from __future__ import annotations

import pytest

from docgen.job.figures import Figures
from docgen.job.rows import rows_of
from docgen.job.state import state_of
from docgen.plan.stoppage import open_after
from tests.demo.conftest import ON, _club
from tests.plan.test_laydown import EVERY, laid


def figures(engine: str) -> Figures:
    folder = _club()
    record = folder.engines[engine]
    return Figures(folder.club.value, folder.models[record.engine.model].value, state_of(record, ON))


def test_what_is_open_after_a_row_of_the_clutch_job() -> None:
    run = laid("023", "clutch-service").run
    found = open_after(run, "4", figures("023"))
    assert [(one.name, one.how, one.count) for one in found] == [
        ("chain guard", "off", 1),
        ("screws of the chain guard", "off", 2),
        ("negative lead of the battery", "off", 1),
        ("spark plug cap", "off", 1),
    ]


def test_nothing_is_open_after_the_last_row_of_any_job() -> None:
    checked = 0
    for engine, job in EVERY:
        run, own = laid(engine, job).run, figures(engine)
        last = max(one.row for one in rows_of(run.steps, own))
        if not run.faults:
            assert open_after(run, str(last), own) == (), (engine, job)
            checked += 1
    assert checked > 100


def test_each_step_s_list_is_that_of_the_step_before_with_what_the_step_did() -> None:
    run, own = laid("023", "clutch-service").run, figures("023")
    rows = rows_of(run.steps, own)
    assert len({one.label for one in rows}) == len(rows) > 40
    before: dict[str, int] = {}
    for step, one in enumerate(rows):
        after = {left.item: left.count for left in open_after(run, one.label, own) if left.how != "started"}
        moved = {c.member.partition("/")[0] for c in run.by_step[step]}
        changed = {item for item in before.keys() | after.keys() if before.get(item) != after.get(item)}
        assert changed <= moved, one.label
        before = after


def test_a_row_is_done_with_the_last_of_its_steps() -> None:
    run, own = laid("023", "clutch-service").run, figures("023")
    labels = [one.label for one in rows_of(run.steps, own) if one.row == 10]
    assert labels[:2] == ["10a", "10b"]
    assert open_after(run, "10", own) == open_after(run, labels[-1].upper(), own) != open_after(run, "10a", own)


@pytest.mark.parametrize("row", ["0", "-1", "1000", "10z", ""])
def test_a_row_that_the_job_has_not(row: str) -> None:
    run, own = laid("023", "clutch-service").run, figures("023")
    last = max(one.row for one in rows_of(run.steps, own))
    with pytest.raises(ValueError) as refused:
        open_after(run, row, own)
    assert str(refused.value) == f"the job has rows 1 to {last}, and no {row}"
