"""``models/*.yaml``: an engine type: what it is made of, what covers what, its figures and limits."""

import re
from typing import Annotated, Self

from pydantic import Field, model_validator

from docgen.club.schema.base import (
    AngleBand,
    AnyBand,
    AnyQuantity,
    Count,
    Flag,
    GaugeName,
    ItemName,
    JobName,
    Length,
    LengthBand,
    LimitName,
    Limits,
    Listed,
    MaterialName,
    Member,
    Members,
    ModelMembers,
    Name,
    Names,
    PartName,
    Span,
    Strict,
    Text,
    Time,
    ToolName,
    Tools,
    TorqueBand,
    also,
    fault,
    of_form,
    one_of,
    spread,
)
from docgen.club.schema.club import Hazard
from docgen.club.schema.prose import Language, Prose, Proses, Titled
from docgen.club.schema.refers import Refers
from docgen.trade.units import units

DRIVE = re.compile(r"(hex|hex-socket|square) \d{1,2}(\.\d)? mm|hexalobular \d{1,3}|slot|cross [0-4]|plug \d{2} mm|hand")
THREAD = re.compile(r"M\d{1,2}(\.\d)?x\d(\.\d{1,2})?( left)?")
Drive = Annotated[str, of_form(
    DRIVE, "unknown-drive", "a screw drive",
    "write hex 17 mm, hex-socket 5 mm, hexalobular 20, slot, cross 2, plug 21 mm or hand",
)]  # fmt: skip
Thread = Annotated[str, of_form(
    THREAD, "unknown-thread", "a thread",
    "write diameter and pitch, M6x1 or M10x1.25, with ' left' behind it for a left-hand thread",
)]  # fmt: skip
ShapeKind = Annotated[str, one_of(
    "washer", "dished-washer", "o-ring", "bearing", "needle-bearing", "drum", "hub", "shaft", "gear", "sprocket",
    "nut", "seal", "circlip", "piston", "ring", "gasket", "diaphragm", "reed", "chain-clip", "cover", "lever",
    "strainer", "sleeve", "lead", "block",
)]  # fmt: skip


class Shape(Strict):
    """What a part looks like, for drawings and for its place on the layout mat.

    Of a stepped shaft, ``outer`` and ``inner`` are its thicker and its thinner part, ``radius`` the one between them.
    """

    kind: ShapeKind
    outer: Length | None = None
    inner: Length | None = None
    thick: Length | None = None
    chamfer: Length | None = None
    radius: Length | None = None
    length: Length | None = None
    width: Length | None = None


class Orientation(Strict):
    """Which way round a part goes: the face that can be seen, and what it faces; and whose radius it makes room for."""

    face: Prose
    towards: Prose
    clears: PartName | None = None


class Fail(Strict):
    """What to do when a check fails: ``renews`` at once, or ``calls`` for a job, with ``spares`` to have ready then."""

    model_config = also(minProperties=1)

    do: Prose | None = None
    renews: Members | None = None
    calls: JobName | None = None
    spares: Members | None = None

    @model_validator(mode="after")
    def _something(self) -> Self:
        if not (self.do or self.renews or self.calls or self.spares):
            raise fault("empty-fail", "the check says nothing to do when it fails", "write do:, renews: or calls:")
        return self


FailText = Annotated[Fail, spread("do")]


Silences = Annotated[dict[Name, Text], Field(default_factory=dict)]
"""Proof rules that are not to speak of something, each with the reason."""


class Item(Strict):
    """What parts and fasteners share: their place in the assembly graph."""

    name: Prose | None = None
    called: Prose | None = None
    number: Titled | None = None
    count: Count = 1
    behind: ModelMembers = ()
    part_of: PartName | None = None
    bench: Flag = False
    single_use: Flag = False
    hazards: tuple[Hazard, ...] = ()
    life: Span | None = None
    orientation: Orientation | None = None
    shape: Shape | None = None
    silences: Silences


