"""Engine 023's four due jobs as one visit: what it saves is true, nothing is lost, and it fits its paper."""

from __future__ import annotations

from datetime import timedelta

from docgen.club.bench.graph import Graph
from docgen.job.expand import PlacedStep, expand
from docgen.job.job import Instructions, Saved
from docgen.job.marks import LookMark, ReadingMark, RenewMark, TorqueMark
from docgen.job.resolve import figures_of, resolve
from docgen.job.simulate import Run, simulate
from docgen.press.orders import order
from docgen.press.workers import press
from docgen.sheets.leaf import leaf
from docgen.sheets.signoff import signoff
from docgen.trade.clock import duration
from docgen.visit.grouping import visit
from docgen.visit.job import again, visit_job
from tests.visit.conftest import CODES, NAMES, ON, Printed, jobs


def run(printed: Printed, steps: tuple[PlacedStep, ...]) -> Run:
    figures = figures_of(printed.folder, printed.folder.engines["023"], ON)
    left_out = [one.item for one in figures.state.deviations if one.left_out]
    return simulate(steps, Graph(figures.model, left_out), figures.model.limits)


def counted(simulated: Run) -> tuple[int, int]:
    """Removals and minutes by the simulation alone: what each step has changed to off or loose, by items."""
    graph, removals = simulated.graph, 0
    for index, changes in enumerate(simulated.by_step):
        gone = {graph.nodes[c.member].item for c in changes if c.verb in ("undoes", "removes")}
        removals += len(gone)
        assert all(simulated.before[index][c.member] != c.became for c in changes if c.verb in ("undoes", "removes"))
    work = [one.step for one in simulated.steps if one.step.takes and not one.step.wait]
    return removals, round(sum((duration(one.takes) for one in work if one.takes), timedelta()) / timedelta(minutes=1))


def test_what_is_saved_is_true_by_simulation(printed: Printed) -> None:
    model = printed.folder.models["alder-100r"].value
    alone = [run(printed, expand(job, printed.folder.sequences, model)) for job in jobs(printed.folder, CODES)]
    together = run(printed, printed.visit.steps)
    assert together.faults == ()
    apart = [counted(one) for one in alone]
    removals, minutes = counted(together)
    assert (sum(count for count, _ in apart), removals, minutes) == (41, 26, 145)
    assert printed.job.instructions.saved == Saved(
        removals_apart=41, removals=26, minutes_apart=182, minutes=145, fewest=True
    )
    assert abs(sum(time for _, time in apart) - 182) <= 2  # each job's minutes are rounded by itself


def marks(told: Instructions, name: str = "") -> dict[str, list[str]]:
    """What a job leaves on the signed sheet, by kind, in its order."""
    steps = [step for step in told.steps if not name or name in step.jobs]
    found = [mark for step in steps for mark in step.marks]
    return {
        "looks": [mark.accept for mark in found if isinstance(mark, LookMark)],
        "readings": [mark.limit for mark in found if isinstance(mark, ReadingMark)],
        "renewed": sorted(mark.item for mark in found if isinstance(mark, RenewMark) and not mark.if_needed),
        "critical": sorted(mark.item for mark in found if isinstance(mark, TorqueMark) and mark.critical),
    }


def test_every_job_has_all_that_it_has_alone(printed: Printed) -> None:
    record = printed.folder.engines["023"]
    for job in jobs(printed.folder, CODES):
        alone = resolve(printed.folder, record, job, ON).instructions
        assert marks(printed.job.instructions, job.value.procedure) == marks(alone)


def test_each_row_says_which_jobs_it_serves(printed: Printed) -> None:
    told = printed.job.instructions
    code = {part.procedure: part.code for part in told.parts}
    assert [part.code for part in told.parts] == [*CODES]
    assert all(step.jobs and set(step.jobs) <= {*NAMES} for step in told.steps)
    for stage in told.stages:
        heading = stage.title.partition(" · ")[0].split()
        assert {tuple(code[name] for name in step.jobs) for step in stage.steps} == {tuple(heading)}


def test_make_safe_cure_and_start_stand_once(printed: Printed) -> None:
    texts = [step.text for step in printed.job.instructions.steps]
    assert len([one for one in texts if one.startswith("Take the negative lead off the battery")]) == 1
    assert len([one for one in texts if one.startswith("Pull the spark plug cap off")]) == 1
    assert len([one for one in texts if one.startswith("Let the threadlocker cure")]) == 1
    assert texts.index("Switch the main switch off.") == 0
    blown = next(row for stage in printed.job.instructions.stages for row in stage.rows if row.line.startswith("Blow"))
    assert [one.line for one in blown.messages] == ["Air throws grit - eyes covered, not at faces."]


def test_the_same_visit_is_the_same_sheet_again(printed: Printed) -> None:
    now = again(printed.folder, printed.job, ON)
    assert now is not None
    assert now.instructions_digest == printed.job.instructions_digest


def test_a_job_that_cannot_be_joined_stays_apart_and_says_why(printed: Printed) -> None:
    """Twice the same job is two that record the same; a job whose simulation has faults is not joined either."""
    record, folder = printed.folder.engines["023"], printed.folder
    broken = folder.procedures["reed-inspection"]
    stages = broken.value.stages[:-2]  # it never puts the reeds back
    half = type(broken)(broken.value.model_copy(update={"stages": stages}), broken.document)
    found = visit(folder, record, [*jobs(folder, ("CLU", "STA")), half], ON)
    assert [job.value.code for job in found.jobs] == ["CLU", "STA"]
    assert [(job.value.code, why) for job, why in found.apart] == [
        ("REE", "the simulation finds faults in Reed valve - inspect alone: docgen proof says which")
    ]
    assert visit_job(folder, record, found, ON).instructions.title == "One visit: CLU STA"


def test_it_fits_its_paper(printed: Printed) -> None:
    """Three leaves at most to laminate, one to sign."""
    club = printed.folder.club.value
    made = {}
    for name, page in (("leaf", leaf(printed.job, club)), ("sign-off", signoff(printed.job, club))):
        pressed = press(order(name, page, printed.job, club.club, forms=name == "sign-off"))
        assert pressed.faults == ()
        assert pressed.pressed is not None
        made[name] = pressed.pressed.pages
    assert made["leaf"] <= 6
    assert made["sign-off"] <= 2
