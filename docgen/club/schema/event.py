"""``engines/NNN/log/*.yaml``: one event of an engine's life a file, written once and never edited."""

import re
from typing import Annotated, Any, Literal, Self, get_args

from pydantic import BeforeValidator, Field, model_validator

from docgen.club.schema.base import (
    AnyBand,
    AnyQuantity,
    Day,
    Flag,
    ItemName,
    JobName,
    Length,
    LimitName,
    Listed,
    Member,
    ModelMembers,
    Name,
    Names,
    PartName,
    SettingName,
    Strict,
    Text,
    Texts,
    Time,
    TorqueBand,
    Whole,
    fault,
    of_form,
)
from docgen.club.schema.engine import EngineNumber
from docgen.club.schema.model import Boss, Drive, InsertLength, Interval, Orientation, Thread

_DIGEST = re.compile(r"[0-9a-f]{12,64}")
_SIGNED = re.compile(r"signed/[A-Za-z0-9][A-Za-z0-9_-]{0,80}\.(pdf|jpg|png|webp|heic|tif)")


_BY_PROGRAM = "events are written by the program: leave it as it was written"
_OF_DIGEST = of_form(_DIGEST, "bad-digest", "a digest", _BY_PROGRAM)
Digest = Annotated[str, _OF_DIGEST]
SignedFile = Annotated[str, of_form(_SIGNED, "bad-file-name", "a signed sheet beside this log", _BY_PROGRAM)]


def _finding(value: Any) -> Any:
    event, stroke, which = value.partition("/") if isinstance(value, str) else (value, "", "")
    if stroke and not re.fullmatch(r"[a-z0-9-]{1,80}", which):
        raise fault("bad-digest", f'"{value}" names no finding', _BY_PROGRAM)
    _OF_DIGEST.read(event)
    return value


FindingOf = Annotated[str, BeforeValidator(_finding)]
"""A finding by the digest of its event, with ``/n`` behind it for one of several."""


class Event(Strict):
    """What every event says: its day, who wrote it down, the events it follows."""

    date: Day
    by: Text | None = None
    parents: tuple[Digest, ...] = ()
    note: Text | None = None


class Run(Event):
    """Running time; ``sessions`` keeps it as the member gave it (``3 x 12 min``)."""

    event: Literal["run"]
    hours: Time
    sessions: Text | None = None
    meeting: Text | None = None
    peak_speed: AnyQuantity | None = None
    peak_temperature: AnyQuantity | None = None
    air: Text | None = None
    needles: Text | None = None
    fuel: Text | None = None
    batch: Text | None = None


class Seal(Strict):
    removed: Text | None = None
    fitted: Text | None = None
    permission: Text | None = None


class AsFoundAsLeft(Strict):
    found: Text | None = None
    left: Text | None = None


class Tightened(Strict):
    """A fastener's row: how its thread was, the wrench used, the paint mark; ``value`` where the sheet left it open."""

    thread: Text | None = None
    wrench: Text | None = None
    painted: Flag = False
    value: Text | None = None


class Held(Strict):
    """A hold point: the second person, or the preparer's own later re-check and when it was."""

    second: Text | None = None
    own: Flag = False
    at: Text | None = None


class Waited(Strict):
    start: Text | None = None
    finish: Text | None = None


class Signed(Strict):
    """A name under the work; ``signature`` is what was typed into its field, which proves nothing by itself."""

    by: Text | None = None
    on: Day | None = None
    signature: Text | None = None


class FirstRun(Strict):
    """When the checks after the first run were made, and by whom."""

    on: Day | None = None
    time: Text | None = None
    by: Text | None = None


class NextDue(Strict):
    what: Text | None = None
    hours: Time | None = None
    on: Day | None = None


class DealtWith(Strict):
    """An earlier finding that this work closed: its event's digest, with ``/n`` behind it for one of several."""

    finding: Text
    how: Text | None = None


class LeadsOn(Strict):
    """A check that was not good and leads on: what was found, the job and the spares that it asks for."""

    check: Name
    what: Text
    calls: JobName | None = None
    spares: ModelMembers = ()


class Picture(Strict):
    """A picture of one page of a signed sheet, as it was taken."""

    page: Whole
    file: SignedFile
    digest: Digest


