"""What is loose or off when work stops after a step, from the very simulation that proofing uses."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from docgen.job.figures import Figures
from docgen.job.simulate import Run

How = Literal["off", "loose", "started"]


@dataclass(frozen=True)
class Open:
    """An item that is not as a running engine needs it; ``count`` members of it are."""

    item: str
    name: str
    how: How
    count: int


def open_after(run: Run, step: int, figures: Figures) -> tuple[Open, ...]:
    """What is off, loose or only started once `step` of the checklist (counted from 1) is done; parts first.

    What rides on a part that is off counts where it was moved itself, as a step undid or removed it.
    Errors: ValueError where the job has no such step.
    """
    if not 1 <= step <= len(run.steps):
        raise ValueError(f"the job has steps 1 to {len(run.steps)}, not {step}")
    found: dict[tuple[str, How], list[str]] = {}
    for member, how in run.before[step].items():
        if how in ("off", "loose", "started"):
            found.setdefault((run.graph.nodes[member].item, how), []).append(member)
    lines = [Open(item, figures.name(item), how, len(members)) for (item, how), members in found.items()]
    return tuple(sorted(lines, key=lambda one: one.item not in figures.model.parts))
