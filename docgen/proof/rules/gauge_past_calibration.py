"""A gauge or torque wrench that the job uses is past its calibration date."""

from docgen.job import tooling
from docgen.job.figures import tightness, torque_of
from docgen.proof.case import Case, Finding, Findings


def on_run(case: Case) -> Findings:
    """One finding in the register, at the date. Nothing without a day to compare with."""
    if case.on is None:
        return
    for group, name in sorted(_used(case)):
        until = getattr(case.club.value, group)[name].calibrated_until
        if until and until < case.on:
            yield Finding(case.club.document, (group, name, "calibrated_until"),
                          f"{name} was calibrated until {until}, and the day is {case.on}",
                          "have it calibrated and write the new date, or use another one")  # fmt: skip


def _used(case: Case) -> set[tuple[str, str]]:
    club, figures, model = case.club.value, case.figures, case.model.value
    found: set[tuple[str, str]] = set()
    for _, step in case.steps:
        limits = [model.limits[n].gauge for n in (step.measure.of if step.measure else ()) if n in model.limits]
        settings = [model.settings[n].gauge for n in (*step.finds, *step.sets) if n in model.settings]
        found |= {("gauges", name) for name in (*limits, *settings) if name in club.gauges}
        for name in step.tightens:
            torque = torque_of(tightness(figures, name)) if case.run.graph.members(name) else None
            wrench = tooling.torque_wrench(club, torque) if torque else None
            found |= {("tools", wrench[0])} if wrench else set()
    return found
