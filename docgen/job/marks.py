"""What a step carries besides its text: the cells, boxes, rows and pictures that the sheets make of it.

A mark's ``key`` names its row on the signed sheet (``tighten-clutch-nut``); it stays the same over revisions of the
text. What is written in that row the mark names itself (:mod:`docgen.club.verbs.boxes`).
"""

from typing import Annotated, Any, ClassVar, Literal, get_args

from pydantic import Field

from docgen.club.frozen import BandText, Frozen, QuantityText
from docgen.club.schema.prose import Line
from docgen.club.verbs.boxes import Box, Tick
from docgen.club.verbs.mark import AnyMark
from docgen.club.verbs.stops import HoldMark as HoldMark
from docgen.club.verbs.stops import RepeatMark as RepeatMark
from docgen.club.verbs.stops import WaitMark as WaitMark
from docgen.job.figure import Figure, Wires
from docgen.trade.quantity import Band


class ToolMark(AnyMark):
    """What undoes a fastener: its drive, the holding tool, how many there are."""

    noun: ClassVar = "tool for"
    mark: Literal["tool"] = "tool"
    name: Line
    count: int = 1
    drive: str = ""
    size: str = ""
    holding_tool: Line = ""
    note: str = ""


class TorqueMark(AnyMark):
    """How a fastener is done up. ``value`` is a torque, an angle, a 'by feel' note, or a blank line; a catch has none.

    ``outline`` is the shape of the part that it holds, where its ``pattern`` is known.
    """

    noun: ClassVar = "tightening"
    mark: Literal["torque"] = "torque"
    key: str
    item: str
    name: Line
    count: int = 1
    value: Figure
    also: tuple[BandText, ...] = ()
    set_to: QuantityText | None = None
    by_feel: bool = False
    catch: bool = False
    thread: str = ""
    drive: Line = ""
    size: str = ""
    holding_tool: Line = ""
    wrench: Line = ""
    lubrication: str = "dry"
    locker: Line = ""
    cure: QuantityText | None = None
    critical: bool = False
    hand_only: bool = False
    start_all_first: bool = False
    pattern: str = ""
    outline: dict[str, str] = Field(default_factory=dict)
    stages: tuple[BandText, ...] = ()
    painted: bool = False

    wrench_box: ClassVar = Box("wrench", "wrench")
    paint_box: ClassVar = Tick("paint", "painted")
    value_box: ClassVar = Box("value", "value")
    initials_box: ClassVar = Box("initials")


class StartMark(AnyMark):
    """Fasteners begun by hand, all of them, before any is tightened."""

    noun: ClassVar = "started by hand"
    guards: ClassVar = True
    mark: Literal["start"] = "start"
    key: str
    name: Line
    count: int


class OrientationMark(AnyMark):
    """Which way round a part goes, for its words, its tick box and its picture."""

    noun: ClassVar = "which way round"
    guards: ClassVar = True
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


class StackMark(AnyMark):
    """Parts that go onto one shaft or one body in a row, in fitting order; a drawing only, with nothing to fill in.

    ``around`` is what the drawing shows besides: the shaft, what sits on it already, what rides on a part.
    """

    noun: ClassVar = "stack"
    mark: Literal["stack"] = "stack"
    key: str
    parts: tuple[StackedPart, ...]
    around: tuple[StackedPart, ...] = ()


class DrawingMark(AnyMark):
    """A drawing that the procedure brings along, cleaned."""

    noun: ClassVar = "drawing"
    mark: Literal["drawing"] = "drawing"
    title: str
    svg: str


class RenewMark(AnyMark):
    """A part replaced by a new one; ``if_needed`` where a failed check decides."""

    noun: ClassVar = "new part"
    mark: Literal["renew"] = "renew"
    key: str
    item: str
    name: Line
    number: Line = ""
    if_needed: bool = False

    renewed_box: ClassVar = Tick("renewed")
    number_box: ClassVar = Box("number")


