"""A job is there in a language that a name on its sheet is not: the model's, or that of a tool or a material."""

from collections.abc import Iterable
from typing import Any

from docgen.club.folder import Read
from docgen.club.translation import written_in
from docgen.club.yamldoc import Loc
from docgen.job.hazards import materials_of
from docgen.job.kit import tools_of
from docgen.proof.case import Case, Finding, Findings
from docgen.proof.texts import named, own_of, spoken_by, texts

LEVEL = "note"


def on_run(case: Case) -> Findings:
    """One finding at each text of the model or the registers that the job prints and that lacks a language of the job;
    a model that holds nothing at all in the club's language has one at its title. Another language is asked of a file
    that holds something in it: a club that writes its own in one language hears nothing of the others. A job that is
    not there in the club's language prints in it all the same, with its own texts as they are: then only the club's
    language counts."""
    club = written_in(case.club)
    held = spoken_by(texts(case.procedure.value, own_of(case.procedure, case.club)))
    spoken = held if club in held else frozenset({club})
    for read, places in ((case.model, _in_model(case)), (case.club, _in_registers(case))):
        yield from _lacking(read, own_of(read, case.club), places, spoken, club)


def _lacking(read: Read[Any], own: str, places: Iterable[Loc], spoken: frozenset[str], club: str) -> Findings:
    if own != club and club not in spoken_by(texts(read.value, own)):
        message = f"none of the names in this file is there in {named([club])}, the club's language"
        yield Finding(read.document, ("title",), message, f"write them side by side, {club}: beside {own}:")
        spoken -= {club}
    if others := spoken - {own, club}:
        spoken -= others - spoken_by(texts(read.value, own))
    for loc in places:
        entry = getattr(read.value, str(loc[0])).get(loc[1])
        if entry is None:
            continue
        if entry.name is None and (lacking := sorted(spoken - {own})):
            yield Finding(read.document, loc,
                          f"{loc[1]} has no name in {named(lacking)}, and prints as it is written here",
                          f"write  name: {{{own}: ..., {lacking[0]}: ...}}", key=True)  # fmt: skip
        for one in texts(entry, own, loc):
            if lacking := one.lacks(spoken):
                yield Finding(read.document, one.loc,
                              f"this text is not there in {named(lacking)}, in which a job prints it",
                              f"write it beside the other, {lacking[0]}: ...")  # fmt: skip


def _in_model(case: Case) -> list[Loc]:
    """The parts, fasteners, limits and settings that the job names."""
    model, found = case.model.value, dict.fromkeys(case.procedure.value.spares)
    for _, step in case.steps:
        names = [one.name for verb in step.verbs if verb.printed for one in verb.names(step)]
        names += [name for _, fail in step.fails for name in fail.renews or ()]
        found |= dict.fromkeys(name.partition("/")[0] for name in names)
    groups = ("parts", "fasteners", "limits", "settings")
    return [(group, name) for name in found for group in groups if name in getattr(model, group)]


def _in_registers(case: Case) -> list[Loc]:
    """The tools, gauges and materials that the job lays out."""
    steps = [step for _, step in case.steps]
    lines = tools_of(case.procedure.value, steps, case.figures)
    places: list[Loc] = [(group, line.id) for line in lines for group in ("tools", "gauges")]
    return places + [("materials", name) for step in steps for name in materials_of(step, case.model.value)]
