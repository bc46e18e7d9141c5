"""The names in procedures and sequences, looked up in the registers and in every model that the job applies to."""

from __future__ import annotations

from collections.abc import Collection, Iterator

from docgen.club.fitting import fit_problems
from docgen.club.folder import Folder
from docgen.club.problem import Problem, did_you_mean
from docgen.club.schema.procedure import Procedure, Step
from docgen.club.schema.prose import versions
from docgen.club.uses import SUBSTITUTION, TEXTS, applies
from docgen.club.yamldoc import Document, Loc


def procedure_problems(folder: Folder) -> Iterator[Problem]:
    """Every name in a procedure or sequence that leads nowhere, for one model or for all.

    What came from another club may speak of equipment that no engine type here has.
    """
    equipment = {word for read in folder.models.values() for word in read.value.equipment}
    known_equipment = _words(folder, equipment)
    for name, read in sorted(folder.procedures.items()):
        procedure, document = read.value, read.document
        received = folder.origins.received(document.path) is not None
        yield from _own_names(folder, procedure, document, None if received else known_equipment)
        models = [m.value for _, m in sorted(folder.models.items()) if applies(procedure, m.value)]
        if known_equipment and equipment and not models and not received and set(procedure.needs) <= equipment:
            message = f"no model has all of what {name} needs"
            yield document.problem(("needs",), "applies-to-no-model", message, "add the equipment to a model")
    yield from fit_problems(folder)
    for _, sequence in sorted(folder.sequences.items()):
        for index, step in enumerate(sequence.value.steps):
            loc: Loc = ("steps", index)
            if step.use:
                message = "a sequence cannot use another sequence"
                yield sequence.document.problem((*loc, "use"), "sequence-in-sequence", message, "write its steps out")
            received = folder.origins.received(sequence.document.path) is not None
            yield from _step_names(folder, sequence.document, loc, step, None if received else known_equipment)


def _words(folder: Folder, equipment: set[str]) -> set[str] | None:
    """What `needs` and `only_with` may name; None while a file that may say so cannot be read."""
    if folder.club_file is None or not folder.whole("models"):
        return None
    models = [read.value for read in folder.models.values()]
    figures = {name for model in models for name in (*model.limits, *model.settings)}
    return equipment | figures | set(folder.club.value.equipment)


def _own_names(
    folder: Folder, procedure: Procedure, document: Document, equipment: set[str] | None
) -> Iterator[Problem]:
    keys: dict[str, Loc] = {}
    for index, word in enumerate(procedure.needs):
        yield from _known(document, ("needs", index), word, equipment, "equipment")
    for index, tool in enumerate(procedure.tools):
        yield from _registered(folder, document, ("tools", index), tool, "tools")
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
    for key in ("covers", "gathers"):
        for index, name in enumerate(getattr(procedure, key)):
            yield from _known(document, (key, index), name, folder.names("procedures"), "procedure")
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
        yield from _registered(folder, document, (*loc, "tools", index), tool, "tools")
    for verb in step.verbs:
        for place, name, registers, is_key in verb.registered(step):
            yield from _registered(folder, document, (*loc, verb.key, *place), name, *registers, key=is_key)
    for verb, fail in step.fails:
        if fail.calls:
            calls = (*loc, verb.key, "fail", "calls")
            yield from _known(document, calls, fail.calls, folder.names("procedures"), "procedure")
    for key in TEXTS:
        said = versions(getattr(step, key) or "").values()
        if any(brace in SUBSTITUTION.sub("", text) for text in said for brace in "{}" if brace in text):
            yield document.problem(
                (*loc, key),
                "bad-brace",
                "a brace stands alone in this text",
                "write {name} to name a value of the model; braces have no other use",
            )


def _known(document: Document, loc: Loc, name: str, known: Collection[str] | None, what: str) -> Iterator[Problem]:
    if known is not None and name not in known:
        yield document.problem(loc, f"unknown-{what}", f'there is no {what} called "{name}"', did_you_mean(name, known))


def _registered(
    folder: Folder, document: Document, loc: Loc, name: str, *registers: str, key: bool = False
) -> Iterator[Problem]:
    written = folder.club_file
    if written and not any(name in getattr(written.value, register) for register in registers):
        known = {one for register in registers for one in getattr(written.value, register)}
        kinds = [register[:-1] for register in registers]
        message = f'there is no {" or ".join(kinds)} called "{name}" in club.yaml'
        yield document.problem(loc, f"unknown-{kinds[0]}", message, did_you_mean(name, known), key=key)
