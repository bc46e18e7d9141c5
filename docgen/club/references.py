"""Names that one file uses and another defines: each that leads nowhere is a problem at its place.

What a name must lead to is said by its field (:mod:`docgen.club.schema.refers`); here stands what there is of each
kind, and what else must be true of some. The names that a model must define for a job are looked up in
:mod:`docgen.club.fitting`.
"""

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from pydantic import BaseModel

from docgen.club.fitting import fit_problems
from docgen.club.folder import EngineRecord, Folder
from docgen.club.problem import Problem, did_you_mean
from docgen.club.schema.event import Deviation, Event
from docgen.club.schema.model import Item, Model
from docgen.club.schema.procedure import Procedure, Step
from docgen.club.schema.prose import versions
from docgen.club.schema.refers import REGISTERS, references
from docgen.club.uses import SUBSTITUTION, TEXTS, applies
from docgen.club.yamldoc import Document, Loc

Known = Mapping[str, Any]
"""The names that there are, by what they name; of members, how many. What is not among them is not looked up."""
UNCOUNTED = 99
"""How many of an item an event may speak of."""


def reference_problems(folder: Folder) -> list[Problem]:
    """Every name in the folder that nothing defines, sorted by place."""
    known = _of_club(folder)
    of_models = {name: _of_model(known, read.value) for name, read in sorted(folder.models.items())}
    found: list[Problem] = []
    for name, there in of_models.items():
        found += _model_problems(there, folder.models[name].value, folder.models[name].document)
    found += _procedure_problems(folder, known)
    found += fit_problems(folder)
    of_events = {name: _of_events(there) for name, there in of_models.items()}
    for _, record in sorted(folder.engines.items()):
        if (name := record.engine.model) in of_models:
            found += _engine_problems(folder.models[name].value, of_models[name], record)
            for entry in record.log.entries:
                found += _event_problems(of_events[name], entry.document, entry.event)
        else:
            found += _unknown(record.document, record.engine, {"model": known["model"]})
    return sorted(set(found))


def _of_club(folder: Folder) -> Known:
    known: dict[str, Any] = {kind: folder.names(f"{kind}s") for kind in ("procedure", "sequence", "model")}
    if folder.club_file is not None:
        club = folder.club.value
        known |= {register[:-1]: getattr(club, register) for register in REGISTERS}
        known["tool or material"] = {**club.tools, **club.materials}
    return known


def _of_model(known: Known, model: Model) -> Known:
    items = {**model.parts, **model.fasteners}
    counts = {name: item.count for name, item in items.items()}
    return {**known, "part": model.parts, "fastener": model.fasteners, "part-or-fastener": items, "member": counts,
            "limit": model.limits, "setting": model.settings,
            "job-part-or-fastener": {*known["procedure"], *items}}  # fmt: skip


def _unknown(document: Document, value: BaseModel, known: Known) -> Iterator[Problem]:
    """A problem for each name in a file that leads nowhere."""
    for loc, name, what, key in references(value):
        there = known.get(what)
        if there is None:
            continue
        if what == "member":
            name, _, number = name.partition("/")
            what = "part-or-fastener"
            if number and name in there and int(number) > there[name]:
                message = f'there are only {there[name]} of "{name}"'
                yield document.problem(loc, "no-such-member", message, "count them in the model")
        if name not in there:
            where = " in club.yaml" if f"{what.rpartition(' ')[2]}s" in REGISTERS else ""
            message = f'there is no {what} called "{name}"{where}'
            yield document.problem(loc, f"unknown-{what.split()[0]}", message, did_you_mean(name, there), key=key)


def _model_problems(known: Known, model: Model, document: Document) -> Iterator[Problem]:
    yield from _unknown(document, model, known)
    for name in sorted(model.parts.keys() & model.fasteners.keys()):
        message = f'"{name}" is both a part and a fastener'
        yield document.problem(("fasteners", name), "name-taken", message, "give one of them another name", key=True)
    for group in ("parts", "fasteners"):
        for name, item in getattr(model, group).items():
            if item.bench and not item.part_of:
                message = f'"{name}" is reached on the bench only, but it is part of nothing'
                hint = "write part_of: what it sits in"
                yield document.problem((group, name, "bench"), "bench-without-part-of", message, hint)
    yield from _cycles(model, document)


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


