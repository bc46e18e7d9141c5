"""A mark names the boxes of its row; what is written in them is kept, and stands in them again."""

from __future__ import annotations

from types import SimpleNamespace
from typing import ClassVar, Literal, NamedTuple

import pytest

from docgen.club.schema.base import Strict
from docgen.club.schema.event import Held, Seal, Tightened, Waited
from docgen.club.verbs.boxes import Box, MarkRow, Tick, boxes, entry, filled
from docgen.club.verbs.mark import AnyMark, Reading
from docgen.club.words import Words
from docgen.job import marks as m
from docgen.job.figure import Figure
from docgen.job.job import JobStep
from docgen.sheets import record_tables
from docgen.sheets.reading_steps import Said, mark_parts
from docgen.sheets.tables import Told
from docgen.trade.quantity import parse_quantity

TORQUE = m.TorqueMark(key="tighten-nut", item="nut", name="nut", value=Figure(origin="blank"), painted=True)
HOLD = m.HoldMark(key="gap-seen", why="The gap decides.")
WAIT = m.WaitMark(key="cure", time=parse_quantity("2 h"), why="Sealant cures")
SEAL = m.SealMark(key="seal-off-plate", item="plate", name="plate", number="4711", when="removed")
ROWS: list[tuple[AnyMark, type[Strict], dict[str, str]]] = [
    (TORQUE, Tightened, {
        "wrench_box": "tighten-nut_wrench", "paint_box": "tighten-nut_paint", "value_box": "tighten-nut_value",
        "initials_box": "tighten-nut_initials",
    }),
    (HOLD, Held, {"second_box": "gap-seen_second", "own_box": "gap-seen_own", "time_box": "gap-seen_time"}),
    (WAIT, Waited, {"start_box": "cure_start", "finish_box": "cure_finish"}),
    (SEAL, Seal, {"number_box": "seal-off-plate", "permission_box": "seal-off-plate_permission"}),
]  # fmt: skip


class Written(NamedTuple):
    """What stands in the boxes."""

    answers: dict[str, str]

    def text(self, at: str, /) -> str:
        return self.answers.get(at, "")

    def tick(self, at: str, /) -> bool:
        return bool(self.answers.get(at))


@pytest.mark.parametrize(("mark", "kept", "names"), ROWS, ids=lambda one: getattr(one, "mark", ""))
def test_what_is_written_in_a_row_is_kept_and_fills_it_again(
    mark: AnyMark, kept: type[Strict], names: dict[str, str]
) -> None:
    own = boxes(type(mark))
    assert {name: getattr(mark, name) for name in own} == names
    held = {names[name]: box for name, box in own.items() if box.kept}
    assert held
    for left_out in (None, *held):
        answers = {at: "on" if box.ticked else f"what {box.part} says" for at, box in held.items() if at != left_out}
        found = entry(mark, Written(answers))
        assert set(found) == {box.kept for at, box in held.items() if at != left_out}
        assert {at: text for at, text in filled(mark, kept.model_validate(found)).items() if text} == answers


def test_a_mark_in_a_places_row_has_a_box_each() -> None:
    place = Figure(origin="blank")
    one = m.ReadingMark(key="measure-gap", limit="gap", name="gap", unit="mm", allow=place)
    assert one.boxes == ("measure-gap",)
    two = one.model_copy(update={"positions": ("left", "right")})
    assert two.boxes == ("measure-gap_1", "measure-gap_2")


class PinchMark(AnyMark):
    """A mark that nothing but this test knows."""

    noun: ClassVar = "pinch"
    mark: Literal["pinch"] = "pinch"
    key: str
    what: str

    row: ClassVar = MarkRow("waits", "Waiting times", "What", 70)
    by_box: ClassVar = Box("by", "start", "Checked by", 30)
    done_box: ClassVar = Tick("done", "finish", "Good", 12)

    @property
    def told(self) -> tuple[str, str]:
        return self.what, "by hand"

    def reading(self, w: Words, figure: object) -> Reading:
        return Reading("note", w("Good"), self.what)


def test_a_mark_that_nobody_has_met_is_printed_read_back_and_told() -> None:
    mark, words = PinchMark(key="pinch-hose", what="the hose"), Words()
    step = JobStep.model_construct(number=4, key="pinch-hose", label="4", text="Pinch the hose.", marks=(mark,))
    on = SimpleNamespace(told=SimpleNamespace(steps=(step,)), w=words, step=(words("Row"), 10),
                         number=lambda one: Told(one.called))  # fmt: skip
    table = record_tables.rows(on, PinchMark)
    ((number, what, by, done),) = table.rows
    assert (number.text, what.text, what.notes) == ("4", "the hose", ("by hand",))
    assert [(one.name, one.title, one.kind) for one in (by, done)] == [
        ("pinch-hose_by", f"{words('Checked by')}: the hose", "text"),
        ("pinch-hose_done", f"{words('Good')}: the hose", "checkbox"),
    ]
    kept = entry(mark, Written({"pinch-hose_by": "Jo", "pinch-hose_done": "on"}))
    assert kept == {"start": "Jo", "finish": "true"}
    assert filled(mark, Waited.model_validate(kept)) == {"pinch-hose_by": "Jo", "pinch-hose_done": "on"}
    assert [*mark_parts(mark, own=False, words=words)] == [Said("note", words("Good"), "the hose")]
