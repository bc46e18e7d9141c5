"""Engine types and jobs made at random: parts behind parts, fasteners that hold them, single-use parts, checks."""

from __future__ import annotations

from hypothesis import strategies as st

from docgen.club.bench.graph import Graph
from docgen.club.schema.model import Model
from docgen.club.schema.procedure import Step
from docgen.club.yamldoc import Document
from docgen.job.expand import PlacedStep
from docgen.job.simulate import Run, simulate
from docgen.visit.pieces import Task, task_of

DOCUMENT = Document("made.yaml", "", {}, {}, {})


@st.composite
def engines(draw: st.DrawFn, most: int = 6) -> Graph:
    """An engine of a few parts, each behind some of those before it and held by a screw or not."""
    count = draw(st.integers(2, most))
    parts: dict[str, dict[str, object]] = {}
    fasteners: dict[str, dict[str, object]] = {}
    for n in range(count):
        behind = [f"p{m}" for m in range(n) if draw(st.booleans())]
        parts[f"p{n}"] = {"behind": behind, "single_use": draw(st.integers(0, 3)) == 0}
        if draw(st.booleans()):
            fasteners[f"f{n}"] = {"behind": behind, "by_feel": "snug"}
            parts[f"p{n}"]["held_by"] = [f"f{n}"]
    model = Model.model_validate(
        {"model": "made", "title": "Made", "manual": "none", "equipment": ["spark-ignition"], "parts": parts,
         "fasteners": fasteners}
    )  # fmt: skip
    return Graph(model)


@st.composite
def tasks(draw: st.DrawFn, graph: Graph, name: str, shared: bool = True) -> tuple[Task, Run]:
    """A valid job: down to one part or two, a check at each depth or none, and up again."""
    steps: list[Step] = []
    aims = draw(st.lists(st.sampled_from([m for m in graph.nodes if m[0] == "p"]), min_size=1, max_size=2, unique=True))
    for n, aim in enumerate(aims):
        steps += _down_and_up(draw, graph, aim, f"{name}{n}" if not shared or draw(st.booleans()) else "all")
    run = simulate([PlacedStep("Work", step, DOCUMENT, ()) for step in steps], graph, {})
    assert run.faults == ()
    return task_of(name, run), run


def _down_and_up(draw: st.DrawFn, graph: Graph, aim: str, whose: str) -> list[Step]:
    """Everything in front of a part off, the outermost first, then the part; and all of it on in the other order."""
    order = [m for m in graph.nodes if m[0] == "p" and (m == aim or m in graph.covers[aim])]
    down, up = [], []
    for member in order:
        screw = graph.held_by[member]
        down += [step(f"Undo {name}.", undoes=[name]) for name in screw]
        down.append(step(f"Take {member} off.", removes=[member]))
        if draw(st.booleans()):
            down.append(step(f"Look at {member} ({whose}).", look={"id": f"look-{member}-{whose}", "accept": "Good."}))
        back = "renews" if getattr(graph.nodes[member].spec, "single_use", False) else "fits"
        up = [step(f"Put {member} on.", **{back: [member]}), *(step(f"Tighten {n}.", tightens=[n]) for n in screw), *up]
    before = step(f"Listen ({whose}).", look={"id": f"listen-{whose}", "accept": "Quiet."})
    return [*([before] if draw(st.booleans()) else ()), *down, *up]


def step(do: str, **verbs: object) -> Step:
    """A step of a minute."""
    return Step.model_validate({"do": do, "takes": "1 min", **verbs})
