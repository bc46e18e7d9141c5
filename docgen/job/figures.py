"""One engine's own figures: its model's, with the deviations in force laid over them.

A value comes from this engine's deviation, else from the model (the maker), else it is computed and
marked as an estimate, else the line stays blank. A new thread voids the maker's torque, angle, feel,
drive and source of the old one; a thread insert voids all but the drive, since the screw stays.
"""

from dataclasses import dataclass
from typing import Any

from docgen.club.schema.club import Club
from docgen.club.schema.event import Changed
from docgen.club.schema.model import Fastener, Limit, Model, Part, Setting
from docgen.club.words import Words
from docgen.job import wording
from docgen.job.figure import Figure, Origin
from docgen.job.state import EngineState
from docgen.trade.quantity import Band
from docgen.trade.units import find_unit

GIVEN = ("thread", "grade", "drive", "torque", "by_feel", "boss", "insert", "number", "orientation", "source")
"""What a deviation may say of a fastener instead."""
VOIDED = ("torque", "angle", "by_feel", "stages", "drive", "grade", "source")
VOIDED_BY_INSERT = ("torque", "angle", "by_feel", "stages", "source")


@dataclass(frozen=True)
class Figures:
    """The figures that hold for one engine."""

    club: Club
    model: Model
    state: EngineState

    @property
    def words(self) -> Words:
        """The program's words in the club's language."""
        return Words.speaking(self.club.language)

    def in_text(self, name: str) -> str:
        """What an item, limit or setting is called inside a sentence."""
        return wording.in_text(self.name(name), self.words)

    def changed(self, name: str) -> Changed | None:
        """What the deviation in force for an item changes."""
        deviation = self.state.deviation_of(name.partition("/")[0])
        return deviation.changes if deviation else None

    def _given(self, name: str, *keys: str) -> dict[str, Any]:
        """What it gives instead."""
        changes = self.changed(name)
        return {key: value for key in keys if changes and (value := getattr(changes, key))}

    def fastener(self, name: str) -> Fastener:
        """The fastener as it is on this engine."""
        base = self.model.fasteners[name.partition("/")[0]]
        changes = self.changed(name)
        if changes is None:
            return base
        void = VOIDED if changes.thread else VOIDED_BY_INSERT if changes.insert else ()
        voided = {key: Fastener.model_fields[key].default for key in void}
        given = {key: value for key in GIVEN if (value := getattr(changes, key)) is not None}
        return base.model_copy(update={**voided, **given})

    def part(self, name: str) -> Part:
        """The part as it is on this engine; what fits a thread that is another one here goes by that thread's size."""
        base = self.model.parts[name.partition("/")[0]]
        followed = self.changed(base.follows) if base.follows else None
        given: dict[str, Any] = {"number": None, "size": followed.thread} if followed and followed.thread else {}
        given |= self._given(name, "number", "orientation", "size")
        return base.model_copy(update=given) if given else base

    def item(self, name: str) -> Part | Fastener:
        """The part or fastener that a name means."""
        return self.part(name) if name.partition("/")[0] in self.model.parts else self.fastener(name)

    def limit(self, name: str) -> Limit:
        """The limit as it is for this engine."""
        base, given = self.model.limits[name], self._given(name, "new", "allow")
        return base.model_copy(update=given) if given else base

    def setting(self, name: str) -> Setting:
        """The setting as it is for this engine."""
        base, given = self.model.settings[name], self._given(name, "start")
        return base.model_copy(update=given) if given else base

    def name(self, name: str) -> str:
        """What an item, limit or setting is called on paper."""
        base = name.partition("/")[0]
        for group in (self.model.parts, self.model.fasteners, self.model.limits, self.model.settings):
            if base in group:
                return wording.item_name(name, group[base].name)
        return wording.item_name(name, None)

    def called(self, name: str) -> str:
        """What the bench calls an item, for a row of the leaf: its short name, else its name inside a sentence."""
        base = name.partition("/")[0]
        item = self.model.parts.get(base) or self.model.fasteners.get(base)
        return wording.item_name(name, item.called) if item and item.called else self.in_text(name)

    def origin(self, name: str, key: str) -> Origin:
        """Whether a figure comes from this engine's deviation or from its model."""
        changes = self.changed(name)
        return "deviation" if changes is not None and getattr(changes, key, None) is not None else "model"

    def banded(self, name: str, key: str, band: Band | None, source: str | None) -> Figure:
        """A range with where it comes from, or a blank line."""
        if band is None:
            return Figure(origin="blank")
        return Figure(band=band, origin=self.origin(name, key), source=source or "")


def tightness(figures: Figures, name: str) -> Figure:
    """How far a fastener is tightened: torque, else angle, else by feel, else an estimate, else a blank line.

    What a catch holds has no figure and no words.
    """
    fastener = figures.fastener(name)
    if fastener.torque is not None:
        return figures.banded(name, "torque", fastener.torque, fastener.source)
    if fastener.angle is not None:
        return figures.banded(name, "angle", fastener.angle, fastener.source)
    if fastener.by_feel:
        return Figure(words=fastener.by_feel, origin=figures.origin(name, "by_feel"), source=fastener.source or "")
    if fastener.catch:
        return Figure(origin="model")
    from docgen.job.estimates import estimated

    found = estimated(fastener)
    if found is not None:
        return Figure(band=found.torque, origin="computed", assumptions=found.assumptions, governs=found.governs)
    return Figure(origin="blank")


def torque_of(value: Figure) -> Band | None:
    """The torque that a wrench is set to; None for an angle, for words, and for a blank line."""
    return value.band if value.band is not None and "torque" in find_unit(value.band.unit).dimensions else None
