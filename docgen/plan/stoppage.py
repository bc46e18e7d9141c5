"""What is loose or off when work stops after a step, from the very simulation that proofing uses."""

from dataclasses import dataclass
from typing import Literal

from docgen.job.figures import Figures
from docgen.job.rows import rows_of
from docgen.job.simulate import Run

How = Literal["off", "loose", "started"]


@dataclass(frozen=True)
class Open:
    """An item that is not as a running engine needs it; ``count`` members of it are."""

    item: str
    name: str
    how: How
    count: int


def open_after(run: Run, row: str, figures: Figures) -> tuple[Open, ...]:
    """What is off, loose or only started once a row of the leaf (7), or a step in it (7b), is done; parts first.

    What rides on a part that is off counts where it was moved itself, as a step undid or removed it.
    Errors: ValueError where the job has no such row.
    """
    rows = rows_of(run.steps, figures)
    done = [index for index, one in enumerate(rows) if row.lower() in (one.label, str(one.row or one.label))]
    if not done:
        raise ValueError(f"the job has rows 1 to {max(one.row for one in rows)}, and no {row}")
    found: dict[tuple[str, How], list[str]] = {}
    for member, how in run.before[done[-1] + 1].items():
        if how in ("off", "loose", "started"):
            found.setdefault((run.graph.nodes[member].item, how), []).append(member)
    lines = [Open(item, figures.name(item), how, len(members)) for (item, how), members in found.items()]
    return tuple(sorted(lines, key=lambda one: one.item not in figures.model.parts))
