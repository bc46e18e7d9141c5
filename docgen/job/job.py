"""The Job: what a sheet is printed from, and what is frozen beside it.

``Instructions`` hold what stays true of this engine until its procedure, model or deviations change:
they fill the laminated leaf. ``Issue`` holds what changes with every filing: date, hours, last
readings, open findings. Each has a digest over its canonical JSON; the first says whether a sheet on
the wall is current, the second whether this very sheet has been filed already.
"""

import hashlib
import json
from dataclasses import dataclass
from datetime import date
from functools import lru_cache
from itertools import groupby
from typing import Any, ClassVar, NamedTuple

from pydantic import Field

from docgen.club.catalogue import ENGLISH
from docgen.club.frozen import Frozen, QuantityText
from docgen.club.schema.procedure import GRAVEST
from docgen.club.schema.prose import Line
from docgen.club.verbs.boxes import Box, Tick
from docgen.job.marks import Mark
from docgen.job.number import UNNAMED


class Message(Frozen):
    """A safety message, placed before its step."""

    word: str
    hazards: tuple[str, ...] = ()
    hazard: Line
    consequence: Line
    avoid: Line
    line: Line = ""


class JobStep(Frozen):
    """One numbered action.

    row   : the number of the bench leaf's row that it stands in; 0 in a job that was frozen before there were leaves,
            and where the leaf does without it
    line  : the row's text, on the step that begins it
    label : what the papers call the step: ``7``, or ``7b`` where row 7 gathers several
    jobs  : the jobs of a visit that it is done for, by name; none where the sheet is of one job
    """

    number: int
    key: str
    text: Line
    why: Line = ""
    messages: tuple[Message, ...] = ()
    marks: tuple[Mark, ...] = ()
    takes: QuantityText | None = None
    tools: tuple[Line, ...] = ()
    row: int = 0
    line: Line = ""
    label: str = ""
    jobs: tuple[str, ...] = ()

    @property
    def called(self) -> str:
        """What the papers call the step."""
        return self.label or str(self.number)


class JobRow(NamedTuple):
    """A row of the bench leaf, and the steps that it gathers."""

    number: int
    line: str
    steps: tuple[JobStep, ...]

    @property
    def messages(self) -> tuple[Message, ...]:
        """What stands directly before it: each line once, the gravest first."""
        said = {(one.word, one.line or one.hazard): one for step in self.steps for one in step.messages}
        return tuple(sorted(said.values(), key=lambda one: GRAVEST.index(one.word)))


class JobStage(Frozen):
    title: Line
    steps: tuple[JobStep, ...]

    @property
    def rows(self) -> tuple[JobRow, ...]:
        """Its rows on the bench leaf; in a job without any, each step is one."""
        if not any(step.row for step in self.steps):
            return tuple(JobRow(step.number, step.text, (step,)) for step in self.steps)
        groups = groupby((step for step in self.steps if step.row), key=lambda step: step.row)
        gathered = [(number, tuple(group)) for number, group in groups]
        return tuple(JobRow(number, group[0].line, group) for number, group in gathered)


class ToolLine(Frozen):
    """A tool to lay out, and what it is for."""

    id: str
    name: Line
    used_for: str = ""


class MaterialLine(Frozen):
    id: str
    name: Line
    amounts: tuple[QuantityText, ...] = ()
    classed: tuple[Line, ...] = ()
    waste: Line = ""


class SpareLine(Frozen):
    """A part that is needed for sure, or to have at hand."""

    item: str
    name: Line
    number: Line = ""
    count: int = 1
    sure: bool = False


class Cure(Frozen):
    """What cures longest of all that the job puts on: the engine is neither started nor cranked before.

    why   : the reason, as "Threadlocker cures"
    items : what it holds
    after : the label of the last step that puts it on; from its end the time counts
    """

    time: QuantityText
    why: Line
    items: tuple[Line, ...] = ()
    after: str = ""


class DeviationLine(Frozen):
    """Where this engine is not as its model."""

    item: str
    name: Line
    what: str
    dated: date
    figures: tuple[str, ...] = ()
    voids: str = ""


class SealLine(Frozen):
    item: str
    name: Line
    number: str


class Check(Frozen):
    """A closing check, or one after the first run."""

    key: str
    text: Line
    accept: Line = ""

    @property
    def closing_box(self) -> str:
        """Its box where it is a closing check."""
        return f"closing-{self.key}"

    @property
    def after_run_box(self) -> str:
        """Its box where it is one after the first run; the event keeps it by the same name."""
        return f"after-run-{self.key}"


class Part(Frozen):
    """One job of a visit: what its own event is filed as, and the checks by their keys that it asks for."""

    procedure: str
    title: Line
    code: str
    revision: int
    closing: tuple[str, ...] = ()
    after_run: tuple[str, ...] = ()

    @property
    def box(self) -> str:
        """The box that says that it is complete."""
        return f"job-{self.procedure}"


@dataclass(frozen=True)
class OpenFinding:
    """A finding that the sheet lists as open, and its boxes: whether it is dealt with, and how."""

    number: int
    text: str

    done_box: ClassVar = Tick("done")
    how_box: ClassVar = Box("how")

    @property
    def key(self) -> str:
        return f"open-finding-{self.number}"


class Saved(Frozen):
    """What a visit saves: removals and minutes of its jobs one by one, and of the visit; both counted by simulation.

    removals : items undone or taken off, those of one step that are alike as one
    fewest   : whether it was proved that no order has fewer removals, nor as few in less time
    """

    removals_apart: int
    removals: int
    minutes_apart: int
    minutes: int
    fewest: bool = False