class Service(Event):
    """A signed sheet: what was done, read, renewed and found.

    ``checked`` says good, not good or done for each point; ``blank`` names the rows left empty; ``struck`` says which
    entries were struck through on the paper (``voided`` names them on sheets that had a box for it).
    ``readings_before`` are those of a limit that was measured twice. A line of the remarks is either still open
    (``findings``) or needs nothing more (``remarks``). ``leads_on`` are the checks whose failure calls for a job or a
    spare; ``calls`` the same of sheets filed before it was there. ``file`` is the signed PDF, ``printed`` the digest of
    the frozen job that the sheet was judged by.
    """

    event: Literal["service"]
    procedure: JobName
    revision: Whole
    sheet: Text | None = None
    instructions: Digest | None = None
    issue: Digest | None = None
    printed: Digest | None = None
    hours: Time | None = None
    readings: dict[LimitName, Annotated[tuple[AnyQuantity, ...], Listed]] = Field(default_factory=dict)
    renewed: dict[ItemName, Text] = Field(default_factory=dict)
    settings: dict[SettingName, AsFoundAsLeft] = Field(default_factory=dict)
    seals: dict[PartName, Seal] = Field(default_factory=dict)
    checked: dict[Name, Text] = Field(default_factory=dict)
    blank: Names = ()
    findings: Texts = ()
    second: Text | None = None
    file: SignedFile | None = None
    file_digest: Digest | None = None
    pictures: tuple[Picture, ...] = ()
    started: Day | None = None
    readings_before: dict[Name, Annotated[tuple[AnyQuantity, ...], Listed]] = Field(default_factory=dict)
    torques: dict[Member, Tightened] = Field(default_factory=dict)
    holds: dict[Name, Held] = Field(default_factory=dict)
    waits: dict[Name, Waited] = Field(default_factory=dict)
    initials: dict[Name, Text] = Field(default_factory=dict)
    voided: Names = ()
    calls: Names = ()
    leads_on: tuple[LeadsOn, ...] = ()
    remarks: Texts = ()
    struck: Text | None = None
    dealt_with: tuple[DealtWith, ...] = ()
    first_run: FirstRun | None = None
    released: Signed | None = None
    seconded: Signed | None = None
    next_due: NextDue | None = None


class Finding(Event):
    """Something seen that is not as it should be; open until a service of ``calls`` or an event ``closes`` it."""

    event: Literal["finding"]
    finding: Text
    item: Name | None = None
    calls: JobName | None = None
    closes: FindingOf | None = None


class Changed(Strict):
    """What a deviation changes of the model's figures. A new thread voids torque, drive and source of the old one; a
    thread insert voids the torque, which was given for the bare boss."""

    thread: Thread | None = None
    grade: Text | None = Field(default=None, alias="class")
    drive: Drive | None = None
    torque: TorqueBand | None = None
    by_feel: Text | None = None
    boss: Boss | None = None
    insert: InsertLength | None = None
    number: Text | None = None
    orientation: Orientation | None = None
    size: Text | None = None
    new: AnyBand | None = None
    allow: AnyBand | None = None
    start: AnyBand | None = None
    engaged: Length | None = None
    source: Text | None = None


class Deviation(Event):
    """Where this engine is not as its model: a re-tapped thread, an oversize bore, a part left out."""

    event: Literal["deviation"]
    item: ItemName
    what: Text
    why: Text | None = None
    changes: Changed | None = None
    left_out: Flag = False
    ends: Digest | None = None


class SettingMade(Event):
    """A setting changed away from a service, at the track for example."""

    event: Literal["setting"]
    setting: SettingName
    value: Text


class ComponentMoved(Event):
    """A numbered component came off, went on, or both.

    ``removed_seal`` and ``fitted_seal`` are the seals on them, which go with them.
    ``to`` is the engine that the removed one went to, ``came_from`` the engine that the fitted one came off. Such a
    move stands in both engines' logs; the event written second names the first as its ``counterpart``, so that a
    first one that was left alone is seen. ``before`` is what a component new to the record had run before.
    """

    event: Literal["component"]
    component: PartName
    removed: Text | None = None
    removed_seal: Text | None = None
    to: EngineNumber | None = None
    fitted: Text | None = None
    fitted_seal: Text | None = None
    came_from: EngineNumber | None = None
    before: Time | None = None
    counterpart: Digest | None = None

    @property
    def other(self) -> str | None:
        """The other engine of a move between two."""
        return self.to or self.came_from


class OwnerChanged(Event):
    event: Literal["owner"]
    keeper: Text


class Correction(Event):
    """Names an earlier event that was wrong and says what holds instead; the earlier file stays as it is."""

    event: Literal["correction"]
    corrects: Digest
    why: Text
    instead: dict[str, Any] | None = None


class Joined(Event):
    """Brings two branches of the history together again after both were filed apart."""

    event: Literal["joined"]


class IntervalSet(Event):
    """This engine's own interval for a job, over the model's and the procedure's."""

    event: Literal["interval"]
    procedure: Name
    every: Interval
    why: Text | None = None


class Rebuilt(Event):
    """The engine was rebuilt, in the one sense in which hours since then may be claimed.

    14 CFR 91.421(c), as a model of the word: completely disassembled, inspected, repaired as necessary, reassembled,
    tested, and approved to the limits of a new one. Each is said by itself, and one that is not true is no rebuild.
    """

    event: Literal["rebuilt"]
    approved_by: Text
    disassembled: Flag
    inspected: Flag
    repaired: Flag
    reassembled: Flag
    tested: Flag
    new_limits: Flag
    sheets: Texts = ()

    @model_validator(mode="after")
    def _whole(self) -> Self:
        missing = [name for name in REBUILT if not getattr(self, name)]
        if missing:
            message = f"an engine that was not {REBUILT[missing[0]]} was not rebuilt"
            raise fault("not-a-rebuild", message, "file the work that was done as services")
        return self


REBUILT = {
    "disassembled": "completely disassembled",
    "inspected": "inspected",
    "repaired": "repaired as necessary",
    "reassembled": "reassembled",
    "tested": "tested",
    "new_limits": "approved to the limits of a new one",
}
"""What makes a rebuild, in the words of the card."""

KINDS: dict[str, type[Event]] = {
    get_args(kind.model_fields["event"].annotation)[0]: kind for kind in Event.__subclasses__()
}
