"""A failing check has a fastener done up with threadlocker, and the engine runs before that can have cured."""

import re
from collections.abc import Iterator

from docgen.club.schema.model import Fail
from docgen.proof.case import Case, Findings
from docgen.proof.rules.cure_too_short import minutes_between
from docgen.proof.words import english

SAYS_SO = re.compile(r"\bcur(e|es|ed|ing)\b", re.IGNORECASE)


def on_run(case: Case) -> Findings:
    """One finding at the check.

    What a later step tightens is that step's. A text that speaks of the cure is enough: the check's own, or that of a
    check between it and the run.
    """
    register = case.club.value.materials
    for index, step in case.steps:
        for verb, fail in step.fails:
            for at, name in enumerate(fail.renews or ()):
                spec = case.model.value.fasteners.get(name.partition("/")[0])
                material = register.get(spec.locker or "") if spec else None
                loaded = _loaded(case, index, name) if material and material.cures else None
                if not (spec and material and material.cures) or loaded is None:
                    continue
                full, said = material.cures.full, any(map(SAYS_SO.search, _told(case, index, fail, loaded)))
                if not said and minutes_between(case, index, loaded) < full.exactly("min"):
                    yield case.finding(
                        index, (verb.key, "fail", "renews", at),
                        f"the failing check renews {name}, whose {spec.locker} needs {full} to hold in full, and"
                        f" the engine runs at {case.step_line(loaded, index)}",
                        "say in  do:  of the check that it cures first, before the engine runs",
                    )  # fmt: skip


def _told(case: Case, index: int, fail: Fail, loaded: int) -> Iterator[str]:
    """What the failing check says is to be done, and what the checks after it ask for before the engine runs."""
    yield english(fail.do)
    for later in case.run.steps[index + 1 : loaded]:
        if look := later.step.look:
            yield english(look.accept)


def _loaded(case: Case, after: int, name: str) -> int | None:
    """The next step that runs the engine or loads it; None where there is none, or a step tightens it before."""
    members = set(case.run.graph.members(name))
    for index in range(after + 1, len(case.run.steps)):
        step = case.run.steps[index].step
        if members & set(case.run.graph.each(step.tightens)):
            return None
        if step.runs or members & set(case.run.graph.each(step.loads)):
            return index
    return None
