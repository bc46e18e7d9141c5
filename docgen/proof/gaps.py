"""Torques that no rule can hold against the standards, and why: said, so that nobody takes silence for proof."""

from collections.abc import Iterator
from dataclasses import dataclass

from docgen.club.folder import Folder
from docgen.club.schema.model import Fastener
from docgen.job.estimates import joint_of
from docgen.proof.rules.torque_too_high import screw_only
from docgen.trade.errors import TradeError
from docgen.trade.materials import property_class
from docgen.trade.threads import thread


@dataclass(frozen=True)
class Unchecked:
    """One torque: where, which fastener, what of it is not checked (`screw` or `boss`), and why."""

    path: str
    line: int
    fastener: str
    side: str
    why: str

    def __str__(self) -> str:
        what = "its torque" if self.side == "screw" else "the thread that it goes into"
        return f"{self.path}:{self.line} {self.fastener}: {what} is not checked, because {self.why}"


def unchecked(folder: Folder) -> Iterator[Unchecked]:
    """Every torque of every model of which a side is not checked; what cannot be read is left out."""
    for _, read in sorted(folder.models.items()):
        for name, fastener in read.value.fasteners.items():
            if fastener.torque is not None:
                for side, why in sorted(_reasons(fastener).items(), reverse=True):
                    line = read.document.at(("fasteners", name, "torque"))[0]
                    yield Unchecked(read.document.path, line, name, side, why)


def _reasons(fastener: Fastener) -> dict[str, str]:
    why = _of_screw(fastener)
    if why:
        return {"screw": why}
    boss = fastener.boss
    known = {"drive": None, "grade": fastener.grade or "8.8"}
    if boss is None or joint_of(fastener.model_copy(update=known)):
        return {}
    return {"boss": f"the strength of {boss.material} is in no table" if boss.engaged else "no engaged length is given"}


def _of_screw(fastener: Fastener) -> str:
    if fastener.thread is None:
        return "the model gives no thread"
    if fastener.torque is not None and fastener.torque.high is None:
        return "it has no upper end"
    try:
        thread(fastener.thread.removesuffix(" left"))
        property_class(fastener.grade or "8.8")
    except TradeError as error:
        return error.message
    bare = screw_only(fastener)
    joint = joint_of(bare if bare.grade else bare.model_copy(update={"grade": "8.8"}))
    return "" if joint else "no standard head is known for its thread"
