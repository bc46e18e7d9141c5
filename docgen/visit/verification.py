"""A joined list held against each of its jobs alone: simulated clean, nothing lost, no rule of proofing broken anew."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from datetime import date

from docgen.club.bench.faults import Fault
from docgen.club.folder import Folder, Read
from docgen.club.schema.procedure import Procedure
from docgen.job.expand import Placed, PlacedStep
from docgen.job.figures import Figures
from docgen.job.simulate import Run
from docgen.job.wording import listed
from docgen.proof.case import Case
from docgen.proof.rulebook import rules_on
from docgen.proof.silence import Text, silences
from docgen.trade.quantity import Quantity
from docgen.visit.pieces import Task, recorded

OF_A_WHOLE_JOB = ("row-", "spare-never-used", "tool-never-used", "step-without-row", "off-leaf-", "stages-")
"""Rules about how a procedure is written, not about the work: those hold of each job alone."""


@dataclass(frozen=True)
class Alone:
    """One job by itself: as written, simulated, as pieces, and with its safety messages."""

    job: Read[Procedure]
    run: Run
    task: Task
    messages: tuple[Placed, ...] = field(default=())

    @property
    def name(self) -> str:
        return self.job.value.procedure


def faults(
    folder: Folder, figures: Figures, alone: Sequence[Alone], run: Run, told: tuple[Placed, ...], on: date
) -> list[str]:
    """What is wrong with the joined list, in words; nothing where it may be printed."""
    found = [_simulated(one, run) for one in run.faults]
    found += [f"{one.job.value.title}: {what} would be lost, or come in another order"
              for one in alone for what in lost(one.name, one.run.steps, run.steps)]  # fmt: skip
    return found or list(_broken(folder, figures, alone, run, told, on))


def _simulated(fault: Fault, run: Run) -> str:
    names = listed(run.graph.named((*fault.members, *fault.others)))
    return f'{fault.kind.replace("-", " ")}: {names}, at "{run.steps[fault.step].step.do}"'


def lost(name: str, alone: Sequence[PlacedStep], steps: Sequence[PlacedStep]) -> Iterator[str]:
    """What a job records that the joined list does not hold for it, or not in the job's order.

    A part that is renewed goes on with the refit, which may wait for another job: its place in the order is free.
    """
    wanted = [one for placed in alone for one in recorded(placed.step)]
    there = [one for placed in steps if name in placed.serves for one in recorded(placed.step)]
    rest = iter([one for one in there if one[0] != "renews"])
    for one in wanted:
        if one not in there if one[0] == "renews" else not any(_holds(other, one) for other in rest):
            yield " ".join(map(str, one))
            return


def _holds(there: tuple[str, object], one: tuple[str, object]) -> bool:
    if isinstance(there[1], Quantity) and isinstance(one[1], Quantity):
        return there[1] >= one[1]
    return there == one


def _broken(
    folder: Folder, figures: Figures, alone: Sequence[Alone], run: Run, told: tuple[Placed, ...], on: date
) -> Iterator[str]:
    """The rules that the joined list breaks and no job alone does, each with its finding."""
    model = folder.models[figures.model.model]
    written: list[Text] = [*(one.job for one in alone), *folder.sequences.values()]
    silent = [one for read in written for one in silences(read)]

    def case(one: Alone, simulated: Run, said: tuple[Placed, ...]) -> Case:
        return Case(one.job, model, folder.club, simulated, figures, said, folder.sequences, on)

    for rule in rules_on("on_run"):
        if rule.level != "error" or rule.name.startswith(OF_A_WHOLE_JOB):
            continue
        before = {(f.document.path, f.loc) for one in alone for f in rule.check(case(one, one.run, one.messages))}
        for finding in rule.check(case(alone[0], run, told)):
            known = (finding.document.path, finding.loc) in before
            if not known and not any(s.covers(rule.name, finding) for s in silent):
                yield f"{rule.name}: {finding.message}"
