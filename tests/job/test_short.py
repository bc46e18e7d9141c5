"""Which steps stand on the short card. What hurts when it is missed: common practice of do-confirm checklists."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from docgen.club.read import read_club
from docgen.job.expand import applies
from docgen.job.job import Instructions, JobStep, Message
from docgen.job.marks import (
    ApplyMark,
    HoldMark,
    LookMark,
    Mark,
    OrientationMark,
    ReadingMark,
    RenewMark,
    SealMark,
    StartMark,
    ToolMark,
    TorqueMark,
    Value,
    WaitMark,
)
from docgen.job.resolve import resolve
from docgen.job.short import hurts, on_card, pauses

DEMO = read_club(Path(__file__).resolve().parents[2])
ON = date(2027, 2, 20)
ENGINES = ("017", "042", "060")
JOBS = [
    (engine, name)
    for engine in ENGINES
    for name, read in DEMO.procedures.items()
    if applies(read.value, DEMO.models[DEMO.engines[engine].engine.model].value)
]
MADE = Value(text="34 N·m", origin="model")
TOLD = Message(word="caution", hazard="It bites.", consequence="It hurts.", avoid="Stand back.")


def torque(value: Value, thread: str = "") -> TorqueMark:
    return TorqueMark(key="tighten-x", item="x", name="X", value=value, thread=thread)


@pytest.mark.parametrize(
    ("mark", "kind"),
    [
        (torque(MADE, "M6x1"), ("torque",)),
        (torque(Value(origin="blank"), "M6x1"), ("torque",)),
        (torque(Value(text="until it clicks", origin="model")), ()),
        (StartMark(key="start-x", name="X", count=2), ("start",)),
        (OrientationMark(key="facing-x", item="x", name="X", face="lip", towards="oil"), ("orientation",)),
        (ReadingMark(key="measure-x", limit="x", name="X", unit="mm", allow=MADE), ("reading",)),
        (HoldMark(key="hold-x", why="It comes off."), ("hold",)),
        (SealMark(key="seal-off-x", item="x", name="X", when="removed"), ("seal",)),
        (WaitMark(key="wait", time="24 h"), ("wait",)),
        (LookMark(key="look", accept="Whole."), ()),
        (RenewMark(key="renew-x", item="x", name="X"), ()),
        (ApplyMark(material="grease", to=("x",)), ()),
        (ToolMark(name="X"), ()),
    ],
    ids=lambda one: one.mark if isinstance(one, Mark.__args__[0].__args__) else "",  # type: ignore[attr-defined]
)
def test_each_kind_of_mark(mark: Mark, kind: tuple[str, ...]) -> None:
    step = JobStep(number=1, key="x", text="Do it.", marks=(mark,))
    assert hurts(step) == kind
    assert on_card(step) is bool(kind)


def test_a_message_puts_its_step_on_the_card_and_the_author_has_the_last_word() -> None:
    plain = JobStep(number=1, key="x", text="Do it.")
    warned = JobStep(number=1, key="x", text="Do it.", messages=(TOLD,), marks=(HoldMark(key="h", why="It bites."),))
    assert (on_card(plain), on_card(plain.model_copy(update={"card": "on"}))) == (False, True)
    assert hurts(warned) == ("safety", "hold")
    assert (on_card(warned), on_card(warned.model_copy(update={"card": "off"}))) == (True, False)


def told(engine: str, job: str) -> Instructions:
    return resolve(DEMO, DEMO.engines[engine], DEMO.procedures[job], ON).instructions


@pytest.mark.parametrize(("engine", "job"), JOBS)
def test_pauses_go_through_every_step_once_and_in_order(engine: str, job: str) -> None:
    assert len(JOBS) >= 60
    steps = told(engine, job).steps
    found = pauses(told(engine, job))
    covered = [number for pause in found for number in range(pause.first, pause.last + 1)]
    assert covered == [step.number for step in steps]
    confirmed = [step for pause in found for step in pause.steps]
    assert confirmed == [step for step in steps if on_card(step)]
    assert confirmed
    assert all(pause.first <= step.number <= pause.last for pause in found for step in pause.steps)
    assert [pause for pause in found if not pause.steps] in ([], [found[-1]])


def test_what_closing_the_clutch_confirms_on_engine_017_written_out() -> None:
    """Held against the job's own checklist by eye."""
    (pause,) = [one for one in pauses(told("017", "clutch-service")) if one.titles == ("Close",)]
    assert [step.key for step in pause.steps] == CLOSE


CLOSE = [
    "fit-inner-thrust-washer",
    "locker-drop",
    "tighten-clutch-nut",
    "measure-drum-end-float",
    "fit-clutch-cover",
    "start-clutch-cover-screws",
    "tighten-clutch-cover-screws",
    "start-starter-screws",
    "tighten-starter-screws",
    "earth-screw",
    "tighten-starter-lead",
    "measure-earth-resistance",
    "tighten-chain-clip",
    "measure-chain-slack",
    "tighten-chain-guard-screws",
]