class ReadingMark(AnyMark):
    """A measurement with what it may be; ``positions`` asks for one reading each."""

    noun: ClassVar = "reading"
    mark: Literal["reading"] = "reading"
    key: str
    limit: str
    name: Line
    unit: str
    new: Figure | None = None
    allow: Figure
    accept: BandText | Wires | None = None
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

    @property
    def limit_band(self) -> Band | None:
        """What decides on a reading: the service limit, else the range of new parts."""
        return self.allow.band or (self.new.band if self.new else None)

    @property
    def boxes(self) -> tuple[str, ...]:
        """The boxes for the readings: one each place, or the row's only one."""
        return tuple(f"{self.key}_{n}" for n, _ in enumerate(self.positions, 1)) or (self.key,)


class LookMark(AnyMark):
    """An inspection: what is acceptable, and what to do when it is not."""

    noun: ClassVar = "inspection"
    mark: Literal["look"] = "look"
    key: str
    accept: Line
    picture: str = ""
    fail: Line = ""
    calls: str = ""
    spares: tuple[str, ...] = ()


class ChosenBy(Frozen):
    """By what a setting is chosen: the clearance wanted, the sizes that there are, and which way a thicker one goes."""

    limit: str
    wanted: BandText
    sizes: BandText
    step: QuantityText
    thicker: Literal["less", "more"]


class SettingMark(AnyMark):
    """A setting noted as found or as left; ``chosen`` says by which clearance it was chosen, as a shim is."""

    noun: ClassVar = "setting"
    mark: Literal["setting"] = "setting"
    key: str
    setting: str
    name: Line
    when: Literal["found", "left"]
    unit: str
    start: Figure
    datum: Line = ""
    ceiling: QuantityText | None = None
    note_also: tuple[Line, ...] = ()
    picture: str = ""
    chosen: ChosenBy | None = None

    value_box: ClassVar = Box()

    @property
    def note_boxes(self) -> tuple[str, ...]:
        """The boxes for what else is noted."""
        return tuple(f"{self.key}_note-{n}" for n, _ in enumerate(self.note_also, 1))


class SealMark(AnyMark):
    """A seal that a step breaks or fits."""

    noun: ClassVar = "seal"
    guards: ClassVar = True
    mark: Literal["seal"] = "seal"
    key: str
    item: str
    name: Line
    number: str = ""
    when: Literal["removed", "fitted"]

    number_box: ClassVar = Box()
    permission_box: ClassVar = Box("permission", "permission")


class ApplyMark(AnyMark):
    """Material put on a part, or used to clean it.

    kind  : the material's
    shape : that of the first part that it is put on
    """

    noun: ClassVar = "material"
    mark: Literal["apply"] = "apply"
    material: Line
    to: tuple[Line, ...] = ()
    amount: QuantityText | BandText | None = None
    cleaning: bool = False
    kind: str = ""
    shape: dict[str, str] = Field(default_factory=dict)


class ValueMark(AnyMark):
    """A value named in the text, printed in a cell of its own."""

    noun: ClassVar = "value"
    mark: Literal["value"] = "value"
    name: Line
    value: Figure


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


KINDS: tuple[type[AnyMark], ...] = get_args(get_args(Mark)[0])
ROWED: tuple[type[Any], ...] = tuple(kind for kind in KINDS if hasattr(kind, "row"))
"""The kinds of marks that have a table of their own on the signed sheet, and are kept as they are written there."""


def key(verb: str, item: str) -> str:
    """A field's name: verb and item."""
    return f"{verb}-{item.replace('/', '-')}"


def deviates(mark: Mark, items: frozenset[str]) -> bool:
    """Whether a mark's figure is that of an item, limit or setting which is not as its model."""
    name = next((getattr(mark, key) for key in ("item", "limit", "setting") if hasattr(mark, key)), "")
    return isinstance(mark, (TorqueMark, ReadingMark, SettingMark)) and name.partition("/")[0] in items
