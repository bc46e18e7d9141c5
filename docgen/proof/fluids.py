"""How the rules about fluids place and trace what the simulation finds."""

from __future__ import annotations

from docgen.club.yamldoc import Loc
from docgen.job.simulation.fluids import FluidFault
from docgen.proof.case import Case
from docgen.proof.finding import Finding


def fault_of(case: Case, fault: FluidFault, message: str, hint: str, trail: tuple[str, ...] = ()) -> Finding:
    """A finding at the fluid's name in the step, or at the verb that runs the engine."""
    named: tuple[str, ...] = getattr(case.run.steps[fault.step].step, fault.verb) if fault.verb != "runs" else ()
    at: Loc = (fault.verb, named.index(fault.fluid)) if named else (fault.verb,)
    return case.finding(fault.step, at, message, hint, trail)


def since(case: Case, fault: FluidFault, happened: str) -> tuple[str, ...]:
    """What came before: `sump-oil let out at line 31`; nothing where it was so from the start."""
    if fault.since is None:
        return ()
    return (f"{fault.fluid} was {happened} at {case.step_line(fault.since, fault.step)}",)
