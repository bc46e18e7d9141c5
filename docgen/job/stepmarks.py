"""The marks of one step: what its verbs print in its cells, boxes and rows."""

from collections.abc import Iterable, Iterator
from typing import Any, Literal, cast

from docgen.club.schema.model import Fail, Fastener, Part
from docgen.club.schema.procedure import Step
from docgen.club.schema.prose import like
from docgen.club.uses import SUBSTITUTION
from docgen.club.verbs.mark import AnyMark
from docgen.job import tooling
from docgen.job.figure import Figure
from docgen.job.figures import Figures, tightness, torque_of
from docgen.job.marks import (
    ApplyMark,
    DrawingMark,
    LookMark,
    Mark,
    OrientationMark,
    RenewMark,
    SealMark,
    StartMark,
    ToolMark,
    TorqueMark,
    ValueMark,
    key,
)
from docgen.job.measuremarks import failing, reading_of, settings_of
from docgen.job.stacks import held_outline, shape_of
from docgen.job.wording import item_name


def step_key(step: Step, number: int) -> str:
    """The step's name on the signed sheet: its id, else its verb and first item, else its number."""
    if step.key:
        return step.key
    said = [verb for verb in step.verbs if verb.word]
    for verb in sorted(said, key=lambda verb: isinstance(verb.of(step), dict)):
        return key(verb.word, verb.first(step))
    return f"step-{number}"


def marks_of(
    step: Step, figures: Figures, breaks: tuple[str, ...] = (), painted: frozenset[str] = frozenset()
) -> tuple[Mark, ...]:
    """Everything that the step prints besides its text, in the order in which it is needed.

    breaks  : the parts whose seal this step is the first to break (:func:`docgen.job.seals.broken`)
    painted : the fasteners that the job draws a paint mark across
    """
    found: list[AnyMark] = [m for name in breaks for m in _seal(figures, name, "removed")]
    found += [_tool(figures, name) for name in step.undoes]
    found += [m for name in step.fits for m in _oriented(figures, name)]
    for name in step.renews:
        found.append(renewed(figures, name, if_needed=False))
        found += _oriented(figures, name) if name.partition("/")[0] in figures.model.parts else ()
    found += [StartMark(key=key("start", n), name=figures.name(n), count=_count(figures, n)) for n in step.starts]
    found += [_tightened(figures, name, painted, again=step.again) for name in step.tightens]
    found += [m for name in step.tightens for m in _oriented(figures, name)]
    found += [DrawingMark(title=step.draws.title, svg=step.draws.svg)] if step.draws else []
    found += _materials(step, figures)
    found += settings_of(step, figures)
    if step.measure:
        fail = step.measure.fail
        found += [reading_of(figures, name, fail) for name in step.measure.of]
        found += _fail_renews(figures, fail)
    if step.look:
        look = step.look
        failed = failing(figures, look.fail)
        found.append(LookMark(key=look.id, accept=look.accept, picture=look.picture or "", **failed))
        found += _fail_renews(figures, look.fail)
    plain = sorted((verb for verb in step.verbs if verb.mark), key=lambda verb: verb.last)
    found += [verb.mark(step) for verb in plain if verb.mark]
    found += [m for name in step.seals for m in _seal(figures, name, "fitted")]
    return cast("tuple[Mark, ...]", (*found, *_named_values(step, figures, found)))


def renewed(figures: Figures, name: str, *, if_needed: bool) -> RenewMark:
    """The row for a part that is replaced."""
    item = figures.item(name)
    return RenewMark(
        key=key("renew", name), item=name, name=figures.name(name), number=item.number or "", if_needed=if_needed
    )


def text_of(step: Step, figures: Figures, field: str) -> str:
    """A step's text with each `{name}` as the item's name; its value prints in a cell of its own."""
    return named(getattr(step, field) or "", figures)


def named(text: str, figures: Figures) -> str:
    """A text with each `{name}` as the item's name."""
    return like(text, SUBSTITUTION.sub(lambda m: figures.in_text(m[1]), text))


def row_text(text: str, figures: Figures) -> str:
    """A row's text, with each `{name}` as the bench calls the item."""
    return like(text, SUBSTITUTION.sub(lambda m: figures.called(m[1]), text))


def _count(figures: Figures, name: str) -> int:
    return 1 if "/" in name else figures.item(name).count


def _turned(figures: Figures, name: str) -> dict[str, Any]:
    """What undoing and tightening a fastener have in common."""
    fastener = figures.fastener(name)
    holding = figures.club.tools.get(fastener.holding_tool or "")
    drive = tooling.drive_tool(figures.club, fastener, figures.words)[1]
    return {"name": figures.name(name), "count": _count(figures, name), "drive": drive, "size": fastener.drive or "",
            "holding_tool": holding.name if holding else ""}  # fmt: skip


