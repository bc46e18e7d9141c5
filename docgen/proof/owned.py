"""What a step's own keys say in figures: torques, waits, amounts, limits; what its text is held against."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from fractions import Fraction

from docgen.club.catalogue import ENGLISH
from docgen.club.schema.model import Limit, Setting
from docgen.club.schema.procedure import Step
from docgen.club.uses import SUBSTITUTION
from docgen.job.figures import Figures, tightness, torque_of
from docgen.proof.figures import Figure, figures
from docgen.trade.quantity import Band, Quantity, QuantityError
from docgen.trade.units import factor


@dataclass(frozen=True)
class Own:
    """A figure of a step: what it is of, and its band; one that is set is met only by its very figures."""

    what: str
    band: Band
    is_set: bool = False

    def ends(self) -> Iterator[tuple[str, Fraction]]:
        """Its figures: the lower end, the upper one, the one to aim at."""
        for name, value in (("least", self.band.low), ("most", self.band.high), ("aim", self.band.nominal)):
            if value is not None:
                yield name, Fraction(value)

    def meets(self, figure: Figure) -> bool:
        """Whether a figure of the text says the same, or something within."""
        low, high = (one.exactly(self.band.unit) for one in (figure.low, figure.high))
        ends = dict(self.ends())
        if figure.bound in ("most", "least"):
            return high == ends.get(figure.bound)
        if figure.bound or (low == high and self.is_set):
            return high in ends.values()
        if low != high:
            return low == ends.get("least") and high == ends.get("most")
        return self.band.contains(figure.high)

    def same_units(self, figure: Figure) -> bool:
        """Whether text and key use one unit, or two that differ by a power of ten."""
        ratio = factor(figure.high.unit, self.band.unit)
        return figure.high.unit == self.band.unit or _power_of_ten(ratio)


def _power_of_ten(ratio: Fraction) -> bool:
    larger = ratio if ratio >= 1 else 1 / ratio
    return larger.denominator == 1 and str(larger.numerator).strip("0") == "1"


def own_figures(step: Step, of: Figures) -> Iterator[Own]:
    """Every figure that the step's keys stand for."""
    for name in (name for name in step.tightens if name.partition("/")[0] in of.model.fasteners):
        fastener, torque = of.fastener(name), torque_of(tightness(of, name))
        for band in (torque, *fastener.stages, fastener.angle):
            if band is not None:
                yield Own(f"{name} is tightened", band, is_set=True)
        locker = of.club.materials.get(fastener.locker or "")
        for time in (locker.cures.handling, locker.cures.full) if locker and locker.cures else ():
            yield Own(f"{fastener.locker} cures", _exactly(time), is_set=True)
    if step.wait:
        yield Own("the wait", _exactly(step.wait.for_), is_set=True)
    used = [(name, use.amount) for name, use in step.applies.items()]
    used += [(clean.material or name, clean.amount) for name, clean in step.cleans.items()]
    yield from (Own(f"the amount of {name}", _exactly(amount), is_set=True) for name, amount in used if amount)
    filled = ((name, of.model.fluids[name].amount) for name in step.fills if name in of.model.fluids)
    yield from (Own(f"the amount of {name}", amount) for name, amount in filled if amount)
    yield from _measured(step, of)


def _measured(step: Step, of: Figures) -> Iterator[Own]:
    in_text = [name for key in ("do", "row", "adds") for name in SUBSTITUTION.findall(getattr(step, key) or "")]
    limits = [*(step.measure.of if step.measure else ()), *in_text]
    for name in (name for name in dict.fromkeys(limits) if name in of.model.limits):
        limit = of.limit(name)
        yield from (Own(name, band) for band in (limit.allow, limit.new) if band)
    settings = (name for name in dict.fromkeys((*step.finds, *step.sets, *in_text)) if name in of.model.settings)
    for name in settings:
        setting = of.setting(name)
        yield from (Own(name, band) for band in (setting.start, setting.ceiling and _exactly(setting.ceiling)) if band)


def drives(step: Step, of: Figures) -> Iterator[Own]:
    """The sizes of what turns the step's fasteners: `hex 17 mm` is 17 mm."""
    for name in (*step.undoes, *step.starts, *step.tightens):
        if name.partition("/")[0] in of.model.fasteners:
            for figure in figures(of.fastener(name).drive or "", ENGLISH):
                yield Own(f"the drive of {name}", _exactly(figure.high), is_set=True)


def sizes(step: Step, of: Figures) -> Iterator[Own]:
    """The sizes of the parts that the step puts on, where the model gives them with a unit."""
    for name in (*step.fits, *step.renews):
        if name.partition("/")[0] in of.model.parts:
            for figure in figures(of.part(name).size or "", ENGLISH):
                yield Own(f"the size of {name}", _exactly(figure.high), is_set=True)


def beside(step: Step, of: Figures) -> Iterator[Quantity]:
    """Figures that stand in names and places: of tools and gauges, where a limit is taken, from where it counts."""
    club, model = of.club, of.model
    texts: list[str] = [club.tools[name].name for name in step.tools if name in club.tools]
    for name in (name for name in (step.measure.of if step.measure else ()) if name in model.limits):
        texts += _texts(model.limits[name])
    for name in (name for name in (*step.finds, *step.sets) if name in model.settings):
        texts += _texts(model.settings[name])
    gauges = {getattr(one, "gauge", None) for one in _looked_up(step, of)}
    texts += [club.gauges[name].name for name in gauges if name in club.gauges]
    texts += [step.repeat.until] if step.repeat else []
    for text in texts:
        for figure in figures(text, ENGLISH):
            yield from (figure.low, figure.high)


def _looked_up(step: Step, of: Figures) -> Iterable[Limit | Setting]:
    limits, settings = of.model.limits, of.model.settings
    measured = step.measure.of if step.measure else ()
    return [*(limits[n] for n in measured if n in limits),
            *(settings[n] for n in (*step.finds, *step.sets) if n in settings)]  # fmt: skip


def _texts(one: Limit | Setting) -> list[str]:
    places = [*one.positions, one.where] if isinstance(one, Limit) else [one.datum, *one.note_also]
    return [text for text in (one.name, *places) if text]


def _exactly(quantity: Quantity) -> Band:
    return Band(quantity.value, quantity.value, quantity.unit, quantity.value, str(quantity))


def comparable(figure: Figure, own: Own) -> bool:
    """Whether the two measure the same kind of thing."""
    try:
        factor(figure.high.unit, own.band.unit)
    except QuantityError:
        return False
    return True
