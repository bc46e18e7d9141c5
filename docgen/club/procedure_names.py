"""The names in procedures and sequences, looked up in the registers and in every model that the job applies to."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field

from docgen.club.folder import Folder
from docgen.club.problem import Problem, did_you_mean
from docgen.club.schema.model import Fail, Model
from docgen.club.schema.procedure import Procedure, Step
from docgen.club.schema.prose import versions
from docgen.club.yamldoc import Document, Loc

SUBSTITUTION = re.compile(r"\{([^{}]*)\}")
TEXTS = ("row", "adds", "do", "why")
"""The texts of a step that may name an item or a value in braces."""

_VERBS = {
    "undoes": "fasteners",
    "starts": "fasteners",
    "tightens": "fasteners",
    "removes": "parts",
    "fits": "parts",
    "renews": "items",
    "loads": "items",
    "clears": "items",
    "turns": "items",
    "seals": "parts",
}
_WRONG_KIND = {
    "fasteners": '"{0}" is a part: parts are removed, fitted or renewed',
    "parts": '"{0}" is a fastener: fasteners are undone, started or tightened',
}


@dataclass(frozen=True)
class Use:
    """A name used at a place, and where it must be defined."""

    path: str
    loc: Loc
    name: str
    where: str
    document: Document = field(compare=False, repr=False)
    key: bool = False


def procedure_problems(folder: Folder) -> Iterator[Problem]:
    """Every name in a procedure or sequence that leads nowhere, for one model or for all."""
    equipment = {word for read in folder.models.values() for word in read.value.equipment}
    spoken_of = set(folder.club.value.equipment) if folder.club else set()
    known_equipment = equipment | spoken_of if folder.whole("models") else None
    missing: dict[Use, list[str]] = {}
    served: dict[Use, int] = {}
    for name, read in sorted(folder.procedures.items()):
        procedure, document = read.value, read.document
        yield from _own_names(folder, procedure, document, known_equipment)
        models = [m.value for _, m in sorted(folder.models.items()) if set(procedure.needs) <= set(m.value.equipment)]
        if known_equipment and equipment and not models and set(procedure.needs) <= equipment:
            message = f"no model has all of what {name} needs"
            yield document.problem(("needs",), "applies-to-no-model", message, "add the equipment to a model")
        for model in models:
            for use in _uses(folder, procedure, document, model):
                served[use] = served.get(use, 0) + 1
                if not _defined(model, use):
                    missing.setdefault(use, []).append(model.model)
    for use, lacking in missing.items():
        yield _missing(folder, use, lacking, everywhere=served[use] == len(lacking))
    for _, sequence in sorted(folder.sequences.items()):
        for index, step in enumerate(sequence.value.steps):
            loc: Loc = ("steps", index)
            if step.use:
                message = "a sequence cannot use another sequence"
                yield sequence.document.problem((*loc, "use"), "sequence-in-sequence", message, "write its steps out")
            yield from _step_names(folder, sequence.document, loc, step, known_equipment)


def _own_names(
    folder: Folder, procedure: Procedure, document: Document, equipment: set[str] | None
) -> Iterator[Problem]:
    keys: dict[str, Loc] = {}
    for index, word in enumerate(procedure.needs):
        yield from _known(document, ("needs", index), word, equipment, "equipment")
    for index, tool in enumerate(procedure.tools):
        yield from _registered(folder, document, ("tools", index), tool, "tool")
    for at, stage in enumerate(procedure.stages):
        for index, word in enumerate(stage.only_with):
            yield from _known(document, ("stages", at, "only_with", index), word, equipment, "equipment")
        for number, step in enumerate(stage.steps):
            loc: Loc = ("stages", at, "steps", number)
            yield from _step_names(folder, document, loc, step, equipment)
            if step.key and step.key in keys and not step.only_with:
                line = document.at(keys[step.key])[0]
                yield document.problem(
                    loc, "id-taken", f'the id "{step.key}" is already used at line {line}', "give each step its own id"
                )
            elif step.key:
                keys[step.key] = loc
    own = [step for stage in procedure.stages for step in stage.steps]
    inner = [s for n in _sequences(procedure) if n in folder.sequences for s in folder.sequences[n].value.steps]
    ids = {step.key for step in (*own, *inner) if step.key}
    looks = {step.look.id for step in (*own, *inner) if step.look}
    for index, check in enumerate(procedure.after_run):
        for at, word in enumerate(check.only_with):
            yield from _known(document, ("after_run", index, "only_with", at), word, equipment, "equipment")
    for index, name in enumerate(procedure.covers):
        yield from _known(document, ("covers", index), name, folder.names("procedures"), "procedure")
    for index, name in enumerate(procedure.closing):
        yield from _known(document, ("closing", index), name, looks, "look")
    for index, message in enumerate(procedure.safety):
        if message.at:
            yield from _known(document, ("safety", index, "at"), message.at, ids, "step")


def _sequences(procedure: Procedure) -> list[str]:
    return [step.use for stage in procedure.stages for step in stage.steps if step.use]


def _step_names(
    folder: Folder, document: Document, loc: Loc, step: Step, equipment: set[str] | None
) -> Iterator[Problem]:
    for index, word in enumerate(step.only_with):
        yield from _known(document, (*loc, "only_with", index), word, equipment, "equipment")
    if step.use:
        yield from _known(document, (*loc, "use"), step.use, folder.names("sequences"), "sequence")
    for index, tool in enumerate(step.tools):
        yield from _registered(folder, document, (*loc, "tools", index), tool, "tool")
    for material in step.applies:
        yield from _registered(folder, document, (*loc, "applies", material), material, "material", key=True)
    for part, clean in step.cleans.items():
        yield from _registered(folder, document, (*loc, "cleans", part), clean.material, "material")
    for opening, what in step.packs.items():
        yield from _tool_or_material(folder, document, (*loc, "packs", opening), what)
    for place, fail in _fails(step):
        if fail.calls:
            yield from _known(
                document, (*loc, *place, "fail", "calls"), fail.calls, folder.names("procedures"), "procedure"
            )
    for key in TEXTS:
        left = "".join(SUBSTITUTION.sub("", text) for text in versions(getattr(step, key) or "").values())
        if "{" in left or "}" in left:
            yield document.problem(
                (*loc, key),
                "bad-brace",
                "a brace stands alone in this text",
                "write {name} to name a value of the model; braces have no other use",
            )


def _fails(step: Step) -> Iterator[tuple[Loc, Fail]]:
    if step.look and step.look.fail:
        yield ("look",), step.look.fail
    if step.measure and step.measure.fail:
        yield ("measure",), step.measure.fail


def _uses(folder: Folder, procedure: Procedure, document: Document, model: Model) -> Iterator[Use]:
    """Each name that this model must define, the steps of sequences included."""
    for index, name in enumerate(procedure.spares):
        yield _use(document, ("spares", index), name, "items")
    for at, stage in enumerate(procedure.stages):
        if not set(stage.only_with) <= set(model.equipment):
            continue
        for number, step in enumerate(stage.steps):
            if not set(step.only_with) <= set(model.equipment):
                continue
            if step.use and step.use in folder.sequences:
                yield from _text_uses(document, ("stages", at, "steps", number), step)
                sequence = folder.sequences[step.use]
                for inner, part in enumerate(sequence.value.steps):
                    if set(part.only_with) <= set(model.equipment):
                        yield from _step_uses(sequence.document, ("steps", inner), part)
            else:
                yield from _step_uses(document, ("stages", at, "steps", number), step)


def _use(document: Document, loc: Loc, name: str, where: str, key: bool = False) -> Use:
    return Use(document.path, loc, name, where, document, key)


def _step_uses(document: Document, loc: Loc, step: Step) -> Iterator[Use]:
    for verb, where in _VERBS.items():
        for index, name in enumerate(getattr(step, verb)):
            yield _use(document, (*loc, verb, index), name, where)
    for verb in ("cleans", "packs"):
        for name in getattr(step, verb):
            yield _use(document, (*loc, verb, name), name, "items", key=True)
    for material, amount in step.applies.items():
        for name in amount.to:
            yield _use(document, (*loc, "applies", material), name, "items")
    for index, name in enumerate(step.measure.of if step.measure else ()):
        yield _use(document, (*loc, "measure", "of", index), name, "limits")
    for verb in ("finds", "sets"):
        for index, name in enumerate(getattr(step, verb)):
            yield _use(document, (*loc, verb, index), name, "settings")
    for place, fail in _fails(step):
        for key in ("renews", "spares"):
            for index, name in enumerate(getattr(fail, key) or ()):
                yield _use(document, (*loc, *place, "fail", key, index), name, "items")
    yield from _text_uses(document, loc, step)


def _text_uses(document: Document, loc: Loc, step: Step) -> Iterator[Use]:
    for key in TEXTS:
        texts = versions(getattr(step, key) or "").values()
        for name in dict.fromkeys(name for text in texts for name in SUBSTITUTION.findall(text)):
            yield _use(document, (*loc, key), name, "anything")


def _places(model: Model, where: str) -> tuple[Mapping[str, object], ...]:
    if where == "items":
        return (model.parts, model.fasteners)
    if where == "anything":
        return (model.parts, model.fasteners, model.limits, model.settings)
    return (getattr(model, where),)


def _defined(model: Model, use: Use) -> bool:
    name, _, number = use.name.partition("/")
    for place in _places(model, use.where):
        if name in place:
            return not number or int(number) <= getattr(place[name], "count", 1)
    return False


def _missing(folder: Folder, use: Use, lacking: list[str], everywhere: bool) -> Problem:
    name = use.name.partition("/")[0]
    models = [folder.models[m].value for m in lacking]
    other = {"fasteners": "parts", "parts": "fasteners"}.get(use.where)
    if other and any(name in getattr(m, other) for m in models):
        return use.document.problem(
            use.loc, f"not-a-{use.where[:-1]}", _WRONG_KIND[use.where].format(name), key=use.key
        )
    what = {"items": "part-or-fastener", "anything": "value"}.get(use.where, use.where[:-1])
    if any(name in place for m in models for place in _places(m, use.where)):
        return use.document.problem(use.loc, "no-such-member", f'"{use.name}" is more than {", ".join(lacking)} counts')
    known = {n for m in models for place in _places(m, use.where) for n in place}
    if everywhere:
        message = f'no model that this job applies to has a {what} called "{name}"'
        return use.document.problem(use.loc, f"unknown-{what}", message, did_you_mean(name, known), key=use.key)
    message = f'"{name}" is not in {", ".join(lacking)}, to which this job applies too'
    hint = did_you_mean(name, known) if len(known) > 12 else ""
    return use.document.problem(
        use.loc,
        "missing-in-model",
        message,
        hint or "add it to the model, or write only_with: what the step is for",
        key=use.key,
    )


def _known(document: Document, loc: Loc, name: str, known: Iterable[str] | None, what: str) -> Iterator[Problem]:
    names = set(known or ())
    if known is not None and name not in names:
        yield document.problem(loc, f"unknown-{what}", f'there is no {what} called "{name}"', did_you_mean(name, names))


def _registered(
    folder: Folder, document: Document, loc: Loc, name: str, what: str, key: bool = False
) -> Iterator[Problem]:
    register = getattr(folder.club.value, f"{what}s") if folder.club else {}
    if folder.club and name not in register:
        message = f'there is no {what} called "{name}" in club.yaml'
        yield document.problem(loc, f"unknown-{what}", message, did_you_mean(name, register), key=key)


def _tool_or_material(folder: Folder, document: Document, loc: Loc, name: str) -> Iterator[Problem]:
    known = {*folder.club.value.tools, *folder.club.value.materials} if folder.club else {name}
    if name not in known:
        message = f'there is no tool or material called "{name}" in club.yaml'
        yield document.problem(loc, "unknown-tool", message, did_you_mean(name, known))
