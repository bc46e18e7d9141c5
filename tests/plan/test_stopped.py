"""What is loose when work stops: from the simulation, checked against the steps themselves."""

from __future__ import annotations

import pytest

from docgen.job.figures import Figures
from docgen.job.state import state_of
from docgen.plan.stopped import open_after
from tests.demo.conftest import ON, _club
from tests.plan.test_laydown import EVERY, laid


def figures(engine: str) -> Figures:
    folder = _club()
    assert folder.club is not None
    record = folder.engines[engine]
    return Figures(folder.club.value, folder.models[record.engine.model].value, state_of(record, ON))


def test_what_is_open_after_a_step_of_the_clutch_job() -> None:
    run = laid("023", "clutch-service").run
    found = open_after(run, 6, figures("023"))
    assert [(one.name, one.how, one.count) for one in found] == [
        ("chain guard", "off", 1),
        ("screws of the chain guard", "off", 2),
        ("negative lead of the battery", "off", 1),
        ("spark plug cap", "off", 1),
    ]


def test_nothing_is_open_after_the_last_step_of_any_job() -> None:
    checked = 0
    for engine, job in EVERY:
        run = laid(engine, job).run
        if not run.faults:
            assert open_after(run, len(run.steps), figures(engine)) == (), (engine, job)
            checked += 1
    assert checked > 100


def test_each_step_s_list_is_that_of_the_step_before_with_what_the_step_did() -> None:
    run = laid("023", "clutch-service").run
    before: dict[str, int] = {}
    for step in range(1, len(run.steps) + 1):
        after = {one.item: one.count for one in open_after(run, step, figures("023")) if one.how != "started"}
        moved = {c.member.partition("/")[0] for c in run.by_step[step - 1]}
        changed = {item for item in before.keys() | after.keys() if before.get(item) != after.get(item)}
        assert changed <= moved, step
        before = after


@pytest.mark.parametrize("step", [0, -1, 1000])
def test_a_step_that_the_job_has_not(step: int) -> None:
    run = laid("023", "clutch-service").run
    with pytest.raises(ValueError) as refused:
        open_after(run, step, figures("023"))
    assert str(refused.value) == f"the job has steps 1 to {len(run.steps)}, not {step}"
