"""A procedure meets a model and an engine and becomes a Job."""

from collections import Counter
from datetime import date
from itertools import groupby

from docgen.club.catalogue import ENGLISH
from docgen.club.folder import EngineRecord, Folder, Read
from docgen.club.schema.model import Interval
from docgen.club.schema.procedure import Procedure, SafetyMessage, Step
from docgen.club.uses import has
from docgen.job import kit, wording
from docgen.job.components import carrier_of
from docgen.job.deviations import deviation_lines
from docgen.job.expand import Placed, PlacedStep, expand, messages
from docgen.job.figures import Figures
from docgen.job.hazards import placed as placed_before
from docgen.job.hazards import spots
from docgen.job.job import (
    Check,
    Cure,
    Done,
    Instructions,
    Issue,
    Job,
    JobStage,
    JobStep,
    Message,
    PastReading,
    SealLine,
)
from docgen.job.provenance import adapted
from docgen.job.readings import in_short, wear
from docgen.job.rows import rows_of
from docgen.job.seals import broken
from docgen.job.stacks import stacks
from docgen.job.state import state_of
from docgen.job.stepmarks import marks_of, step_key, text_of
from docgen.job.timing import longest_cure, timing_of

PAST_READINGS = 3
"""How many earlier readings a sign-off sheet shows."""


def resolve(
    folder: Folder, record: EngineRecord, procedure: Read[Procedure], on: date, *, why_due: str = "", unproofed: int = 0
) -> Job:
    """The job of doing `procedure` on an engine, as it stands at the end of the day `on`.

    The folder must hold the club and the engine's model (the caller has refused folders with problems).
    why_due   : printed on the sign-off sheet
    unproofed : how many faults proofing found, where the job is printed all the same
    """
    figures = figures_of(folder, record, on)
    placed = expand(procedure, folder.sequences, figures.model)
    safety = messages(procedure, folder.sequences, figures.model)
    job = resolved(record, figures, procedure.value, placed, safety, on, why_due)
    also = {"unproofed": unproofed, "adapted": adapted(folder, procedure, figures.model, figures.words)}
    return job.model_copy(update={"instructions": job.instructions.model_copy(update=also)})


def figures_of(folder: Folder, record: EngineRecord, on: date) -> Figures:
    """The figures of an engine as it stands at the end of the day `on`, its deviations included."""
    return Figures(folder.club.value, folder.models[record.engine.model].value, state_of(record, on))


def resolved(
    record: EngineRecord, figures: Figures, procedure: Procedure, placed: tuple[PlacedStep, ...],
    safety: tuple[Placed, ...], on: date, why_due: str = "",
) -> Job:  # fmt: skip
    """The job of doing these steps; all but the steps themselves is taken from `procedure`."""
    steps = [one.step for one in placed]
    return Job(
        instructions=_instructions(procedure, record, figures, placed, safety),
        issue=_issue(record, figures, procedure, steps, on, why_due),
    )


def _instructions(
    procedure: Procedure, record: EngineRecord, figures: Figures, placed: tuple[PlacedStep, ...],
    safety: tuple[Placed, ...],
) -> Instructions:  # fmt: skip
    steps = [one.step for one in placed]
    timing = timing_of(steps, figures)
    stages = _stages(placed, _job_steps(placed, safety, figures))
    return Instructions(
        engine=record.engine.engine,
        serial=record.engine.serial or "",
        language="" if figures.club.language == ENGLISH else figures.club.language,
        model=figures.model.model,
        model_title=figures.model.title,
        manual=figures.model.manual,
        components=_components(steps, figures),
        component_names=_component_names(steps, figures),
        procedure=procedure.procedure,
        title=procedure.title,
        code=procedure.code,
        revision=procedure.revision,
        dated=procedure.dated,
        author=procedure.author or "",
        licence=procedure.licence or "",
        purpose=procedure.purpose or "",
        every=wording.interval(interval_of(procedure, figures), figures.words),
        before=procedure.before,
        tools=kit.tools_of(procedure, steps, figures),
        materials=kit.materials_lines(steps, figures),
        spares=kit.spares_of(procedure, steps, figures),
        deviations=deviation_lines(figures),
        seals=_seals(steps, figures),
        stages=stages,
        closing=_closing(procedure, steps, figures),
        after_run=tuple(
            Check(key=c.id, text=c.do, accept=c.accept or "") for c in procedure.after_run if has(figures.model, c)
        ),
        work_minutes=timing.work_minutes,
        wait_minutes=timing.wait_minutes,
        wait_governs=timing.governs,
        longest_cure=_cure(steps, stages, figures),
    )


def _cure(steps: list[Step], stages: tuple[JobStage, ...], figures: Figures) -> Cure | None:
    longest = longest_cure(steps, figures)
    if not longest:
        return None
    last, placed = longest[-1], [step for stage in stages for step in stage.steps]
    return Cure(
        time=last.time,
        why=figures.words("{locker} cures", locker=figures.club.materials[last.material].name),
        items=tuple(dict.fromkeys(figures.name(one.item) for one in longest if one.item)),
        after=placed[last.step].called,
    )


