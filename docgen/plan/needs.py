"""What a set of jobs needs: tools, materials, spares, added up over all of them; the sum of single jobs, no more."""

from collections.abc import Iterable
from dataclasses import dataclass, field

from docgen.club.sidefiles import article
from docgen.job.job import Job, SpareLine
from docgen.job.marks import ApplyMark
from docgen.trade.quantity import Quantity
from docgen.trade.units import find_unit


@dataclass(frozen=True, order=True)
class Use:
    """The job that needs something: engine and sheet code."""

    engine: str
    code: str


@dataclass
class ToolNeed:
    """A tool to lay out; ``id`` is its name in the register, empty for one that the club has not registered."""

    id: str
    name: str
    uses: list[Use] = field(default_factory=list)


@dataclass
class MaterialNeed:
    """A material: the amounts that steps state, one a dimension, and how many jobs use it without stating one."""

    id: str
    name: str
    amounts: list[Quantity] = field(default_factory=list)
    unstated: int = 0
    uses: list[Use] = field(default_factory=list)


@dataclass
class PartNeed:
    """A spare. Those without a part number are kept apart by engine type.

    sure : pieces that are fitted for sure
    may  : pieces that would be fitted if every check failed
    hand : the most that one job alone may ask for: to have at hand, and to renew from the order
    """

    key: str
    number: str
    name: str
    model: str
    sure: int = 0
    may: int = 0
    hand: int = 0
    uses: list[Use] = field(default_factory=list)


@dataclass(frozen=True)
class Needs:
    """Everything to lay out. ``uses`` are the jobs themselves, in their order."""

    uses: tuple[Use, ...]
    tools: tuple[ToolNeed, ...]
    materials: tuple[MaterialNeed, ...]
    parts: tuple[PartNeed, ...]


def needs(jobs: Iterable[Job]) -> Needs:
    """What the jobs need together."""
    tools: dict[tuple[str, str], ToolNeed] = {}
    materials: dict[str, MaterialNeed] = {}
    parts: dict[str, PartNeed] = {}
    uses: list[Use] = []
    for job in jobs:
        told = job.instructions
        use = Use(told.engine, told.code)
        uses.append(use)
        for tool in told.tools:
            tools.setdefault((tool.id, tool.name), ToolNeed(tool.id, tool.name)).uses.append(use)
        silent = {mark.material for step in told.steps for mark in step.marks
                  if isinstance(mark, ApplyMark) and not mark.amount}  # fmt: skip
        for line in told.materials:
            need = materials.setdefault(line.id, MaterialNeed(line.id, line.name))
            need.uses.append(use)
            need.unstated += not line.amounts or line.name in silent
            need.amounts = added(need.amounts, line.amounts)
        for spare in _spares(job):
            key = article(spare.number) or f"{told.model}/{spare.item}"
            part = parts.setdefault(key, PartNeed(key, spare.number, spare.name, told.model_title))
            part.uses.append(use)
            part.sure += spare.count if spare.sure else 0
            part.may += 0 if spare.sure else spare.count
            part.hand = max(part.hand, 0 if spare.sure else spare.count)
    return Needs(tuple(uses), tuple(tools.values()), tuple(materials.values()), tuple(parts.values()))


def _spares(job: Job) -> tuple[SpareLine, ...]:
    """A job's spares; one that an open finding asks for is fitted for sure."""
    wanted = {line.item: line for line in job.issue.wanted}
    lines = [line if line.sure else wanted.get(line.item, line) for line in job.instructions.spares]
    return (*lines, *(line for line in job.issue.wanted if line.item not in {one.item for one in lines}))


def added(sums: Iterable[Quantity], more: Iterable[Quantity]) -> list[Quantity]:
    """Amounts added to sums of their own dimension; each sum keeps its unit, and a new dimension brings its own."""
    found = list(sums)
    for amount in more:
        for at, so_far in enumerate(found):
            if set(find_unit(so_far.unit).dimensions) & set(find_unit(amount.unit).dimensions):
                found[at] = Quantity(so_far.value + amount.to(so_far.unit).value, so_far.unit)
                break
        else:
            found.append(amount)
    return found
