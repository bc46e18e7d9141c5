"""A figure in the text is another one than the step's own: its torque, wait, amount, limit, setting or tool."""

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction

from docgen.club.catalogue import ENGLISH
from docgen.club.schema.model import Limit, Setting
from docgen.club.schema.procedure import Step
from docgen.club.uses import SUBSTITUTION
from docgen.job.figures import Figures, tightness, torque_of
from docgen.proof.case import Findings
from docgen.proof.figures import Figure, figures
from docgen.proof.texts import Text
from docgen.trade.quantity import Band, Quantity, QuantityError
from docgen.trade.units import factor

TURNS_WITH = re.compile(
    r"[\s-]*(?:(?:ring|open|box|hex|combination|long|deep|Ring|Steck)[\s-]*)?"
    r"(spanner|socket|wrench|key|bit|hexagon|schlüssel|Schlüssel|nuss|Nuss|einsatz)\b"
)
"""What makes a length the size of a tool: `with the 13 mm socket`."""
IN_SPACE = re.compile(
    r"\s*(?:above|below|from|deep|long|wide|away|apart|behind|before|beside|off|under|along|in front|outside|inside"
    r"|past|beyond|tief|lang|breit|über|unter|vor|hinter|neben)\b"
)
"""What makes a length the place where something is done: `18 mm above the edge`."""


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


def on_text(text: Text) -> Findings:
    """One finding a text, for the first figure that nothing of the step says. Only differences are told."""
    for figure in figures(text.text, text.language):
        if found := _unlike(text, figure):
            yield text.finding(*found)
            return


def _unlike(text: Text, figure: Figure) -> tuple[str, str] | None:
    owns = [own for own in _held_against(text, figure) if _comparable(figure, own)]
    if not owns or any(own.meets(figure) and own.same_units(figure) for own in owns):
        return None
    known = (one for step in text.steps for one in _beside(step, text.case.figures))
    if any(one in (figure.low, figure.high) for one in known):
        return None
    if "time" in figure.dimensions and any(
        own.meets(other) for own in owns for other in figures(text.text, text.language) if _comparable(other, own)
    ):
        return None
    nearest = owns[0]
    verb = "" if nearest.what.endswith(("tightened", "cures")) else " is"
    said = f"the text says {figure.written}, and {nearest.what}{verb} {nearest.band}"
    if not nearest.same_units(figure):
        return f"{said}: one quantity in two units", "write it in the unit that the sheet prints, or leave it out"
    return said, "leave the figure out: the sheet prints it beside the text; or put the wrong one of the two right"


def _held_against(text: Text, figure: Figure) -> Sequence[Own]:
    """The step's figures that a figure of the text could be meant to be."""
    of = text.case.figures
    behind = text.text[figure.start + len(figure.written) :]
    if "length" in figure.dimensions and TURNS_WITH.match(behind):
        return [own for step in text.steps for own in _drives(step, of)]
    owns = [own for step in text.steps for own in _own_figures(step, of)]
    if "length" not in figure.dimensions:
        return owns
    if IN_SPACE.match(behind):
        return []
    reads = any(step.measure or step.finds or step.sets for step in text.steps)
    return owns if reads else [own for step in text.steps for own in _sizes(step, of)]


def _power_of_ten(ratio: Fraction) -> bool:
    larger = ratio if ratio >= 1 else 1 / ratio
    return larger.denominator == 1 and str(larger.numerator).strip("0") == "1"


def _own_figures(step: Step, of: Figures) -> Iterator[Own]:
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
    for name, one in _looked_up(step, of, in_text):
        band = one.ceiling and _exactly(one.ceiling) if isinstance(one, Setting) else one.new
        yield from (Own(name, band) for band in (one.start if isinstance(one, Setting) else one.allow, band) if band)


def _drives(step: Step, of: Figures) -> Iterator[Own]:
    """The sizes of what turns the step's fasteners: `hex 17 mm` is 17 mm."""
    for name in (*step.undoes, *step.starts, *step.tightens):
        if name.partition("/")[0] in of.model.fasteners:
            yield from _in(f"the drive of {name}", of.fastener(name).drive)


def _sizes(step: Step, of: Figures) -> Iterator[Own]:
    """The sizes of the parts that the step puts on, where the model gives them with a unit."""
    for name in (*step.fits, *step.renews):
        if name.partition("/")[0] in of.model.parts:
            yield from _in(f"the size of {name}", of.part(name).size)


def _in(what: str, text: str | None) -> Iterator[Own]:
    return (Own(what, _exactly(figure.high), is_set=True) for figure in figures(text or "", ENGLISH))


def _beside(step: Step, of: Figures) -> Iterator[Quantity]:
    """Figures that stand in names and places: of tools and gauges, where a limit is taken, from where it counts."""
    club, noted = of.club, [one for _, one in _looked_up(step, of)]
    texts: list[str | None] = [club.tools[name].name for name in step.tools if name in club.tools]
    for one in noted:
        texts += [one.name, *((*one.positions, one.where) if isinstance(one, Limit) else (one.datum, *one.note_also))]
    texts += [club.gauges[one.gauge].name for one in noted if one.gauge in club.gauges]
    texts += [step.repeat.until] if step.repeat else []
    for figure in (figure for text in texts if text for figure in figures(text, ENGLISH)):
        yield from (figure.low, figure.high)


def _looked_up(step: Step, of: Figures, also: Iterable[str] = ()) -> Iterator[tuple[str, Limit | Setting]]:
    """The limits and settings that a step measures and notes, and those of some names besides, as on this engine."""
    measured = dict.fromkeys((*(step.measure.of if step.measure else ()), *also))
    yield from ((name, of.limit(name)) for name in measured if name in of.model.limits)
    noted = dict.fromkeys((*step.finds, *step.sets, *also))
    yield from ((name, of.setting(name)) for name in noted if name in of.model.settings)


def _exactly(quantity: Quantity) -> Band:
    return Band(quantity.value, quantity.value, quantity.unit, quantity.value, str(quantity))


def _comparable(figure: Figure, own: Own) -> bool:
    """Whether the two measure the same kind of thing."""
    try:
        factor(figure.high.unit, own.band.unit)
    except QuantityError:
        return False
    return True