def _procedure_problems(folder: Folder, known: Known) -> Iterator[Problem]:
    """What came from another club may speak of equipment that no engine type here has."""
    equipment = {word for read in folder.models.values() for word in read.value.equipment}
    words = _words(folder, equipment)
    own = {**known, "equipment": words} if words is not None else known
    for name, read in sorted(folder.procedures.items()):
        procedure, document = read.value, read.document
        received = folder.origins.received(document.path) is not None
        steps = [(("stages", at, "steps", number), step) for at, stage in enumerate(procedure.stages)
                 for number, step in enumerate(stage.steps)]  # fmt: skip
        every = [*(step for _, step in steps), *_of_sequences(folder, procedure)]
        named = {"step": {step.key for step in every if step.key}, "look": {s.look.id for s in every if s.look}}
        yield from _unknown(document, procedure, {**(known if received else own), **named})
        yield from _same_id_twice(document, steps)
        for loc, step in steps:
            yield from _braces(document, loc, step)
        applying = any(applies(procedure, one.value) for one in folder.models.values())
        if words and equipment and not applying and not received and set(procedure.needs) <= equipment:
            message = f"no model has all of what {name} needs"
            yield document.problem(("needs",), "applies-to-no-model", message, "add the equipment to a model")
    for _, sequence in sorted(folder.sequences.items()):
        document = sequence.document
        yield from _unknown(document, sequence.value, known if folder.origins.received(document.path) else own)
        for index, step in enumerate(sequence.value.steps):
            yield from _braces(document, ("steps", index), step)
            if step.use:
                message = "a sequence cannot use another sequence"
                yield document.problem(("steps", index, "use"), "sequence-in-sequence", message, "write its steps out")


def _words(folder: Folder, equipment: set[str]) -> set[str] | None:
    """What `needs` and `only_with` may name; None while a file that may say so cannot be read."""
    if folder.club_file is None or not folder.whole("models"):
        return None
    models = [read.value for read in folder.models.values()]
    figures = {name for model in models for name in (*model.limits, *model.settings)}
    return equipment | figures | set(folder.club.value.equipment)


def _of_sequences(folder: Folder, procedure: Procedure) -> Iterator[Step]:
    used = [step.use for stage in procedure.stages for step in stage.steps if step.use in folder.sequences]
    return (step for name in used if name for step in folder.sequences[name].value.steps)


def _same_id_twice(document: Document, steps: Sequence[tuple[Loc, Step]]) -> Iterator[Problem]:
    keys: dict[str, Loc] = {}
    for loc, step in steps:
        if step.key and step.key in keys and not step.only_with:
            message = f'the id "{step.key}" is already used at line {document.at(keys[step.key])[0]}'
            yield document.problem(loc, "id-taken", message, "give each step its own id")
        elif step.key:
            keys[step.key] = loc


def _braces(document: Document, loc: Loc, step: Step) -> Iterator[Problem]:
    for key in TEXTS:
        said = versions(getattr(step, key) or "").values()
        if any(brace in SUBSTITUTION.sub("", text) for text in said for brace in "{}" if brace in text):
            hint = "write {name} to name a value of the model; braces have no other use"
            yield document.problem((*loc, key), "bad-brace", "a brace stands alone in this text", hint)


def _engine_problems(model: Model, known: Known, record: EngineRecord) -> Iterator[Problem]:
    engine, document = record.engine, record.document
    yield from _unknown(document, engine, known)
    for name in engine.seals:
        if name in model.parts and not model.parts[name].sealable:
            message = f'"{name}" is not a part that carries a seal'
            hint = f"write sealable: true for it in models/{engine.model}.yaml"
            yield document.problem(("seals", name), "not-sealable", message, hint, key=True)


def event_problems(folder: Folder, model: Model, document: Document, event: Event) -> Iterator[Problem]:
    """Every name in one event that neither the engine's model nor the club defines."""
    return _event_problems(_of_events(_of_model(_of_club(folder), model)), document, event)


def _of_events(known: Known) -> Known:
    """A record may be older than the model's count of an item; what differs of an engine may be a figure, too."""
    items, figures = known["part-or-fastener"], (*known["limit"], *known["setting"])
    return {**known, "member": dict.fromkeys(items, UNCOUNTED), "differing": {*items, *figures}}


def _event_problems(known: Known, document: Document, event: Event) -> Iterator[Problem]:
    of_deviation = {"part-or-fastener": known["differing"]}
    return _unknown(document, event, of_deviation if isinstance(event, Deviation) else known)
