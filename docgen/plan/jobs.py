"""Which job sees to what on an engine type: who renews a part, who measures a limit."""

from collections.abc import Collection
from dataclasses import dataclass

from docgen.club.folder import Folder
from docgen.club.schema.model import Model
from docgen.job.components import carrier_of
from docgen.job.expand import expand
from docgen.job.readings import sources_of


@dataclass(frozen=True)
class Jobs:
    """Part, fastener or limit to the job that sees to it; ``covering``: job to the larger jobs that contain it."""

    model: Model
    renewing: dict[str, str]
    measuring: dict[str, str]
    covering: dict[str, list[str]]

    def doing(self, procedure: str) -> tuple[str, ...]:
        """The job itself, and the jobs that contain it: each of them, signed, counts as done."""
        return (procedure, *self.covering.get(procedure, ()))

    def carriers(self, procedure: str, numbered: Collection[str]) -> list[str]:
        """The numbered components whose own parts a job renews: the job goes with them from engine to engine."""
        items = (item for item, job in self.renewing.items() if job == procedure)
        found = (carrier_of(self.model, item, numbered) for item in items)
        return sorted({carrier for carrier in found if carrier is not None})


def jobs_of(folder: Folder, model: Model) -> Jobs:
    """What each job of an engine type sees to.

    A part belongs to the job that renews it: for sure, else if a check fails, else as a spare. A limit belongs to the
    job that measures it, or the readings that it is derived from. A job that contains others comes last.
    """
    ways: list[dict[str, str]] = [{}, {}, {}]
    measuring: dict[str, str] = {}
    covering: dict[str, list[str]] = {}
    for procedure in sorted(folder.for_model(model), key=lambda p: bool(p.covers)):
        for name in procedure.covers:
            covering.setdefault(name, []).append(procedure.procedure)
        read = folder.procedures[procedure.procedure]
        for placed in expand(read, folder.sequences, model):
            step = placed.step
            fails = [f for f in (step.look and step.look.fail, step.measure and step.measure.fail) if f]
            for name in step.renews:
                ways[0].setdefault(name.partition("/")[0], procedure.procedure)
            for name in (n for f in fails for n in f.renews or ()):
                ways[1].setdefault(name.partition("/")[0], procedure.procedure)
            for limit in step.measure.of if step.measure else ():
                measuring.setdefault(limit, procedure.procedure)
        for name in procedure.spares:
            ways[2].setdefault(name.partition("/")[0], procedure.procedure)
    for name, limit_ in model.limits.items():
        source = next((s for s in sources_of(limit_.derived) if s in measuring), None) if limit_.derived else None
        if source is not None:
            measuring.setdefault(name, measuring[source])
    return Jobs(model, ways[2] | ways[1] | ways[0], measuring, covering)
