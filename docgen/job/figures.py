"""One engine's own figures: its model's, with the deviations in force laid over them.

A value comes from this engine's deviation, else from the model (the maker), else it is computed and
marked as an estimate, else the line stays blank. A new thread voids the maker's torque, angle, feel,
drive and source of the old one; a thread insert voids all but the drive, since the screw stays.
"""

from __future__ import annotations

from dataclasses import dataclass

from docgen.club.schema.club import Club
from docgen.club.schema.event import Changed, Deviation
from docgen.club.schema.model import Fastener, Limit, Model, Part, Setting
from docgen.job import wording
from docgen.job.estimates import estimated
from docgen.job.marks import Origin, Value
from docgen.job.state import EngineState
from docgen.job.tradewords import of_trade
from docgen.job.words import JobWords
from docgen.trade.quantity import Band

VOIDED = ("torque", "angle", "by_feel", "stages", "drive", "grade", "source")
VOIDED_BY_INSERT = ("torque", "angle", "by_feel", "stages", "source")


@dataclass(frozen=True)
class Figures:
    """The figures that hold for one engine."""

    club: Club
    model: Model
    state: EngineState

    @property
    def words(self) -> JobWords:
        """The program's words in the club's language."""
        return JobWords.speaking(self.club.language)

    @property
    def see_manual(self) -> str:
        """What stands beside a blank line."""
        return self.words.see_that_manual.format(manual=self.model.manual)

    def in_text(self, name: str) -> str:
        """What an item, limit or setting is called inside a sentence."""
        return wording.in_text(self.name(name), self.words)

    def changed(self, name: str) -> tuple[Deviation | None, Changed | None]:
        """The deviation in force for an item, and what it changes."""
        deviation = self.state.deviation_of(name.partition("/")[0])
        return deviation, deviation.changes if deviation else None

    def fastener(self, name: str) -> Fastener:
        """The fastener as it is on this engine."""
        base = self.model.fasteners[name.partition("/")[0]]
        _, changes = self.changed(name)
        if changes is None:
            return base
        void = VOIDED if changes.thread else VOIDED_BY_INSERT if changes.insert else ()
        voided = {key: Fastener.model_fields[key].default for key in void}
        given = {
            key: getattr(changes, key)
            for key in (
                "thread",
                "grade",
                "drive",
                "torque",
                "by_feel",
                "boss",
                "insert",
                "number",
                "orientation",
                "source",
            )
            if getattr(changes, key) is not None
        }
        return base.model_copy(update={**voided, **given})

    def part(self, name: str) -> Part:
        """The part as it is on this engine."""
        base = self.model.parts[name.partition("/")[0]]
        _, changes = self.changed(name)
        given = {
            key: getattr(changes, key) for key in ("number", "orientation", "size") if changes and getattr(changes, key)
        }
        return base.model_copy(update=given)

    def item(self, name: str) -> Part | Fastener:
        """The part or fastener that a name means."""
        return self.part(name) if name.partition("/")[0] in self.model.parts else self.fastener(name)

    def limit(self, name: str) -> Limit:
        """The limit as it is for this engine."""
        base = self.model.limits[name]
        _, changes = self.changed(name)
        given = {key: getattr(changes, key) for key in ("new", "allow") if changes and getattr(changes, key)}
        return base.model_copy(update=given)

    def setting(self, name: str) -> Setting:
        """The setting as it is for this engine."""
        base = self.model.settings[name]
        _, changes = self.changed(name)
        return base.model_copy(update={"start": changes.start} if changes and changes.start else {})

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
        _, changes = self.changed(name)
        return "deviation" if changes is not None and getattr(changes, key, None) is not None else "model"

    def banded(self, name: str, key: str, band: Band | None, source: str | None) -> Value:
        """A range as a printed value, or a blank line."""
        if band is None:
            return Value(origin="blank", note=self.see_manual)
        origin = self.origin(name, key)
        return Value(
            text=wording.band(band, self.words),
            origin=origin,
            note=source or ("" if origin == "model" else self.words.this_engine),
        )


def tightness(figures: Figures, name: str) -> tuple[Value, Band | None]:
    """How far a fastener is tightened: torque, else angle, else by feel, else an estimate, else a blank line.

    Beside the printed value, the torque as a band where there is one.
    """
    fastener, w = figures.fastener(name), figures.words
    if fastener.torque is not None:
        return figures.banded(name, "torque", fastener.torque, fastener.source), fastener.torque
    if fastener.angle is not None:
        return figures.banded(name, "angle", fastener.angle, fastener.source), None
    if fastener.by_feel:
        return Value(text=fastener.by_feel, origin=figures.origin(name, "by_feel"), note=fastener.source or ""), None
    if fastener.catch:
        return Value(text=w.fastened, origin="model"), None
    found = estimated(fastener)
    if found is not None:
        assumptions = "; ".join(of_trade(text, w) for text in found.assumptions)
        note = w.estimated.format(assumptions=assumptions, governs=w.sides[found.governs])
        return Value(text=wording.band(found.torque, w), origin="computed", note=note), found.torque
    return Value(origin="blank", note=figures.see_manual), None


def governing(figures: Figures, name: str) -> str:
    """Which side sets the limit of a computed torque: screw, boss or screw thread; empty where none is computed."""
    found = estimated(figures.fastener(name)) if tightness(figures, name)[0].origin == "computed" else None
    return figures.words.sides[found.governs] if found else ""