class Instructions(Frozen):
    """What the sheet tells its reader to do to this engine.

    ``unproofed`` counts the faults it was printed with; ``adapted`` says what the club changed in what it received.
    ``component_names`` says what the numbered components are called where that is not what the files call them.
    ``parts`` are the jobs of a visit, in which several are done at once; ``saved`` says what that saves.
    ``language`` is empty for English, so that what was printed before there were others keeps its digest.
    """

    engine: str
    serial: str = ""
    language: str = ""
    model: str
    model_title: Line
    manual: Line
    components: dict[str, str] = {}
    component_names: dict[str, Line] = {}
    procedure: str
    title: Line
    code: str
    revision: int
    dated: date
    author: str = ""
    licence: str = ""
    adapted: str = ""
    purpose: Line = ""
    every: str = ""
    before: tuple[Line, ...] = ()
    tools: tuple[ToolLine, ...] = ()
    materials: tuple[MaterialLine, ...] = ()
    spares: tuple[SpareLine, ...] = ()
    deviations: tuple[DeviationLine, ...] = ()
    seals: tuple[SealLine, ...] = ()
    stages: tuple[JobStage, ...]
    closing: tuple[Check, ...] = ()
    after_run: tuple[Check, ...] = ()
    work_minutes: int = 0
    wait_minutes: int = 0
    wait_governs: str = ""
    longest_cure: Cure | None = None
    unproofed: int = 0
    parts: tuple[Part, ...] = ()
    saved: Saved | None = None

    @property
    def tongue(self) -> str:
        """The language that the sheet is printed in."""
        return self.language or ENGLISH

    @property
    def plate(self) -> str:
        """The engine's number as it stands on the plate; empty for one that is not in the records yet."""
        return "" if self.engine == UNNAMED else self.engine

    @property
    def steps(self) -> tuple[JobStep, ...]:
        """All steps in their order."""
        return tuple(step for stage in self.stages for step in stage.steps)


class PastReading(Frozen):
    """A reading from the log; ``hours`` are the engine's when it was taken."""

    date: date
    hours: QuantityText
    values: tuple[QuantityText, ...]


class Done(Frozen):
    """When the job was last done: the day, and the engine's hours then."""

    on: date
    hours: QuantityText


class Issue(Frozen):
    """What is true on the day of printing only.

    hours  : on the engine; ``since_began`` says that they are those since its record began
    wanted : the spares that open findings ask this job to fit
    """

    on: date
    keeper: str = ""
    hours: QuantityText | None = None
    since_began: bool = False
    log_head: str = ""
    last_done: Done | None = None
    why_due: str = ""
    last_readings: dict[str, tuple[PastReading, ...]] = {}
    last_settings: dict[str, str] = {}
    wear: dict[str, str] = {}
    open_findings: tuple[str, ...] = ()
    wanted: tuple[SpareLine, ...] = ()

    @property
    def listed_findings(self) -> tuple[OpenFinding, ...]:
        """The open findings as the sheet lists them."""
        return tuple(OpenFinding(n, text) for n, text in enumerate(self.open_findings, 1))


class Digests(NamedTuple):
    """SHA-256, hexadecimal: of the instructions; of instructions and issue together. The print number is in neither."""

    instructions: str
    issue: str


class Job(Frozen):
    """One printed job: the two halves and the number of the print.

    kept : the digests of a job that was frozen in an earlier format, which its sheet bears
    """

    instructions: Instructions
    issue: Issue
    print: int = 1
    kept: Digests | None = Field(default=None, exclude=True)

    @property
    def digests(self) -> Digests:
        """The digests that the sheet bears."""
        return self.kept or _digests_of(_Very(self.instructions), _Very(self.issue))

    @property
    def instructions_digest(self) -> str:
        """SHA-256 of the instructions, hexadecimal."""
        return self.digests.instructions

    @property
    def issue_digest(self) -> str:
        """SHA-256 of instructions and issue together, hexadecimal."""
        return self.digests.issue


class _Very(NamedTuple):
    """An object as itself, equal to no other: what is the same in all its parts takes long to find out."""

    one: Frozen

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Very) and other.one is self.one

    def __hash__(self) -> int:
        return id(self.one)


@lru_cache(maxsize=8)
def _digests_of(instructions: _Very, issue: _Very) -> Digests:
    """Remembered for the jobs that are at work: each is asked for its digests seven times while it is printed."""
    return digests_of(instructions.one.model_dump(mode="json"), issue.one.model_dump(mode="json"))


def digests_of(instructions: Any, issue: Any) -> Digests:
    """The digests of a job's two halves as plain data."""
    told = digest_of(instructions)
    return Digests(told, hashlib.sha256((told + digest_of(issue)).encode()).hexdigest())


def digest_of(part: Any) -> str:
    """SHA-256 over plain data as JSON with sorted keys and no white space, UTF-8.

    What is empty is left out, so that a sheet printed today keeps its digest when a later version of the program knows
    more about jobs.
    """
    plain = without_empty(part)
    text = json.dumps(plain, sort_keys=True, separators=(",", ":"), ensure_ascii=False)
    return hashlib.sha256(text.encode()).hexdigest()


def without_empty(value: Any) -> Any:
    """Plain data without the keys whose value is empty, nought or false."""
    if isinstance(value, dict):
        return {k: without_empty(v) for k, v in value.items() if v not in ("", None, False, [], {}, ())}
    if isinstance(value, list):
        return [without_empty(v) for v in value]
    return value