def _components(steps: list[Step], figures: Figures) -> dict[str, str]:
    """The numbered components that the job works on, or on parts or holders of: a sheet speaks of no others."""
    model, numbered = figures.model, figures.state.components
    named = (one.name for step in steps for verb in step.verbs if verb.works for one in verb.names(step))
    names = {name.partition("/")[0] for name in named}
    measured = [name for step in steps if step.measure for name in step.measure.of]
    names |= {item for name in measured for item in model.limits[name].of}
    worked_on = {carrier_of(model, name, numbered) for name in names}
    holding = ((part, set(model.parts[part].held_by)) for part in numbered if part in model.parts)
    worked_on |= {part for part, held in holding if names & held}
    return {part: number for part, number in sorted(numbered.items()) if part in worked_on}


def _component_names(steps: list[Step], figures: Figures) -> dict[str, str]:
    """What the components are called in another language; in English their own names say it."""
    if figures.club.language == ENGLISH:
        return {}
    return {part: figures.name(part) for part in _components(steps, figures)}


def interval_of(procedure: Procedure, figures: Figures) -> Interval | None:
    """How often the job is due on this engine: its own interval, else its model's, else the procedure's."""
    name = procedure.procedure
    return figures.state.intervals.get(name) or figures.model.intervals.get(name) or procedure.every


def _job_steps(placed: tuple[PlacedStep, ...], safety: tuple[Placed, ...], figures: Figures) -> list[JobStep]:
    steps = [one.step for one in placed]
    drawn = stacks(placed, figures)
    before = placed_before(safety, spots(placed, figures.model, figures.club))
    keys: Counter[str] = Counter()
    found = []
    breaks, rows, painted = broken(steps, figures.model), rows_of(placed, figures), _painted(steps, figures)
    for index, step in enumerate(steps):
        name = step_key(step, index + 1)
        keys[name] += 1
        found.append(
            JobStep(
                number=index + 1,
                key=name if keys[name] == 1 else f"{name}-{keys[name]}",
                text=text_of(step, figures, "do"),
                why=text_of(step, figures, "why"),
                messages=tuple(_message(m) for m in before.get(index, ())),
                marks=(*marks_of(step, figures, breaks.get(index, ()), painted), *drawn.get(index, ())),
                takes=step.takes,
                tools=tuple(figures.club.tools[name].name for name in step.tools if name in figures.club.tools),
                row=rows[index].row,
                line=rows[index].line,
                label=rows[index].label,
                jobs=placed[index].serves,
            )
        )
    return found


def _painted(steps: list[Step], figures: Figures) -> frozenset[str]:
    """The fasteners that the job draws a paint mark across."""
    paints = {name for name, material in figures.club.materials.items() if material.kind == "paint"}
    uses = (step.applies[name] for step in steps for name in paints & step.applies.keys())
    return frozenset(one.partition("/")[0] for use in uses for one in use.to)


def _message(message: SafetyMessage) -> Message:
    return Message(word=message.word, hazards=message.hazards, hazard=message.hazard, consequence=message.consequence,
                   avoid=message.avoid, line=message.line or "")  # fmt: skip


def _stages(placed: tuple[PlacedStep, ...], steps: list[JobStep]) -> tuple[JobStage, ...]:
    groups = groupby(zip(placed, steps, strict=True), key=lambda both: both[0].stage)
    return tuple(JobStage(title=title, steps=tuple(step for _, step in both)) for title, both in groups)


def _seals(steps: list[Step], figures: Figures) -> tuple[SealLine, ...]:
    taken, known = (name for names in broken(steps, figures.model).values() for name in names), figures.state.seals
    return tuple(SealLine(item=name, name=figures.name(name), number=known[name]) for name in taken if name in known)


def _closing(procedure: Procedure, steps: list[Step], figures: Figures) -> tuple[Check, ...]:
    """The looks that the procedure wants signed one by one, as far as this model has them."""
    looks = {step.look.id: (step, step.look.accept) for step in steps if step.look}
    found = ((name, *looks[name]) for name in procedure.closing if name in looks)
    return tuple(Check(key=name, text=text_of(step, figures, "do"), accept=accept) for name, step, accept in found)


def _issue(
    record: EngineRecord, figures: Figures, procedure: Procedure, steps: list[Step], on: date, why_due: str
) -> Issue:
    state, w = figures.state, figures.words
    last = state.last(procedure.procedure)
    return Issue(
        on=on,
        keeper=state.keeper,
        hours=wording.tenths(state.hours),
        since_began=not state.hours_known,
        log_head=record.log.head,
        last_done=Done(on=last[0].day, hours=wording.tenths(last[0].hours)) if last else None,
        why_due=why_due,
        last_readings={
            limit: tuple(
                PastReading(date=r.at.day, hours=wording.tenths(r.at.hours), values=r.values)
                for r in past[-PAST_READINGS:]
            )
            for limit, past in sorted(state.readings.items())
        },
        wear=_wear(figures),
        last_settings={name: text for name, (_, text) in sorted(state.settings.items())},
        open_findings=tuple(wording.finding(f, w) for f in state.findings),
        wanted=kit.wanted_of(procedure, steps, figures),
    )  # fmt: skip


def _wear(figures: Figures) -> dict[str, str]:
    """What the log says of the wear of each limit that has been measured."""
    short = {}
    for name, readings in sorted(figures.state.readings.items()):
        found, band = wear(figures, name, readings), figures.limit(name).allow
        if found is not None and band is not None:
            short[name] = in_short(found, wording.unit(band.unit, figures.words), figures.words)
    return short
