"""The order in which pieces come off in a job, from the very simulation that proofing uses; read backwards, refitting.

A part lies down, and so does a fastener with a thread or a stated shape; a clip, hose or clamp without one stays where
it hangs, and so does a lead, with its screw or nut put back into its post. Members of one item that come off in one
step lie in one place.
"""

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import sqrt
from typing import Literal

from docgen.club.bench.graph import Graph
from docgen.club.bench.state import Change
from docgen.club.folder import Folder, Read
from docgen.club.problem import Problem
from docgen.club.schema.model import Fastener, Model, Part, Shape
from docgen.club.schema.procedure import Procedure, Step
from docgen.job.expand import PlacedStep, expand
from docgen.job.figures import Figures
from docgen.job.job import Instructions
from docgen.job.rows import rows_of
from docgen.job.simulate import Run, simulate
from docgen.trade.threads import thread

Fate = Literal["same", "checked", "new"]
"""What goes back: the same one, the same unless a check fails, or a new one."""

HEAD, SHANK = 2.0, 5.0
"""Width and length of a screw or nut without a stated shape, in diameters of its thread. Common practice, no source."""


@dataclass(frozen=True)
class Footprint:
    """The room that one piece takes lying down, mm; ``bore`` is its hole, ``round`` says that it is round.

    A hexagon nut is as wide as it is over its flats, and as high as over its corners.
    """

    kind: str
    width: float
    height: float
    round: bool = False
    bore: float = 0.0


@dataclass(frozen=True)
class Piece:
    """What lies in one place. ``off`` and ``back`` are numbers of the leaf's rows; ``mark`` is the place's own name."""

    mark: str
    item: str
    name: str
    members: tuple[str, ...]
    off: int
    back: int | None
    fate: Fate
    number: str
    face: str
    towards: str
    thread: str
    footprint: Footprint | None

    @property
    def count(self) -> int:
        """How many pieces."""
        return len(self.members)


@dataclass(frozen=True)
class Laydown:
    """All pieces of a job in the order in which they come off, and what is undone but stays where it is."""

    pieces: tuple[Piece, ...]
    stays: tuple[str, ...]
    run: Run

    @property
    def count(self) -> int:
        """How many pieces lie down altogether."""
        return sum(piece.count for piece in self.pieces)


def laydown(folder: Folder, procedure: Read[Procedure], figures: Figures) -> Laydown:
    """What comes off in a job on one engine (its deviations included), in order."""
    return laydown_of(expand(procedure, folder.sequences, figures.model), figures)


def laydown_of(steps: Sequence[PlacedStep], figures: Figures) -> Laydown:
    """What comes off in these steps."""
    model = figures.model
    left_out = [d.item for d in figures.state.deviations if d.left_out]
    run = simulate(steps, Graph(model, left_out), model.limits)
    first = _first_off(run.changes)
    placed: dict[tuple[int, str], list[str]] = {}
    stays: dict[str, None] = {}
    for member, change in first.items():
        item = run.graph.nodes[member].item
        if change.became == "off" and lies_down(figures.item(item)):
            placed.setdefault((change.step, item), []).append(member)
        else:
            stays[figures.name(item)] = None
    may_renew = {name.partition("/")[0] for step in steps for name in _renewed_on_failing(step.step, model)}
    called = rows_of(steps, figures)
    rows: list[int] = []
    for one in called:
        rows.append(one.row or (rows[-1] if rows else 0))  # what stands in no row comes off with the one before it
    marks = _marks([called[step].label for step, _ in placed])
    pieces = tuple(
        _piece(figures, run, rows, mark, item, tuple(members), step, may_renew)
        for mark, ((step, item), members) in zip(marks, placed.items(), strict=True)
    )
    return Laydown(pieces, tuple(stays), run)


def stage_of(piece: Piece, told: Instructions) -> int:
    """In which of the stages that have rows a piece comes off, from 0."""
    return sum(stage.rows[-1].number < piece.off for stage in told.stages if stage.rows)


def lies_down(item: Part | Fastener) -> bool:
    """Whether a piece is laid down once it is off."""
    if item.shape is not None and item.shape.kind == "lead":
        return False
    return isinstance(item, Part) or item.thread is not None or item.shape is not None


