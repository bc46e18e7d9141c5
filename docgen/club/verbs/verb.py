"""What a key of a step means to all that comes behind reading. A verb's own file says it; every table follows from it.

The verb is part of the key's type, ``Annotated[Members, Verb("undoes", ...)]``, and is found there by
:data:`docgen.club.schema.procedure.VERBS`.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any, Literal, NamedTuple

from docgen.club.bench.faults import FaultRule
from docgen.club.schema.editors import Shape
from docgen.club.verbs.mark import AnyMark
from docgen.club.yamldoc import Loc

if TYPE_CHECKING:
    from docgen.club.bench.bench import Bench
    from docgen.club.schema.model import Fail
    from docgen.club.schema.procedure import Step


Resolve = Callable[[Shape], Shape]
"""Follows a reference within a schema."""


class Named(NamedTuple):
    """A name within what a verb says: its place below the verb; whether it is a mapping's key."""

    loc: Loc
    name: str
    key: bool = False


@dataclass(frozen=True, eq=False)
class Verb:
    """What one key of a step means.

    says      : what the key is for, for the page of the files
    defined   : where a model defines its names: parts, fasteners, items (either), limits, settings, fluids
    word      : how a step without a name of its own is called on the signed sheet: the word and the first name
    turn      : when it is carried out within a step that joins several verbs; 0: it does nothing to the engine
    moves     : it takes members off or puts them on, which no other step may then do again
    works     : what it names is what the job works on
    handles   : a step that says it speaks for itself: of which thing, and what is done to it
    counted   : its names are counted against the text (`both screws`)
    printed   : its names stand on paper
    of_shop   : its work is none on the engine: a text may say it of what lies about in the workshop
    safety    : a change of it is a matter of safety
    stands    : a step that says it is kept in a visit, even where another job has moved its parts already
    mark      : makes its mark, where that follows from the step alone; those that need the engine its job makes
    last      : its mark stands behind those of other verbs
    signed    : by what it stands on the signed sheet, or is done as no other step can do it in its stead: its names, or
                its step
    happened  : how the trail of a finding tells that it was done: of `{name}`, with `{with_}`
    done      : what has been done to the thing, after `is` or `was`
    faults    : how the simulation's faults of its making are told, by their kind
    """

    key: str
    says: str
    defined: str = ""
    word: str = ""
    turn: int = 0
    moves: bool = False
    works: bool = False
    handles: bool = False
    counted: bool = False
    printed: bool = False
    of_shop: bool = False
    safety: bool = False
    stands: bool = True
    mark: Callable[[Any], AnyMark] | None = None
    last: bool = False
    signed: Literal["", "names", "step"] = ""
    happened: str = ""
    done: str = ""
    faults: Mapping[str, FaultRule] = field(default_factory=dict)

    def __reduce__(self) -> tuple[Callable[[str], Verb], tuple[str]]:
        """In another process it is the one that says the same key."""
        return _by_key, (self.key,)

    def of(self, step: Step) -> Any:
        """What the step says of it; nothing, or empty, where it does not."""
        return getattr(step, self.key)

    def names(self, step: Step) -> Iterator[Named]:
        """The names of the model that it holds."""
        said = self.of(step)
        if self.defined and isinstance(said, Mapping):
            yield from (Named((name,), name, key=True) for name in said)
        elif self.defined:
            yield from (Named((at,), name) for at, name in enumerate(said))

    def first(self, step: Step) -> str:
        """The name that a step without one of its own is called by."""
        return next(self.names(step)).name

    def fail(self, step: Step) -> Fail | None:
        """What is done where it is a check that fails."""

    def recorded(self, step: Step) -> Iterator[object]:
        """What of it is left on the signed sheet, or done as no other step can do it in its stead."""
        return iter([step.key]) if self.signed == "step" else (one.name for one in self.names(step))

    def carry_out(self, step: Step, bench: Bench) -> None:
        """Do it to the engine."""

    def closing(self, bench: Bench, member: str) -> None:
        """A member is put on or done up: what of this verb's earlier work goes wrong by that."""

    def turning(self, bench: Bench, member: str) -> None:
        """A member is turned by hand, or the engine runs (no member): what goes wrong by that."""

    def ending(self, bench: Bench) -> None:
        """The work is over: what of this verb's earlier work is left."""


def _by_key(key: str) -> Verb:
    from docgen.club.schema.procedure import VERBS

    return VERBS[key]
