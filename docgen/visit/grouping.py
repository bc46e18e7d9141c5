"""Which of an engine's jobs are joined: all of them where that can be, else as many as can, and why not the others."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date

from docgen.club.bench.graph import Graph
from docgen.club.folder import EngineRecord, Folder, Read
from docgen.club.schema.procedure import Procedure
from docgen.job.expand import Placed, PlacedStep, expand, messages
from docgen.job.figures import Figures
from docgen.job.resolve import figures_of
from docgen.job.simulate import Run, simulate
from docgen.job.wording import listed
from docgen.visit.pieces import Task, task_of
from docgen.visit.search import Order, cheapest
from docgen.visit.steplist import placed_steps, rows_of
from docgen.visit.tidy import tidied
from docgen.visit.verification import Alone, faults
from docgen.visit.yard import Yard

Jobs = Sequence[Read[Procedure]]

NO_ORDER = "no order was found that gives every step of these jobs the engine as it needs it"


@dataclass(frozen=True)
class Visit:
    """Jobs that are done in one strip-down, and those that cannot be joined with them, each with why.

    steps : the joined list; empty where fewer than two jobs can be joined
    """

    jobs: tuple[Read[Procedure], ...]
    steps: tuple[PlacedStep, ...]
    order: Order | None
    tasks: tuple[Task, ...]
    apart: tuple[tuple[Read[Procedure], str], ...]
    messages: tuple[Placed, ...] = ()


def visit(folder: Folder, record: EngineRecord, jobs: Jobs, on: date) -> Visit:
    """Join the jobs on one engine, as it stands on the day `on`.

    Where not all can be joined, they are taken one by one in their order, and each that cannot be joined with those
    before it stays apart.
    """
    club = _Joining(folder, record, on)
    whole, _ = club.try_all(jobs)
    if whole is not None or len(jobs) < 2:
        return whole or Visit(tuple(jobs), (), None, (), ())
    kept: list[Read[Procedure]] = []
    found: Visit | None = None
    apart: list[tuple[Read[Procedure], str]] = []
    for job in jobs:
        joined, why = club.try_all([*kept, job])
        if kept and (joined is None or joined.apart):
            apart.append((job, why or NO_ORDER))
        else:
            kept.append(job)
            found = joined
    return Visit(tuple(kept), found.steps if found else (), found.order if found else None,
                 found.tasks if found else (), tuple(apart), found.messages if found else ())  # fmt: skip


class _Joining:
    """One engine, and what each of its jobs is alone."""

    def __init__(self, folder: Folder, record: EngineRecord, on: date) -> None:
        self.folder = folder
        self.figures: Figures = figures_of(folder, record, on)
        state = self.figures.state
        self.graph = Graph(self.figures.model, [d.item for d in state.deviations if d.left_out])
        self.on = on
        self._alone: dict[str, Alone] = {}

    def alone(self, job: Read[Procedure]) -> Alone:
        """A job by itself, simulated once."""
        name = job.value.procedure
        if name not in self._alone:
            model = self.figures.model
            run = self._run(expand(job, self.folder.sequences, model))
            self._alone[name] = Alone(job, run, task_of(name, run), messages(job, self.folder.sequences, model))
        return self._alone[name]

    def _run(self, steps: Sequence[PlacedStep]) -> Run:
        return simulate(steps, self.graph, self.figures.model.limits)

    def try_all(self, jobs: Jobs) -> tuple[Visit | None, str]:
        """The jobs joined, but for those that the search leaves out; or None, and why not."""
        alone = [self.alone(job) for job in jobs]
        unsound = [str(one.job.value.title) for one in alone if one.run.faults]
        if unsound:
            return None, f"the simulation finds faults in {listed(unsound)} alone: docgen proof says which"
        tasks = tuple(one.task for one in alone)
        order = cheapest(Yard(self.graph, tasks, self.figures.model.isolator or ""))
        if order is None:
            return None, NO_ORDER
        out = [jobs[n] for n in order.left_out]
        codes = {one.job.value.procedure: one.job.value.code for one in alone if one.job not in out}
        runs = {task.name: one.run.steps for task, one in zip(tasks, alone, strict=True)}
        rows = rows_of(runs.values())
        lines = tidied(order.lines, lambda line: rows[id(line.piece.placed)][0], self.graph)
        steps = placed_steps(lines, runs, codes, self.figures.words)
        alone = [one for one in alone if one.job not in out]
        told = _told(alone)
        found = faults(self.folder, self.figures, alone, self._run(steps), told, self.on)
        if found:
            return None, found[0]
        kept, apart = (tuple(one.job for one in alone), tuple((job, NO_ORDER) for job in out))
        return Visit(kept, steps, order, tuple(one.task for one in alone), apart, told), ""


def _told(alone: Sequence[Alone]) -> tuple[Placed, ...]:
    """Every safety message once, with the jobs that say it: of those with the same line, the one that says most to
    avoid what it is about."""
    found: dict[object, Placed] = {}
    for job in alone:
        for one in job.messages:
            said = one.message
            key = (said.word, said.at, said.hazards, said.line or said.hazard)
            other = found.get(key, one)
            best = max(other, one, key=lambda each: len(each.message.avoid))
            found[key] = replace(best, jobs=tuple(dict.fromkeys((*other.jobs, job.name))))
    return tuple(found.values())