def _first_off(changes: Iterable[Change]) -> dict[str, Change]:
    """Each member's first coming off (or loose), in the order of the work."""
    found: dict[str, Change] = {}
    for change in changes:
        if change.verb in ("undoes", "removes") and change.became in ("off", "loose"):
            found.setdefault(change.member, change)
    return found


def _marks(steps: list[str]) -> list[str]:
    """A place's mark: what its step is called on every paper; with a point and a number where the step has several."""
    return [f"{one}.{steps[:at].count(one) + 1}" if steps.count(one) > 1 else one for at, one in enumerate(steps)]


def _piece(
    figures: Figures, run: Run, rows: list[int], mark: str, item: str, members: tuple[str, ...], step: int,
    may_renew: set[str],
) -> Piece:  # fmt: skip
    spec = figures.item(item)
    later = [c for c in run.changes if c.member in members and c.step > step]
    back = next((rows[c.step] for c in later if c.became in ("on", "started", "tight")), None)
    renewed = any(c.verb == "renews" for c in later)
    named = run.graph.named(members)
    return Piece(
        mark=mark,
        item=item,
        name=figures.name(named[0]) if len(named) == 1 else figures.name(item),
        members=members,
        off=rows[step],
        back=back,
        fate="new" if renewed else "checked" if item in may_renew else "same",
        number=spec.number or "",
        face=spec.orientation.face if spec.orientation else "",
        towards=spec.orientation.towards if spec.orientation else "",
        thread=(spec.thread or "") if isinstance(spec, Fastener) else "",
        footprint=footprint(spec),
    )


def _renewed_on_failing(step: Step, model: Model) -> Iterable[str]:
    fails = [step.look.fail] if step.look else []
    if step.measure:
        limits = (model.limits[name].fail for name in step.measure.of if name in model.limits)
        fails += [step.measure.fail] if step.measure.fail else list(limits)
    return [name for fail in fails if fail for name in fail.renews or ()]


def footprint(item: Part | Fastener) -> Footprint | None:
    """The room that a piece takes, from its stated shape; None where that says no size.

    A round thing that is longer than it is thick (a pin, a needle, a spring) lies on its side, any other on its face.
    A nut takes the hexagon that its drive states, with the hole of its thread; a screw without a shape 2 by 5 diameters
    of its thread.
    """
    if isinstance(item, Fastener) and item.thread and item.shape is not None and item.shape.kind == "nut":
        flats = re.fullmatch(r"hex ([0-9.]+) mm", item.drive or "")
        diameter = thread(item.thread.removesuffix(" left")).d_mm
        across = float(flats[1]) if flats else HEAD * diameter
        return Footprint("nut", across, round(2 * across / sqrt(3), 2), bore=diameter)
    if item.shape is not None:
        return _of_shape(item.shape)
    if isinstance(item, Fastener) and item.thread is not None:
        diameter = thread(item.thread.removesuffix(" left")).d_mm
        return Footprint("screw", HEAD * diameter, SHANK * diameter)
    return None


def _of_shape(shape: Shape) -> Footprint | None:
    outer, length, width, inner = (
        float(size.to("mm").value) if size else 0.0 for size in (shape.outer, shape.length, shape.width, shape.inner)
    )
    if outer and length > outer:
        return Footprint(shape.kind, outer, length)
    if outer:
        return Footprint(shape.kind, outer, outer, True, inner if inner < outer else 0.0)
    return Footprint(shape.kind, width, length) if length and width else None


def without_size(folder: Folder, model: str, found: Laydown) -> list[Problem]:
    """A problem for each piece whose size the model does not state: no place can be drawn for it."""
    document = folder.models[model].document
    problems = []
    for item in dict.fromkeys(piece.item for piece in found.pieces if piece.footprint is None):
        group = "parts" if item in folder.models[model].value.parts else "fasteners"
        name = folder.models[model].value.parts[item].name if group == "parts" else None
        problems.append(
            document.problem(
                (group, item),
                "part-without-size",
                f"{name or item} comes off in this job, and its size is not stated: the mat has no place for it",
                "write shape: {kind: block, length: 60 mm, width: 40 mm} (or outer: for a round one), or print --box",
                key=True,
            )
        )
    return sorted(problems)
