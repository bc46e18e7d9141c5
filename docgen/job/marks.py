"""What a step carries besides its text: the cells, boxes, rows and pictures that the sheets make of it.

A mark's ``key`` names its field on the signed sheet (``tighten-clutch-nut``); it stays the same over
revisions of the text.
"""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, Field

from docgen.club.schema.prose import Line

Origin = Literal["deviation", "model", "club", "computed", "blank"]


class Frozen(BaseModel):
    """A mapping that is frozen with the job and read back from it."""

    model_config = ConfigDict(extra="forbid", frozen=True)


class Value(Frozen):
    """A printed value and where it came from. A blank has no text; its note says where to look it up."""

    text: Line = ""
    origin: Origin
    note: Line = ""

    @property
    def blank(self) -> bool:
        """Whether the line stays empty on purpose."""
        return self.origin == "blank"


class ToolMark(Frozen):
    """What undoes a fastener: its drive, the holding tool, how many there are."""

    mark: Literal["tool"] = "tool"
    name: Line
    count: int = 1
    drive: str = ""
    size: str = ""
    holding_tool: Line = ""
    note: str = ""


class TorqueMark(Frozen):
    """How a fastener is done up. ``value`` is a torque, an angle, a 'by feel' note, or a blank line.

    ``outline`` is the shape of the part that it holds, where its ``pattern`` is known.
    """

    mark: Literal["torque"] = "torque"
    key: str
    item: str
    name: Line
    count: int = 1
    value: Value
    also: tuple[str, ...] = ()
    set_to: str = ""
    by_feel: bool = False
    thread: str = ""
    drive: Line = ""
    size: str = ""
    holding_tool: Line = ""
    wrench: Line = ""
    lubrication: str = "dry"
    locker: Line = ""
    cure: str = ""
    critical: bool = False
    hand_only: bool = False
    start_all_first: bool = False
    pattern: str = ""
    outline: dict[str, str] = Field(default_factory=dict)
    stages: tuple[str, ...] = ()
    governs: str = ""
    painted: bool = False


class StartMark(Frozen):
    """Fasteners begun by hand, all of them, before any is tightened."""

    mark: Literal["start"] = "start"
    key: str
    name: Line
    count: int


class OrientationMark(Frozen):
    """Which way round a part goes, for its words, its tick box and its picture."""

    mark: Literal["orientation"] = "orientation"
    key: str
    item: str
    name: Line
    face: Line
    towards: Line
    shape: dict[str, str] = Field(default_factory=dict)


class StackedPart(Frozen):
    """One part of a stack; ``looks`` says whether its named face looks "inwards" or "outwards", if that is known."""

    name: Line
    face: Line = ""
    towards: Line = ""
    looks: Literal["", "inwards", "outwards"] = ""
    shape: dict[str, str] = Field(default_factory=dict)


class StackMark(Frozen):
    """Parts that go onto one shaft or one body in a row, in fitting order; a drawing only, with nothing to fill in.

    ``around`` is what the drawing shows besides: the shaft, what sits on it already, what rides on a part.
    """

    mark: Literal["stack"] = "stack"
    key: str
    parts: tuple[StackedPart, ...]
    around: tuple[StackedPart, ...] = ()


class DrawingMark(Frozen):
    """A drawing that the procedure brings along, cleaned."""

    mark: Literal["drawing"] = "drawing"
    title: str
    svg: str


class RenewMark(Frozen):
    """A part replaced by a new one; ``if_needed`` where a failed check decides."""

    mark: Literal["renew"] = "renew"
    key: str
    item: str
    name: Line
    number: Line = ""
    if_needed: bool = False


class ReadingMark(Frozen):
    """A measurement with what it may be; ``positions`` asks for one reading each."""

    mark: Literal["reading"] = "reading"
    key: str
    limit: str
    name: Line
    unit: Line
    new: Value | None = None
    allow: Value
    accept: str = ""
    undecided: str = ""
    gauge: Line = ""
    kind: str = ""
    where: Line = ""
    derived: str = ""
    positions: tuple[Line, ...] = ()
    picture: str = ""
    fail: Line = ""
    calls: str = ""
    spares: tuple[str, ...] = ()


class LookMark(Frozen):
    """An inspection: what is acceptable, and what to do when it is not."""

    mark: Literal["look"] = "look"
    key: str
    accept: Line
    picture: str = ""
    fail: Line = ""
    calls: str = ""
    spares: tuple[str, ...] = ()


class HoldMark(Frozen):
    """Not passed without a second pair of eyes, or the preparer's own later re-check."""

    mark: Literal["hold"] = "hold"
    key: str
    why: Line


class SettingMark(Frozen):
    """A setting noted as found or as left."""

    mark: Literal["setting"] = "setting"
    key: str
    setting: str
    name: Line
    when: Literal["found", "left"]
    unit: Line
    start: Value
    datum: Line = ""
    ceiling: str = ""
    note_also: tuple[Line, ...] = ()
    picture: str = ""


class SealMark(Frozen):
    """A seal that a step breaks or fits."""

    mark: Literal["seal"] = "seal"
    key: str
    item: str
    name: Line
    number: str = ""
    when: Literal["removed", "fitted"]


class WaitMark(Frozen):
    """Time that must pass, with room for start and finish; ``time`` in words, and in whole minutes."""

    mark: Literal["wait"] = "wait"
    key: str
    time: str
    why: Line = ""
    minutes: int = 0


class ApplyMark(Frozen):
    """Material put on a part, or used to clean it.

    kind  : the material's
    given : the amount as the file has it
    shape : that of the first part that it is put on
    """

    mark: Literal["apply"] = "apply"
    material: Line
    to: tuple[Line, ...]
    amount: str = ""
    cleaning: bool = False
    kind: str = ""
    given: str = ""
    shape: dict[str, str] = Field(default_factory=dict)


class RepeatMark(Frozen):
    """A step that is done again until something is true."""

    mark: Literal["repeat"] = "repeat"
    key: str
    until: Line
    at_most: int | None = None


class ValueMark(Frozen):
    """A value named in the text, printed in a cell of its own."""

    mark: Literal["value"] = "value"
    name: Line
    value: Value


Mark = Annotated[
    ToolMark
    | TorqueMark
    | StartMark
    | OrientationMark
    | StackMark
    | DrawingMark
    | RenewMark
    | ReadingMark
    | LookMark
    | HoldMark
    | SettingMark
    | SealMark
    | WaitMark
    | ApplyMark
    | RepeatMark
    | ValueMark,
    Field(discriminator="mark"),
]


def key(verb: str, item: str) -> str:
    """A field's name: verb and item."""
    return f"{verb}-{item.replace('/', '-')}"


def deviates(mark: Mark, items: frozenset[str]) -> bool:
    """Whether a mark's figure is that of an item, limit or setting which is not as its model."""
    name = next((getattr(mark, key) for key in ("item", "limit", "setting") if hasattr(mark, key)), "")
    return isinstance(mark, (TorqueMark, ReadingMark, SettingMark)) and name.partition("/")[0] in items
