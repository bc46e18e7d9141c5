"""What comes off, in which order: each piece once, in an order that the simulation accepts backwards."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

import pytest
from hypothesis import given

from docgen.club.bench.faults import Fault
from docgen.club.bench.graph import Graph
from docgen.club.bench.state import Change
from docgen.club.folder import Folder, Read
from docgen.club.schema.model import Model
from docgen.club.schema.procedure import Procedure, Stage, Step
from docgen.club.yamldoc import Document
from docgen.job.expand import PlacedStep
from docgen.job.figures import Figures
from docgen.job.resolve import resolve
from docgen.job.simulate import simulate
from docgen.job.state import state_of
from docgen.plan.laydown import Laydown, laydown, lies_down, stage_of
from tests.demo.conftest import ON, _club
from tests.proof.orders import items, on, there_and_back
from tests.proof.test_orders import jobs

NOWHERE = Document("", "", None, {}, {})
EVERY = [
    (engine, job.procedure)
    for engine, record in _club().engines.items()
    for job in _club().for_model(_club().models[record.engine.model].value)
]


def laid(engine: str, job: str, when: date = ON) -> Laydown:
    """What the demo's job takes off."""
    folder = _club()
    record = folder.engines[engine]
    figures = Figures(folder.club.value, folder.models[record.engine.model].value, state_of(record, when))
    return laydown(folder, folder.procedures[job], figures)


def came_off(changes: Sequence[Change]) -> list[Change]:
    """Each member's first coming off or loose: what the mat is to show, worked out by another way round."""
    first: dict[str, Change] = {}
    for change in reversed([c for c in changes if c.verb in ("undoes", "removes")]):
        first[change.member] = change
    return sorted(first.values(), key=changes.index)


def backwards(model: Model, found: Laydown) -> tuple[Fault, ...]:
    """All that came off taken off in its order, then put back in the mat's order read backwards, simulated."""
    graph = Graph(model, sorted(set(model.parts) - {node.item for node in found.run.graph.nodes.values()}))
    off = came_off(found.run.changes)
    place = {member: at for at, piece in enumerate(found.pieces) for member in piece.members}
    steps: list[dict[str, object]] = [{change.verb: [change.member]} for change in off]
    groups: dict[tuple[int, str], list[str]] = {}  # one a place, and one for what hangs where it came off in one step
    for change in off:
        at = place.get(change.member, -1)
        item = change.member.partition("/")[0]
        groups.setdefault((at, "") if at >= 0 else (-1, f"{change.step} {item}"), []).append(change.member)
    numbers = [at for at, _ in groups if at >= 0]
    assert numbers == list(range(len(found.pieces))), "the mat's order is not that of coming off"
    for members in reversed(groups.values()):
        steps += back(model, members)
    work = [Step.model_validate({"do": "Work.", **step}) for step in steps]
    placed = [PlacedStep("Work", step, NOWHERE, ("steps", n)) for n, step in enumerate(work)]
    return simulate(placed, graph, {}).faults


def back(model: Model, members: Sequence[str]) -> list[dict[str, object]]:
    """The steps that put the members of one piece on."""
    kinds = [on(model, member.partition("/")[0]) for member in members]
    found: list[dict[str, object]] = []
    for verb in ("renews", "fits", "starts", "tightens"):
        names = [m for m, kind in zip(members, kinds, strict=True) if any(verb in step for step in kind)]
        found += [{verb: names}] if names else []
    return found


@pytest.mark.parametrize("engine", sorted(_club().engines))
def test_every_job_of_the_demo_lays_each_piece_down_once_and_goes_back_backwards(engine: str) -> None:
    mine = [job for number, job in EVERY if number == engine]
    assert len(mine) > 15
    some = 0
    for job in mine:
        found = laid(engine, job)
        model = _club().models[_club().engines[engine].engine.model].value
        wanted = [
            c.member
            for c in came_off(found.run.changes)
            if c.became == "off" and lies_down(items(model)[c.member.partition("/")[0]])
        ]
        assert sorted(m for piece in found.pieces for m in piece.members) == sorted(wanted), job
        assert [piece.off for piece in found.pieces] == sorted(piece.off for piece in found.pieces), job
        assert len({piece.mark for piece in found.pieces}) == len(found.pieces), job
        assert backwards(model, found) == (), job
        some += bool(found.pieces)
    assert some >= 5