class Part(Item):
    """A part that comes off and goes on."""

    held_by: ModelMembers = ()
    sealable: Flag = False
    clean_first: Flag = False
    goes_in_clean: Flag = False
    follows: Annotated[Name, Refers("fastener")] | None = None
    size: Prose | None = None


class Boss(Strict):
    """What the thread is cut in, and how deep the screw goes in."""

    material: Annotated[str, one_of("aluminium", "magnesium", "plastic", "steel", "cast-iron", "brass")]
    engaged: Length | None = None


InsertLength = Annotated[str, one_of("1 d", "1.5 d", "2 d", "2.5 d")]
"""Length of a wire thread insert, in nominal diameters of its thread."""


class Fastener(Item):
    """A screw, nut, stud nut, plug, clip, lead or hose: what is undone and done up.

    A ``sealing`` one closes an opening and clamps nothing: no rule for clamping screws holds for it. ``onto`` names
    the part whose thread it runs on; what is cleaned or locked there counts for the fastener too.
    """

    model_config = also(**{"if": {"required": ["catch"]}, "then": {"properties": {"thread": False, "torque": False}}})

    thread: Thread | None = None
    grade: Text | None = Field(default=None, alias="class")
    drive: Drive | None = None
    tools: Tools = ()
    holding_tool: ToolName | None = None
    torque: TorqueBand | None = None
    angle: AngleBand | None = None
    by_feel: Prose | None = None
    lubrication: Annotated[str, one_of("dry", "oiled", "threadlocker", "anti-seize")] = "dry"
    locker: MaterialName | None = None
    onto: Name | None = None
    boss: Boss | None = None
    insert: InsertLength | None = None
    critical: Flag = False
    sealing: Flag = False
    hand_only: Flag = False
    start_all_first: Flag = False
    releases: Annotated[str, one_of("off", "loose")] = "off"
    pattern: Annotated[str, one_of("circle", "rectangle", "row")] | None = None
    stages: tuple[TorqueBand, ...] = ()
    catch: Annotated[str, one_of("clip", "hose", "lead", "connector", "spring", "strap", "pin")] | None = None
    seat: LengthBand | None = None
    source: Titled | None = None

    @model_validator(mode="after")
    def _tightened_somehow(self) -> Self:
        if self.catch and (self.torque or self.thread):
            hint = "leave catch out for a screw; leave thread and torque out for a clip, lead or hose"
            raise fault("catch-with-thread", f"a {self.catch} has no thread and no torque", hint)
        return self


class Derived(Strict):
    """A limit that follows from other readings: their difference, average, or spread (largest less smallest)."""

    model_config = also(
        minProperties=1,
        maxProperties=1,
        allOf=[{"properties": {"difference": {"type": "array", "minItems": 2, "maxItems": 2}}}],
    )

    difference: Limits | None = None
    average: Limits | None = None
    spread: Limits | None = None

    @model_validator(mode="after")
    def _one(self) -> Self:
        given = [v for v in (self.difference, self.average, self.spread) if v is not None]
        if len(given) != 1:
            raise fault("one-way-to-derive", "a derived limit has exactly one of difference, average and spread")
        if self.difference is not None and len(self.difference) != 2:
            message = "a difference is taken between exactly two readings"
            raise fault("two-for-a-difference", message, "write difference: [larger, smaller]")
        return self


Unit = Annotated[str, one_of(*sorted(units()))]
LimitKind = Annotated[str, one_of("diametral", "radial", "axial", "height", "gap", "electrical", "pressure")]


PICTURES = (
    "bore", "drum", "shoes", "skirt", "ring-gap", "squish", "side-play", "radial-play", "shaft-play", "end-float",
    "run-out", "plug-gap", "plug-reach", "lever-above", "lever-below", "reed-tip", "chain-pitches", "chain-slack",
    "straight-edge", "thickness", "drum-float", "pickup", "flexible-pipe", "pressure-rig", "timing-dial",
)  # fmt: skip
"""Drawings of where a reading is taken."""
PictureName = Annotated[str, one_of(*PICTURES)]


