"""The board holds every interval and every limited life of every engine, what comes first first."""

from __future__ import annotations

from datetime import date
from fractions import Fraction

from docgen.job.components import components
from docgen.job.figures import Figures
from docgen.job.state import state_of
from docgen.plan.board import Bar, board
from docgen.plan.due import due_list
from docgen.plan.lives import part_lives
from docgen.plan.reasons import STATES
from tests.demo.conftest import ON, _club


def test_every_engine_with_every_life_and_every_interval() -> None:
    folder = _club()
    found = board(folder, ON)
    assert sorted(one.engine for one in found.engines) == sorted(folder.engines)
    numbered = components(folder, ON)
    lives = intervals = 0
    for one in found.engines:
        record = folder.engines[one.engine]
        model = folder.models[record.engine.model].value
        state = state_of(record, ON)
        wanted = {
            (life.name, life.used, life.allowed)
            for life in part_lives(Figures(folder.club.value, model, state), dict(numbered))
        }
        parts = [bar for bar in one.bars if bar.scale.part]
        assert {(bar.part, bar.scale.used, bar.scale.allowed) for bar in parts} == wanted
        lives += len(parts)
        counted = {
            procedure.code
            for procedure in folder.for_model(model)
            if (every := state.intervals.get(procedure.procedure) or model.intervals.get(procedure.procedure)
                or procedure.every) is not None and every.counted
        }  # fmt: skip
        own = [bar.code for bar in one.bars if not bar.scale.part]
        assert sorted([*own, *one.unrecorded]) == sorted(counted)
        intervals += len(own)
    assert (lives, intervals) > (20, 30)
    assert found.bars == lives + intervals


def test_a_job_s_bar_says_what_its_due_line_says() -> None:
    lines = {(line.engine, line.code): line for line in due_list(_club(), ON) if line.code}
    checked = 0
    for one in board(_club(), ON).engines:
        for bar in one.bars:
            line = lines[one.engine, bar.code]
            assert STATES.index(line.state) <= STATES.index(bar.state), bar
            if bar.scale.unit == "hours" and not bar.part and bar.state != "in date":
                assert any(f"{float(bar.scale.used or 0):.1f} h of" in text for text in line.reasons), bar
                checked += 1
    assert checked >= 5


def test_what_comes_first_is_first() -> None:
    def order(bar: Bar) -> tuple[int, int, float]:
        return STATES.index(bar.state), bar.first or 99, -bar.share

    found = board(_club(), ON)
    states = [STATES.index(one.state) for one in found.engines]
    assert states == sorted(states)
    for one in found.engines:
        assert [order(bar) for bar in one.bars] == sorted(order(bar) for bar in one.bars)


def test_the_rounds_on_a_bar_follow_from_usual_hours_and_from_dates() -> None:
    found = board(_club(), ON)
    usual = {line.engine: line.usual for line in due_list(_club(), ON)}
    hours = days = 0
    for one in found.engines:
        for bar in one.bars:
            if bar.scale.used is None:
                continue
            assert len(bar.scale.rounds) == len(found.rounds) == 6
            if bar.scale.unit == "hours":
                before = (bar.scale.used, *bar.scale.rounds)
                steps = [float(b - a) for a, b in zip(before, bar.scale.rounds, strict=False)]
                assert all(abs(step - usual[one.engine]) < 1e-9 for step in steps)
                hours += 1
            elif bar.scale.until is not None:
                done = [Fraction((when.date - ON).days) + bar.scale.used for when in found.rounds]
                assert list(bar.scale.rounds) == done
                days += 1
    assert min(hours, days) >= 10


def test_no_round_is_left_in_autumn() -> None:
    found = board(_club(), date(2027, 11, 1))
    assert found.rounds == ()
    assert all(bar.scale.rounds == () and bar.first is None for one in found.engines for bar in one.bars)
