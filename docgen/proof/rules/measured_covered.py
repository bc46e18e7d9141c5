"""Something is measured or looked at while what lies in front of it is still on."""

from collections.abc import Iterator

from docgen.club.bench.faults import is_are
from docgen.club.bench.state import State
from docgen.club.yamldoc import Loc
from docgen.proof.case import Case, Findings


def on_run(case: Case) -> Findings:
    """One finding at the name of what is measured or looked at."""
    for index, at, name, front in _in_front(case):
        if front:
            done = "measured" if at[0] == "measure" else "looked at"
            stands = f"{case.named(front)} {is_are(case.run.graph.named(front))}"
            past = [c for c in case.run.changes if c.member in front and c.step <= index]
            yield case.finding(index, at, f"{name} is {done} here while {stands} in front of it",
                               "do it while that is off; or mend  behind:  in the model", case.past(past[-1:], index))


def _in_front(case: Case) -> Iterator[tuple[int, Loc, str, tuple[str, ...]]]:
    """What is measured and looked at, and what is on in front of it, before the step and behind it: a step may open and
    measure, or measure and close. What is off lies in plain sight."""
    graph, limits, state = case.run.graph, case.model.value.limits, State(case.run.graph)
    for index, step in case.steps:
        both = case.run.before[index : index + 2]
        for at, name in enumerate(step.measure.of if step.measure else ()):
            front = graph.each(limits[name].behind) if name in limits else ()
            covering = tuple(m for m in front if not any(state.released(m, now) for now in both))
            yield index, ("measure", "of", at), name, covering
        for at, name in enumerate(step.look.of if step.look else ()):
            hiding = (min((state.hiding(m, now) for now in both), key=len) for m in graph.members(name))
            yield index, ("look", "of", at), name, tuple(dict.fromkeys(m for one in hiding for m in one))