Crank = Annotated[str, one_of("tdc", "tdc-firing", "tdc-overlap", "bdc", "timing-mark")]
"""Where the crank stands: top dead centre (of the firing or the overlap stroke), bottom, or at the timing mark."""


class Limit(Strict):
    """A reading with what it may be. ``new`` is the range of new parts, ``allow`` the service limit; ``of`` names the
    parts that it tells about, whose renewal starts its readings anew; ``wears`` says which way wear moves it, and only
    then are its readings taken for a trend; it is taken only while all that it is ``behind`` is off, and with the
    crank where ``crank`` says. ``unit`` stands where the maker's figures are not known yet: the reading is taken, and
    its limits stay a blank line."""

    name: Prose | None = None
    of: Annotated[tuple[ItemName, ...], Listed] = ()
    behind: ModelMembers = ()
    crank: Crank | None = None
    wears: Annotated[str, one_of("up", "down")] | None = None
    gauge: GaugeName | None = None
    unit: Unit | None = None
    new: AnyBand | None = None
    allow: AnyBand | None = None
    kind: LimitKind | None = None
    picture: PictureName | None = None
    derived: Derived | None = Field(default=None, alias="from")
    positions: Proses = ()
    where: Prose | None = None
    fail: FailText | None = None
    source: Titled | None = None
    silences: Silences


class Chosen(Strict):
    """A thickness that is chosen by a measured clearance: of a shim, of all gaskets together."""

    by: LimitName
    sizes: LengthBand
    step: Length
    thicker: Annotated[str, one_of("less", "more")]

    @model_validator(mode="after")
    def _sizes(self) -> Self:
        if None in (self.sizes.low, self.sizes.high) or self.step.value <= 0:
            message = f"{self.sizes} in steps of {self.step} are no sizes to choose from"
            raise fault("no-such-sizes", message, "write sizes: 2.00..3.00 mm and step: 0.05 mm")
        return self


class Setting(Strict):
    """A setting noted as found and as left: needle turns, lever height, pop-off pressure."""

    name: Prose | None = None
    unit: Titled
    start: AnyBand | None = None
    datum: Prose | None = None
    ceiling: AnyQuantity | None = None
    note_also: Proses = ()
    gauge: GaugeName | None = None
    picture: PictureName | None = None
    chosen: Chosen | None = None
    source: Titled | None = None
    silences: Silences


class Interval(Strict):
    """Whichever comes first; months are calendar months. ``occasion`` says in words when a job is done that no count
    makes due, such as a change of owner; it prints and is not counted. ``on_receipt``: due once, as an engine comes in,
    until it is signed or the record has any other signed job."""

    hours: Span | None = None
    months: Count | None = None
    meetings: Count | None = None
    occasion: Prose | None = None
    on_receipt: Flag = False

    @property
    def counted(self) -> bool:
        """Whether hours, months or meetings make the job due."""
        return any(part is not None for part in (self.hours, self.months, self.meetings))


class Fluid(Strict):
    """Oil, water or fuel that the engine holds: what lets it out (``drain``) and where it goes in (``fill``)."""

    name: Prose | None = None
    materials: Annotated[tuple[MaterialName, ...], Listed, Field(min_length=1)]
    amount: AnyBand | None = None
    drain: ModelMembers = ()
    fill: ModelMembers = ()


class Model(Strict):
    """One engine type."""

    model: Name
    title: Titled
    manual: Titled
    language: Language | None = None
    displacement: AnyQuantity | None = None
    equipment: Names
    isolator: Annotated[Member, Refers("fastener")] | None = None
    cool_down: Time | None = None
    parts: dict[Name, Part]
    fasteners: dict[Name, Fastener]
    limits: dict[Name, Limit] = Field(default_factory=dict)
    settings: dict[Name, Setting] = Field(default_factory=dict)
    fluids: dict[Name, Fluid] = Field(default_factory=dict)
    intervals: dict[JobName, Interval] = Field(default_factory=dict)
    silences: Silences
