"""A job's pages that are not numbered: its reading, the sheets of an engine without a record, drafts for its writer."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date
from pathlib import Path

from docgen.club.folder import Faulty, Folder, Read
from docgen.club.problem import told
from docgen.club.schema.procedure import Procedure
from docgen.club.store import replace
from docgen.desk.choosing import Unclear, Unprinted, engines_named, fitting, jobs_named, known, sound
from docgen.desk.pages import Laid, Wish
from docgen.desk.wanted import MEND, Say
from docgen.desk.whereabouts import with_place
from docgen.job.blank import blank_job, blank_record
from docgen.job.job import Job
from docgen.job.resolve import resolve
from docgen.press.orders import order
from docgen.press.shelf import Shelf
from docgen.press.workers import press
from docgen.proof import proof_job
from docgen.sheets.leaf import leaf
from docgen.sheets.reading import reading
from docgen.sheets.signoff import signoff


def readings(
    folder: Folder, names: Sequence[str], on: date, out: Path, *, engine: str | None = None, model: str | None = None
) -> list[Wish]:
    """The reading of each job, for an engine, an engine type, or each type that it is for. Errors: Faulty, Unclear."""
    if engine and model:
        raise Unclear("--engine or --model, not both: an engine has its type")
    wishes = []
    for job, name in _each(folder, jobs_named(folder, names), engine, model, on):
        told = job.instructions
        page = folder.pages.get(told.procedure)
        made = reading(job, folder.club.value, teaching=page.value.text if page else "")
        ordered = order(f"Reading of {told.code} for {name}", made, job, folder.club.value.club)
        wishes.append(Wish(ordered, out / "reading" / f"{told.code}-{name}-reading.pdf"))
    return wishes


def _each(
    folder: Folder, chosen: list[Read[Procedure]], engine: str | None, model: str | None, on: date
) -> Iterator[tuple[Job, str]]:
    """Each job for each engine type, or for the engine, with the name that tells the files apart."""
    names = [one.value.procedure for one in chosen]
    if stopped := folder.blocking(engine or "", names, [model] if model else None):
        raise Faulty(sorted(stopped))
    types = [known(model, folder.models, "engine type")] if model else sorted(folder.models)
    record = engines_named(folder, [engine])[0] if engine else None
    for procedure in chosen:
        job = procedure.value.procedure
        if record is not None:
            if folder.fits(job, folder.models[record.engine.model].value):
                yield resolve(folder, record, procedure, on), record.engine.engine
            continue
        yield from (
            (blank_job(folder, name, procedure, on), name)
            for name in types
            if folder.fits(job, folder.models[name].value)
        )


def blank_sheets(
    folder: Folder, model: str, names: Sequence[str], on: date, out: Path, *, unproofed: bool = False
) -> tuple[list[Wish], str]:
    """Leaf and sign-off sheet of each job for an engine of a type: of those named, or all that an interval makes due.

    unproofed : although proofing finds faults; these are given as well, in words
    Errors: Faulty, Unclear; Unprinted where proofing finds faults.
    """
    club, wanted = folder.club.value, _for_type(folder, model, names)
    record = blank_record(folder, model, on)
    faults = [[one for one in proof_job(folder, job, record, on) if one.level == "error"] for job in wanted]
    said = told(sorted({problem for each in faults for problem in each}))
    if said and not unproofed:
        raise Unprinted([said], MEND)
    wishes = []
    for procedure, found in zip(wanted, faults, strict=True):
        job = blank_job(folder, model, procedure, on, unproofed=len(found))
        code = job.instructions.code
        for sheet, page in (("leaf", leaf(job, club)), ("sign-off", signoff(job, club))):
            made = order(f"Blank {sheet} of {code}", page, job, club.club, forms=sheet == "sign-off")
            wishes.append(Wish(made, out / "blank" / model / f"{model}-{code}-{sheet}.pdf"))
    return wishes, said


def _for_type(folder: Folder, model: str, names: Sequence[str]) -> list[Read[Procedure]]:
    chosen = jobs_named(folder, names)
    if stopped := folder.blocking("", [one.value.procedure for one in chosen] if chosen else None, [model]):
        raise Faulty(sorted(stopped))
    fitting(folder, chosen, known(model, folder.models, "engine type"))
    every = (folder.procedures[one.procedure] for one in folder.for_model(folder.models[model].value))
    return chosen or [one for one in every if (often := one.value.every) is not None and often.counted]


def drafts(folder: Folder, number: str, name: str, on: date, say: Say) -> Iterator[Laid]:
    """Lay out leaf and sign-off sheet of a job on an engine into out/watch/, as print 0, which cannot be filed.

    say : told what is wrong with them

    What does not fit its page stays as it was laid out before. Errors: Faulty, Unclear, OSError.
    """
    (record,), (procedure,) = engines_named(folder, [number]), jobs_named(folder, [name])
    sound(folder, number, [procedure.value.procedure])
    club, out = folder.club.value, folder.root / "out"
    faults = [one for one in proof_job(folder, procedure, record, on) if one.level == "error"]
    if faults:
        say(told(faults))
    job = resolve(folder, record, procedure, on, unproofed=len(faults)).model_copy(update={"print": 0})
    for sheet, make in (("leaf", leaf), ("sign-off", signoff)):
        path = out / "watch" / f"{number}-{job.instructions.code}-{sheet}.pdf"
        made = order(f"Draft {sheet}", make(job, club), job, club.club, forms=sheet == "sign-off")
        outcome = press(made, Shelf(out))
        for fault in outcome.faults:
            say(with_place(folder.root, f"{sheet}: {fault}", number))
        if outcome.pressed is not None:
            replace(path, outcome.pressed.pdf)
            yield Laid(made.key, path, outcome.pressed.pages, None)
