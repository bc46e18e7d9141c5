"""The club folder as a whole, as :mod:`docgen.club.read` fills it: every file in its shape, every problem kept."""

from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from functools import cached_property
from pathlib import Path
from typing import Generic, TypeVar

from pydantic import BaseModel

from docgen.club.log import Log
from docgen.club.problem import Problem
from docgen.club.schema.club import Club
from docgen.club.schema.engine import Engine
from docgen.club.schema.model import Model
from docgen.club.schema.origins import Origins
from docgen.club.schema.procedure import Procedure, Sequence
from docgen.club.teaching import ENDING, TeachingPage
from docgen.club.uses import Use, applies
from docgen.club.yamldoc import Data, Document

Shape = TypeVar("Shape", bound=BaseModel)
ORIGINS = "shared/origins.yaml"


@dataclass(frozen=True)
class Read(Generic[Shape]):
    """What a file holds, and the document that knows where."""

    value: Shape
    document: Document


@dataclass(frozen=True)
class EngineRecord:
    """An engine as received, and what happened to it since."""

    engine: Engine
    document: Document
    log: Log = field(default_factory=Log)


class Faulty(Exception):
    """Files of the club, or a job, have errors, or a sheet does not fit its page.

    problems : each with the place of its cause and what to do about it; empty where sheets do not fit
    """

    def __init__(self, problems: Iterable[Problem], said: Iterable[str] = ()) -> None:
        self.problems = tuple(problems)
        super().__init__("\n".join([*map(str, self.problems), *said]))


@dataclass
class Folder:
    """A club folder that was read. Files with problems are missing from the mappings and named in `problems`.

    pages    : the pages that teach, each by the procedure that it lies beside
    received : of each shared file that the club changed since it came from another, what it said then
    unread   : the engines that were left out, by number: whoever asks for a few is not given all
    lacking  : by job and engine type, each name that the job uses and the type lacks; a job that fits is not among them
    spoken   : the language that its texts were turned to (:mod:`docgen.club.translation`); empty as they are read
    """

    root: Path
    club_file: Read[Club] | None = None
    procedures: dict[str, Read[Procedure]] = field(default_factory=dict)
    sequences: dict[str, Read[Sequence]] = field(default_factory=dict)
    pages: dict[str, Read[TeachingPage]] = field(default_factory=dict)
    models: dict[str, Read[Model]] = field(default_factory=dict)
    engines: dict[str, EngineRecord] = field(default_factory=dict)
    problems: list[Problem] = field(default_factory=list)
    broken: set[str] = field(default_factory=set)
    unread: frozenset[str] = frozenset()
    origins: Origins = field(default_factory=Origins)
    instead: Mapping[str, bytes] = field(default_factory=dict, repr=False)
    received: Mapping[str, Data] = field(default_factory=dict, repr=False)
    lacking: Mapping[tuple[str, str], tuple[Use, ...]] = field(default_factory=dict, repr=False)
    spoken: str = ""

    @property
    def club(self) -> Read[Club]:
        """What club.yaml says. Errors: Faulty, with all problems, where it could not be read."""
        if self.club_file is None:
            raise Faulty(self.problems)
        return self.club_file

    def names(self, kind: str) -> set[str]:
        """The names of all files of a kind (``models``), those included whose file has problems of its own."""
        place = "procedures/" if kind == "sequences" else f"{kind}/"
        stems = {Path(path).stem for path in self._broken(place)}
        read: dict[str, object] = getattr(self, kind)
        return stems | read.keys()

    def whole(self, kind: str) -> bool:
        """Whether every file of a kind could be read: else what they define is not known in full."""
        return not self._broken(f"{kind}/")

    def _broken(self, place: str) -> list[str]:
        return [path for path in self.broken if path.startswith(place) and not path.endswith(ENDING)]

    @cached_property
    def codes(self) -> dict[str, str]:
        """Sheet code to procedure name."""
        return {read.value.code: name for name, read in self.procedures.items()}

    def for_model(self, model: Model) -> Iterator[Procedure]:
        """The procedures that fit this model, in the order of their names."""
        for name, read in sorted(self.procedures.items()):
            if self.fits(name, model):
                yield read.value

    def fits(self, procedure: str, model: Model) -> bool:
        """Whether a model has all the equipment that a procedure needs, and all the names that it uses."""
        return applies(self.procedures[procedure].value, model) and (procedure, model.model) not in self.lacking

    def why_not(self, procedure: str, model: Model) -> str:
        """Why a procedure is not for a model, in words; empty where it is."""
        needs = self.procedures[procedure].value.needs
        if not set(needs) <= set(model.equipment):
            return f"it needs {', '.join(needs)}"
        lacks = self.lacks(procedure, model.model)
        names = "1 name" if len(lacks) == 1 else f"{len(lacks)} names"
        return f"models/{model.model}.yaml lacks {names}: {', '.join(lacks)}" if lacks else ""

    def lacks(self, procedure: str, model: str) -> tuple[str, ...]:
        """The names that a procedure uses and a model lacks, each once, in the order of their use."""
        return tuple(dict.fromkeys(use.name for use in self.lacking.get((procedure, model), ())))

    def blocking(
        self, number: str | None = None, jobs: Collection[str] | None = None, models: Collection[str] | None = None
    ) -> list[Problem]:
        """The errors that stop what is done for engine `number` (or for all): a file that is not needed stops nothing.

        jobs   : the procedures that are wanted; () where none is, None where all are
        models : the engine types that are wanted; None for the engine's own, or those of all engines
        """
        records = [one for name, one in self.engines.items() if number in (None, name)]
        types = {one.engine.model for one in records} if models is None else models
        needed = {f"models/{name}.yaml" for name in types}
        wanted = None if jobs is None else self.files_of(jobs)
        return [p for p in self.problems if p.level == "error" and self._stops(p.path, number, needed, wanted)]

    def _stops(self, path: str, number: str | None, models: set[str], jobs: set[str] | None) -> bool:
        place = path.partition("/")[0]
        if place == "engines":
            return number is None or path == place or path.split("/")[1] == number
        if place == "models":
            return path in models
        return place != "procedures" or jobs is None or path in jobs

    def files_of(self, jobs: Collection[str]) -> set[str]:
        """The files that make up procedures: their own, their pages, and the sequences that they use."""
        reads = [self.procedures[name] for name in jobs if name in self.procedures]
        used = {step.use for read in reads for stage in read.value.stages for step in stage.steps if step.use}
        return {f"procedures/{name}{end}" for name in (*jobs, *used) for end in (".yaml", ENDING)}
