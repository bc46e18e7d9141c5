"""What can go wrong on the bench, as the simulation finds it; the proof rules put it into words."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from docgen.club.bench.state import Change

Kind = Literal[
    "already-off",  # undone or removed again
    "already-on",  # fitted or renewed though it never came off
    "already-tight",  # tightened or started though it is tight, and no `again`
    "already-new",  # renewed again
    "not-yet-tight",  # tightened `again` though it is not tight
    "covered",  # moved, undone or done up while something in front of it is on
    "bench-only",  # reached for while its carrier is on the engine
    "held",  # removed while its fasteners hold it
    "closed-too-soon",  # put on while something behind it is off or not tight
    "incomplete",  # put on while something inside it is off or not tight
    "nothing-to-hold",  # started or tightened while what it holds is off
    "not-all-started",  # tightened while one of its group is still off
    "used-again",  # a used single-use part put on
    "renewal-out-of-reach",  # a failing check renews what cannot be got at
    "run-unfinished",  # the engine runs, or something is loaded, while it is not together
    "left-off",  # at the end: a part is off
    "left-undone",  # at the end: a fastener is not tight
]


@dataclass(frozen=True)
class Fault:
    """One fault, at one place.

    kind           : one of :data:`Kind`, or of its verb's own
    step, verb, at : where: the step's index, its verb, the place in the verb's list (or the key below the verb)
    members        : what it is about
    others         : what stands in the way, or is missing
    past           : the last change of each of those before, for the trail
    """

    kind: str
    step: int
    verb: str
    at: int | str
    members: tuple[str, ...]
    others: tuple[str, ...] = ()
    past: tuple[Change, ...] = ()
