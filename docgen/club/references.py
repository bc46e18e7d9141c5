"""Names that one file uses and another defines: each that leads nowhere is a problem at its place.

This module looks at models, engines and the registers; :mod:`docgen.club.procedure_names` at procedures.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator

from docgen.club.folder import EngineRecord, Folder
from docgen.club.problem import Problem, did_you_mean
from docgen.club.procedure_names import procedure_problems
from docgen.club.schema.event import ComponentMoved, Deviation, Finding, Service, SettingMade
from docgen.club.schema.model import Item, Model
from docgen.club.yamldoc import Document, Loc


def reference_problems(folder: Folder) -> list[Problem]:
    """Every name in the folder that nothing defines, sorted by place."""
    found: list[Problem] = []
    for _, model in sorted(folder.models.items()):
        found += _model_problems(folder, model.value, model.document)
    found += procedure_problems(folder)
    for _, record in sorted(folder.engines.items()):
        found += _engine_problems(folder, record)
    return sorted(set(found))


def unknown(document: Document, loc: Loc, name: str, known: Collection[str], what: str, key: bool = False) -> Problem:
    """The problem for a name that is not known."""
    return document.problem(
        loc, f"unknown-{what}", f'there is no {what} called "{name}"', did_you_mean(name, known), key=key
    )


def _model_problems(folder: Folder, model: Model, document: Document) -> Iterator[Problem]:
    both = model.parts.keys() & model.fasteners.keys()
    for name in sorted(both):
        message = f'"{name}" is both a part and a fastener'
        yield document.problem(("fasteners", name), "name-taken", message, "give one of them another name", key=True)
    counts = {name: item.count for name, item in [*model.parts.items(), *model.fasteners.items()]}
    for group in ("parts", "fasteners"):
        for name, item in getattr(model, group).items():
            loc: Loc = (group, name)
            for key in ("behind", "held_by"):
                for index, member in enumerate(getattr(item, key, ())):
                    yield from _member(document, (*loc, key, index), member, counts)
            if item.part_of and item.part_of not in model.parts:
                yield unknown(document, (*loc, "part_of"), item.part_of, model.parts, "part")
            if item.orientation and item.orientation.clears and item.orientation.clears not in model.parts:
                where = (*loc, "orientation", "clears")
                yield unknown(document, where, item.orientation.clears, model.parts, "part")
            if item.bench and not item.part_of:
                message = f'"{name}" is reached on the bench only, but it is part of nothing'
                yield document.problem(
                    (*loc, "bench"), "bench-without-part-of", message, "write part_of: what it sits in"
                )
    for name, fastener in model.fasteners.items():
        yield from _fastener_problems(folder, document, name, fastener)
    for name, part in model.parts.items():
        if part.follows and part.follows not in model.fasteners:
            yield unknown(document, ("parts", name, "follows"), part.follows, model.fasteners, "fastener")
    for name, limit in model.limits.items():
        for index, member in enumerate(limit.behind):
            yield from _member(document, ("limits", name, "behind", index), member, counts)
        if limit.gauge:
            yield from _registered(folder, document, ("limits", name, "gauge"), limit.gauge, "gauge")
        for index, item in enumerate(limit.of):
            if item not in counts:
                yield unknown(document, ("limits", name, "of", index), item, counts, "part-or-fastener")
        if limit.derived:
            for key in ("difference", "average", "spread"):
                for index, other in enumerate(getattr(limit.derived, key) or ()):
                    if other not in model.limits:
                        yield unknown(document, ("limits", name, "from", key, index), other, model.limits, "limit")
    for name, setting in model.settings.items():
        if setting.gauge:
            yield from _registered(folder, document, ("settings", name, "gauge"), setting.gauge, "gauge")
    for name, setting in model.settings.items():
        if setting.chosen and setting.chosen.by not in model.limits:
            yield unknown(document, ("settings", name, "chosen", "by"), setting.chosen.by, model.limits, "limit")
    for name, fluid in model.fluids.items():
        for index, material in enumerate(fluid.materials):
            yield from _registered(folder, document, ("fluids", name, "materials", index), material, "material")
        for key in ("drain", "fill"):
            for index, member in enumerate(getattr(fluid, key)):
                yield from _member(document, ("fluids", name, key, index), member, counts)
    for name in model.intervals:
        if name not in folder.names("procedures"):
            yield unknown(document, ("intervals", name), name, folder.procedures, "procedure", key=True)
    if model.isolator and model.isolator not in model.fasteners:
        yield unknown(document, ("isolator",), model.isolator, model.fasteners, "fastener")
    yield from _cycles(model, document)


def _member(document: Document, loc: Loc, member: str, counts: dict[str, int]) -> Iterator[Problem]:
    name, _, number = member.partition("/")
    if name not in counts:
        yield unknown(document, loc, name, counts, "part-or-fastener")
    elif number and int(number) > counts[name]:
        message = f'there are only {counts[name]} of "{name}"'
        yield document.problem(loc, "no-such-member", message, "count them in the model")


def _fastener_problems(folder: Folder, document: Document, name: str, fastener: object) -> Iterator[Problem]:
    loc: Loc = ("fasteners", name)
    holding, locker = getattr(fastener, "holding_tool", None), getattr(fastener, "locker", None)
    if holding:
        yield from _registered(folder, document, (*loc, "holding_tool"), holding, "tool")
    for index, tool in enumerate(getattr(fastener, "tools", ())):
        yield from _registered(folder, document, (*loc, "tools", index), tool, "tool")
    if locker:
        yield from _registered(folder, document, (*loc, "locker"), locker, "material")


def _registered(folder: Folder, document: Document, loc: Loc, name: str, what: str) -> Iterator[Problem]:
    register = getattr(folder.club.value, f"{what}s") if folder.club_file else {}
    if folder.club_file and name not in register:
        yield unknown(document, loc, name, register, what)


def _cycles(model: Model, document: Document) -> Iterator[Problem]:
    """Things that are behind each other can never come off."""
    front: dict[str, list[str]] = {}
    items: dict[str, Item] = {**model.parts, **model.fasteners}
    for name, item in items.items():
        front[name] = [m.partition("/")[0] for m in (*item.behind, *getattr(item, "held_by", ()))]
    reported: set[str] = set()
    for start in front:
        ring = _ring(front, start) if start not in reported else []
        if ring:
            reported.update(ring)
            group = "parts" if start in model.parts else "fasteners"
            chain = ", behind ".join([*ring, start])
            message = f'"{start}" can never come off: it is behind itself ({chain})'
            yield document.problem(
                (group, start), "behind-itself", message, "take one behind or held_by away", key=True
            )


def _ring(front: dict[str, list[str]], start: str) -> list[str]:
    """The way from `start` back to itself, or nothing."""
    came: dict[str, str] = {}
    queue = [start]
    for name in queue:
        for nxt in front.get(name, ()):
            if nxt == start:
                ring = [name]
                while ring[0] != start:
                    ring.insert(0, came[ring[0]])
                return ring
            if nxt not in came:
                came[nxt] = name
                queue.append(nxt)
    return []


def _engine_problems(folder: Folder, record: EngineRecord) -> Iterator[Problem]:
    engine, document = record.engine, record.document
    read = folder.models.get(engine.model)
    if read is None:
        if engine.model not in folder.names("models"):
            yield unknown(document, ("model",), engine.model, folder.models, "model")
        return
    model = read.value
    for name in engine.seals:
        if name not in model.parts:
            yield unknown(document, ("seals", name), name, model.parts, "part", key=True)
        elif not model.parts[name].sealable:
            yield document.problem(
                ("seals", name),
                "not-sealable",
                f'"{name}" is not a part that carries a seal',
                f"write sealable: true for it in models/{engine.model}.yaml",
                key=True,
            )
    for name in engine.before:
        if name not in {*folder.names("procedures"), *model.parts, *model.fasteners}:
            known = {*folder.procedures, *model.parts, *model.fasteners}
            yield unknown(document, ("before", name), name, known, "job-part-or-fastener", key=True)
    for name in engine.components:
        if name not in model.parts:
            yield unknown(document, ("components", name), name, model.parts, "part", key=True)
    for entry in record.log.entries:
        yield from event_problems(folder, model, entry.document, entry.event)


def event_problems(folder: Folder, model: Model, document: Document, event: object) -> Iterator[Problem]:
    """Every name in one event that neither the engine's model nor the club defines."""
    items = {**model.parts, **model.fasteners}
    if isinstance(event, Service):
        if event.procedure not in folder.names("procedures"):
            yield unknown(document, ("procedure",), event.procedure, folder.procedures, "procedure")
        for key, known, what in (
            ("readings", model.limits, "limit"),
            ("settings", model.settings, "setting"),
            ("renewed", items, "part-or-fastener"),
            ("seals", model.parts, "part"),
        ):
            for name in getattr(event, key):
                if name not in known:
                    yield unknown(document, (key, name), name, known, what, key=True)
        for index, lead in enumerate(event.leads_on):
            if lead.calls and lead.calls not in folder.names("procedures"):
                yield unknown(document, ("leads_on", index, "calls"), lead.calls, folder.procedures, "procedure")
            for at, name in enumerate(lead.spares):
                if name.partition("/")[0] not in items:
                    yield unknown(document, ("leads_on", index, "spares", at), name, items, "part-or-fastener")
    elif isinstance(event, Deviation):
        if event.item not in items and event.item not in model.limits and event.item not in model.settings:
            yield unknown(
                document, ("item",), event.item, {**items, **model.limits, **model.settings}, "part-or-fastener"
            )
    elif isinstance(event, SettingMade) and event.setting not in model.settings:
        yield unknown(document, ("setting",), event.setting, model.settings, "setting")
    elif isinstance(event, ComponentMoved) and event.component not in model.parts:
        yield unknown(document, ("component",), event.component, model.parts, "part")
    elif isinstance(event, Finding) and event.calls and event.calls not in folder.names("procedures"):
        yield unknown(document, ("calls",), event.calls, folder.procedures, "procedure")