def test_a_place_is_called_as_its_step_is_on_the_leaf_and_in_the_reading() -> None:
    found = laid("023", "clutch-service")
    folder = _club()
    told = resolve(folder, folder.engines["023"], folder.procedures["clutch-service"], ON).instructions
    rows = {row.number: row for stage in told.stages for row in stage.rows}
    work = {index + 1: step.step for index, step in enumerate(found.run.steps)}
    for piece in found.pieces:
        off = [work[one.number] for one in rows[piece.off].steps if one.called == piece.mark.partition(".")[0]]
        assert piece.item in {name.partition("/")[0] for step in off for name in (*step.undoes, *step.removes)}, piece
        assert piece.back is not None
        on = [work[one.number] for one in rows[piece.back].steps]
        back = {name.partition("/")[0] for one in on for name in (*one.fits, *one.renews, *one.starts, *one.tightens)}
        assert piece.item in back, piece
        stage = [one for one in told.stages if one.rows][stage_of(piece, told)]
        assert piece.off in [row.number for row in stage.rows], piece
    assert [(p.mark, p.name, p.count, p.back, p.fate) for p in found.pieces[-4:]] == [
        ("10a.2", "clutch drum", 1, 27, "checked"),
        ("10a.3", "needle bearing of the drum", 1, 26, "checked"),
        ("10b", "O-ring of the shaft", 1, 25, "new"),
        ("10c", "inner thrust washer", 1, 24, "checked"),
    ]


@given(jobs())
def test_any_valid_order_of_any_engine(job: tuple[Model, list[str]]) -> None:
    model, order = job
    folder = _club()
    record = folder.engines["023"]
    state = state_of(record, record.engine.received)
    state.deviations, state.components = [], {}
    steps = tuple(Step.model_validate({"do": "Work.", **step}) for step in there_and_back(model, order))
    fields = {"procedure": "any", "title": "Any", "code": "ANY", "revision": 1, "dated": ON, "needs": ()}
    stage = Stage.model_construct(stage="Work", steps=steps, only_with=())
    procedure = Read(Procedure.model_construct(**fields, stages=(stage,)), NOWHERE)
    found = laydown(Folder(folder.root, folder.club), procedure, Figures(folder.club.value, model, state))
    loose = {name for name in order if getattr(items(model)[name], "releases", "off") == "loose"}
    lying = [name for name in order if lies_down(items(model)[name]) and name not in loose]
    assert [piece.item for piece in found.pieces] == lying
    assert [m for piece in found.pieces for m in piece.members] == [
        member for name in lying for member in Graph(model).members(name)
    ]
    assert all(piece.fate == ("new" if items(model)[piece.item].single_use else "same") or piece.fate == "checked"
               for piece in found.pieces)  # fmt: skip
    assert set(found.stays) == {found_name(model, name) for name in order if name not in lying}
    assert backwards(model, found) == ()


def found_name(model: Model, name: str) -> str:
    """The name that a reader sees."""
    item = items(model)[name]
    return item.name or name.replace("-", " ")


def test_a_nut_lies_as_the_hexagon_that_turns_it_and_a_lead_stays_where_it_hangs() -> None:
    """Across the corners: 2 / sqrt(3) of the flats."""
    found = laid("023", "clutch-service")
    (nut,) = (piece.footprint for piece in found.pieces if piece.item == "clutch-nut")
    assert nut is not None
    assert (nut.kind, nut.width, nut.height, nut.bore) == ("nut", 17.0, 19.63, 10.0)
    (screws,) = (piece.footprint for piece in found.pieces if piece.item == "starter-screws")
    assert screws is not None
    assert (screws.kind, screws.width, screws.height) == ("screw", 12.0, 30.0)
    assert {"negative lead of the battery", "positive lead of the starter"} <= set(found.stays)


def test_every_nut_and_every_lead_of_a_model_says_what_it_is() -> None:
    """By their names here, so that none is drawn as a screw."""
    seen = 0
    for read in _club().models.values():
        for name, fastener in read.value.fasteners.items():
            kind = fastener.shape.kind if fastener.shape else ""
            if fastener.thread and name.rpartition("-")[2] in ("nut", "nuts", "lead"):
                assert kind == ("lead" if name.endswith("lead") else "nut"), name
                seen += 1
    assert seen > 20
