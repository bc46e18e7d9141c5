"""Something is loaded, or the engine is run or cranked, before its threadlocker or sealant has cured in full."""

from fractions import Fraction

from docgen.club.bench.state import Change
from docgen.club.schema.model import Fastener
from docgen.club.schema.procedure import Step
from docgen.proof.case import Case, Findings
from docgen.trade.quantity import Quantity


def on_run(case: Case) -> Findings:
    """One finding at the step that loads it; all that is too fresh there is named together."""
    fresh: dict[str, tuple[Change, str]] = {}
    for index, step in case.steps:
        for change in case.run.by_step[index]:
            material = _cures(case, change)
            if material:
                fresh[change.member] = (change, material)
            elif change.verb in ("undoes", "removes"):
                fresh.pop(change.member, None)
        if not fresh or not (step.runs or step.loads):
            continue
        loaded = set(fresh) if step.runs else set(case.run.graph.each(step.loads)) & set(fresh)
        early = {m: wanted for m in loaded if (wanted := _too_early(case, fresh[m], index))}
        if early:
            members = [m for m in case.run.graph.nodes if m in early]
            longest = max(early.values())
            material = fresh[max(early, key=lambda m: early[m])][1]
            yield case.finding(index, ("runs",) if step.runs else ("loads",),
                               f"{case.named(members)}: loaded here, but {material} needs {longest} to hold in full",
                               f"add a step before with  wait: {{for: {longest}}}",
                               case.past([fresh[m][0] for m in members], index))  # fmt: skip
            for member in members:
                del fresh[member]


def _cures(case: Case, change: Change) -> str:
    """The material whose time begins to count with this change, or nothing."""
    spec = case.run.graph.nodes[change.member].spec
    material = change.with_ if change.verb == "applies" and case.kind(change.with_) == "sealant" else ""
    if change.verb == "tightens" and isinstance(spec, Fastener):
        material = spec.locker or ""
    register = case.club.value.materials
    return material if material in register and register[material].cures else ""


def _too_early(case: Case, fresh: tuple[Change, str], index: int) -> Quantity | None:
    change, material = fresh
    cures = case.club.value.materials[material].cures
    assert cures is not None
    return cures.full if minutes_between(case, change.step, index) < cures.full.exactly("min") else None


def minutes_between(case: Case, first: int, last: int) -> Fraction:
    """Minutes that pass between two steps, as far as the procedure says."""
    return sum((_lasts(placed.step) for placed in case.run.steps[first + 1 : last]), Fraction(0))


def _lasts(step: Step) -> Fraction:
    """Minutes that pass in a step, as far as the procedure says."""
    times = [step.takes, step.wait.for_ if step.wait else None]
    return max((time.exactly("min") for time in times if time), default=Fraction(0))
