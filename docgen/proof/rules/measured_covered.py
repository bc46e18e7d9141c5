"""Something is measured or looked at while what lies in front of it is still on."""

from docgen.club.bench.faults import is_are
from docgen.job.simulation.places import place_faults
from docgen.proof.case import Case, Findings


def on_run(case: Case) -> Findings:
    """One finding at the name of what is measured or looked at."""
    for fault in place_faults(case.run, case.model.value.limits):
        if fault.kind == "covered":
            names = case.run.graph.named(fault.members)
            done = "measured" if fault.at[0] == "measure" else "looked at"
            past = [c for c in case.run.changes if c.member in fault.members and c.step <= fault.step]
            yield case.finding(
                fault.step, fault.at,
                f"{fault.what} is {done} here while {case.named(fault.members)} {is_are(names)} in front of it",
                "do it while that is off; or mend  behind:  in the model",
                case.past(past[-1:], fault.step),
            )  # fmt: skip