def _tool(figures: Figures, name: str) -> ToolMark:
    left = (figures.fastener(name).thread or "").endswith("left")
    return ToolMark(**_turned(figures, name), note=figures.words("left-hand thread") if left else "")


def _tightened(figures: Figures, name: str, painted: frozenset[str], *, again: bool) -> TorqueMark:
    fastener = figures.fastener(name)
    value = tightness(figures, name)
    torque = torque_of(value)
    wrench = tooling.torque_wrench(figures.club, torque) if torque else None
    locker = figures.club.materials.get(fastener.locker or "")
    return TorqueMark(
        **_turned(figures, name),
        key=key("tighten", name),
        item=name,
        value=value,
        also=tooling.in_units(torque, figures.club.torque_shown) if torque else (),
        by_feel=bool(fastener.by_feel) and torque is None,
        catch=bool(fastener.catch) and value.band is None and not value.words and not value.blank,
        thread=fastener.thread or "",
        wrench=wrench[1].wrench.name if wrench else "",
        set_to=wrench[1].setting if wrench else None,
        lubrication=fastener.lubrication,
        locker=locker.name if locker else "",
        cure=locker.cures.full if locker and locker.cures else None,
        critical=fastener.critical,
        hand_only=fastener.hand_only,
        start_all_first=fastener.start_all_first and not again,
        pattern=fastener.pattern or "",
        outline=held_outline(figures, name) if fastener.pattern else {},
        stages=() if again else fastener.stages,
        painted=name.partition("/")[0] in painted,
    )


def _oriented(figures: Figures, name: str) -> Iterator[Mark]:
    item: Part | Fastener = figures.item(name)
    if item.orientation:
        yield OrientationMark(
            key=key("facing", name),
            item=name,
            name=figures.name(name),
            face=item.orientation.face,
            towards=item.orientation.towards,
            shape=shape_of(figures, name) or {"kind": "block"},
        )


def _seal(figures: Figures, name: str, when: Literal["removed", "fitted"]) -> Iterator[Mark]:
    part = figures.model.parts.get(name.partition("/")[0])
    number = figures.state.seals.get(name)
    if part and part.sealable and number is not None:
        verb, known = ("seal-off", number) if when == "removed" else ("seal-on", "")
        yield SealMark(key=key(verb, name), item=name, name=figures.name(name), number=known, when=when)


def _materials(step: Step, figures: Figures) -> Iterator[Mark]:
    """What is put on, used to clean, or filled in, with the amount from the model."""
    materials = figures.club.materials

    def mark(material: str, to: Iterable[str], **more: Any) -> ApplyMark:
        known = materials.get(material)
        return ApplyMark(**{"material": known.name if known else material, "kind": known.kind if known else "", **more},
                         to=tuple(to))  # fmt: skip

    for part, clean in step.cleans.items():
        if clean.material is not None:
            yield mark(clean.material, [figures.name(part)], amount=clean.amount, cleaning=True, kind="")
    for material, use in step.applies.items():
        shape = shape_of(figures, use.to[0]) if use.to else {}
        yield mark(material, map(figures.name, use.to), amount=use.amount, shape=shape)
    for name, fluid in ((name, figures.model.fluids[name]) for name in step.fills if name in figures.model.fluids):
        yield mark(fluid.materials[0], [item_name(name, fluid.name)], amount=fluid.amount)


def _fail_renews(figures: Figures, fail: Fail | None) -> Iterator[RenewMark]:
    for name in (fail.renews or ()) if fail else ():
        yield renewed(figures, name, if_needed=True)


def _named_values(step: Step, figures: Figures, found: list[AnyMark]) -> Iterator[ValueMark]:
    shown = {getattr(m, a) for m in found for a in ("item", "limit", "setting") if hasattr(m, a)}
    for name in dict.fromkeys(SUBSTITUTION.findall(step.do or "")):
        if name not in shown:
            value = value_of(figures, name)
            if value is not None:
                yield ValueMark(name=figures.name(name), value=value)


def value_of(figures: Figures, name: str) -> Figure | None:
    """The value that a `{name}` stands for: a limit, a setting's start, a fastener's tightness; a part has none."""
    if name in figures.model.limits:
        limit = figures.limit(name)
        return figures.banded(name, "allow", limit.allow or limit.new, limit.source)
    if name in figures.model.settings:
        setting = figures.setting(name)
        return figures.banded(name, "start", setting.start, setting.source)
    if name in figures.model.fasteners:
        return tightness(figures, name)
    return None
