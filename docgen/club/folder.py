"""The club folder as a whole: every file read and fitted to its shape, every problem in every file kept."""

from __future__ import annotations

import os
import re
from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from functools import cached_property
from pathlib import Path
from typing import Generic, TypeVar

from pydantic import BaseModel

from docgen.club.content import content_digest, kept_version
from docgen.club.files import linked, no_engine, not_read, read_bytes, subfolders, without_copies, yaml_files
from docgen.club.fit import fit
from docgen.club.known import Known
from docgen.club.log import Log, digest
from docgen.club.problem import Problem, did_you_mean
from docgen.club.readlog import read_log
from docgen.club.schema.club import Club
from docgen.club.schema.engine import NUMBER, Engine
from docgen.club.schema.event import ComponentMoved
from docgen.club.schema.model import Model
from docgen.club.schema.origins import Origins
from docgen.club.schema.procedure import Procedure, Sequence
from docgen.club.teaching import ENDING, Page, read_shared
from docgen.club.uses import Use, applies
from docgen.club.yamldoc import Data, Document

Shape = TypeVar("Shape", bound=BaseModel)
ORIGINS = "shared/origins.yaml"
WRITTEN = ("", "/log", "/issued", "/signed", "/drafts")
"""Where the program writes below an engine's folder; a link there would lead it out of the club's."""


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
    spoken   : the language that its texts were turned to (:mod:`docgen.club.spoken`); empty as they are read
    """

    root: Path
    club_file: Read[Club] | None = None
    procedures: dict[str, Read[Procedure]] = field(default_factory=dict)
    sequences: dict[str, Read[Sequence]] = field(default_factory=dict)
    pages: dict[str, Read[Page]] = field(default_factory=dict)
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

    def _engine_folders(self) -> list[str]:
        return subfolders(self.root / "engines")


def read_folder(
    root: Path, known: Known | None = None, instead: Mapping[str, bytes] | None = None,
    engines: Collection[str] | None = None,
) -> Folder:  # fmt: skip
    """Read everything below `root` that the club folder knows; nothing else is opened.

    known   : what was read before, by digest
    instead : bytes that are read in place of a file (or as one more) in procedures/, models/ or club.yaml, by its path
    engines : the engines that are needed; None for all. Those whose components were ever moved are read as well
    Errors: none are raised for what is in the files; they are in `Folder.problems`, sorted.
    """
    folder = Folder(root, instead=instead or {})
    if not (root / "club.yaml").is_file():
        folder.problems.append(
            Problem(
                "club.yaml",
                0,
                0,
                "no-club",
                f"there is no club.yaml in {root}",
                "go to the club's folder or name it with --club; docgen new club FOLDER begins one",
            )
        )
        return folder
    folder.club_file = _one(folder, "club.yaml", Club, known)
    for path in _own(folder, "procedures"):
        _procedure(folder, path, known)
    for path in _own(folder, "procedures", ENDING):
        if path.endswith(ENDING):  # a folder that is a link stands for itself, and has been told of
            _page(folder, path)
    for path in _own(folder, "models"):
        model = _one(folder, path, Model, known)
        if model and _named_as(folder, model.document, "model", model.value.model, Path(path).stem):
            folder.models[model.value.model] = model
    if linked(root, "engines"):
        folder.problems.append(not_read("engines"))
    there = folder._engine_folders()
    if engines is None:
        for number in there:
            if NUMBER.fullmatch(number):
                _engine(folder, number, known)
            else:
                folder.problems.append(no_engine(f"engines/{number}"))
    else:
        _engines(folder, engines, {number for number in there if NUMBER.fullmatch(number)}, known)
    _same_code_twice(folder)
    if linked(root, ORIGINS) or (root / ORIGINS).exists() or ORIGINS in folder.instead:
        origins = _one(folder, ORIGINS, Origins)
        folder.origins = origins.value if origins else folder.origins
        folder.received = dict(_received(folder))
    folder.problems.sort()
    return folder


def _received(folder: Folder) -> Iterator[tuple[str, Data]]:
    reads: list[Read[Procedure] | Read[Sequence]] = [*folder.procedures.values(), *folder.sequences.values()]
    for read in reads:
        path = read.document.path
        came = folder.origins.received(path)
        if came is not None and came.digest != content_digest(read.document):
            yield path, kept_version(folder.root, path, came.digest)


def _files(folder: Folder, kind: str, *endings: str) -> list[str]:
    endings = endings or (".yaml", ".yml")
    instead = (path for path in folder.instead if path.startswith(f"{kind}/") and path.endswith(endings))
    return sorted({*yaml_files(folder.root, kind, endings), *instead})


def _own(folder: Folder, kind: str, *endings: str) -> list[str]:
    own, copies = without_copies(_files(folder, kind, *endings))
    folder.problems += copies
    return own


def _document(folder: Folder, path: str, known: Known | None = None) -> Document | None:
    data = folder.instead.get(path) or read_bytes(folder.root, path)
    if isinstance(data, Problem):
        folder.problems.append(data)
        folder.broken.add(path)
        return None
    document = known.document(path, data, digest(data)) if known is not None else None
    if document is None:
        document, problems = read_shared(path, data)
        folder.problems += problems
        if document is None:
            folder.broken.add(path)
        elif known is not None and not problems:
            known.add(digest(data), document)
    return document


def _one(folder: Folder, path: str, shape: type[Shape], known: Known | None = None) -> Read[Shape] | None:
    document = _document(folder, path, known)
    return _fitted(folder, document, shape) if document is not None else None


def _fitted(folder: Folder, document: Document, shape: type[Shape]) -> Read[Shape] | None:
    """The document in its shape; None when anything is wrong with the file, since its text may then be cut or mended.

    A line that the reader found fault with is not judged a second time.
    """
    found = [p for p in folder.problems if p.path == document.path and p.level == "error"]
    value, problems = fit(document, shape)
    folder.problems += [p for p in problems if p.line not in {one.line for one in found}]
    if value is None or found:
        folder.broken.add(document.path)
        return None
    return Read(value, document)


def _named_as(folder: Folder, document: Document, key: str, name: str, expected: str) -> bool:
    if name == expected:
        return True
    folder.problems.append(
        document.problem(
            (key,), "name-differs", f'the file is called "{expected}" but says {key}: {name}', "give both the same name"
        )
    )
    folder.broken |= {document.path, str(Path(document.path).with_stem(name))}
    return False


def _procedure(folder: Folder, path: str, known: Known | None) -> None:
    document = _document(folder, path, known)
    if document is None:
        return
    stem = Path(path).stem
    if isinstance(document.data, dict) and "sequence" in document.data:
        sequence = _fitted(folder, document, Sequence)
        if sequence and _named_as(folder, document, "sequence", sequence.value.sequence, stem):
            folder.sequences[stem] = sequence
    else:
        procedure = _fitted(folder, document, Procedure)
        if procedure and _named_as(folder, document, "procedure", procedure.value.procedure, stem):
            folder.procedures[stem] = procedure


def _page(folder: Folder, path: str) -> None:
    """A page is its job's; one that no job has is told of, since it would be printed nowhere."""
    name = Path(path).stem
    if name not in folder.names("procedures"):
        message = f'no job is called "{name}", so this page is printed nowhere'
        hint = did_you_mean(name, folder.procedures) or "give it the name of its job"
        folder.problems.append(Problem(path, 0, 0, "page-without-job", message, hint, level="note"))
    if page := _one(folder, path, Page):
        folder.pages[name] = page


def _engines(folder: Folder, wanted: Collection[str], there: set[str], known: Known | None) -> None:
    """Read some engines, and all that ever gave or took a component: half a move shows in two records only.

    An engine whose own file names a component of one of them is read as well: it cannot be on both.
    """
    needed = {number for number in there if number in wanted or _moved(folder.root / "engines" / number / "log")}
    files: dict[str, bytes] = {}
    read: set[str] = set()
    while left := sorted(needed - read):
        for number in left:
            _engine(folder, number, known)
        read.update(left)
        records = [folder.engines[number] for number in left if number in folder.engines]
        moves = [event for one in records for event in one.log.of(ComponentMoved)]
        needed |= there & {event.other for event in moves if event.other}
        on = {number for one in records for number in one.engine.components.values()}
        on |= {number for event in moves for number in (event.fitted, event.removed) if number}
        files = files or {number: _own_file(folder, number) for number in there - read}
        named = re.compile(b"|".join([rb"\\", *(re.escape(number.encode()) for number in on)]))  # or in other letters
        needed |= {number for number, data in files.items() if on and named.search(data)}
    folder.unread = frozenset(there - needed)


def _own_file(folder: Folder, number: str) -> bytes:
    data = read_bytes(folder.root, f"engines/{number}/engine.yaml")
    return data if isinstance(data, bytes) else b""


def _moved(log: Path) -> bool:
    """Whether a log tells of a component that was moved, by the names of its files (a correction may be of a move)."""
    return log.is_dir() and any("-component-" in name or "-correction-" in name for name in os.listdir(log))  # noqa: PTH208  of every log


def _engine(folder: Folder, number: str, known: Known | None) -> None:
    base = f"engines/{number}"
    if ways := sorted({way for sub in WRITTEN if (way := linked(folder.root, f"{base}{sub}"))}):
        folder.problems += [not_read(way) for way in ways]
        return
    if not (folder.root / base / "engine.yaml").is_file():
        folder.problems.append(
            Problem(
                f"{base}/engine.yaml",
                0,
                0,
                "no-engine-file",
                "this engine has no engine.yaml",
                "write it, or take the folder away",
            )
        )
        return
    read = _one(folder, f"{base}/engine.yaml", Engine, known)
    log, problems = read_log(folder.root, number, known)
    folder.problems += problems
    if read and _named_as(folder, read.document, "engine", read.value.engine, number):
        folder.engines[number] = EngineRecord(read.value, read.document, log)


def _same_code_twice(folder: Folder) -> None:
    seen: dict[str, str] = {}
    for name, read in sorted(folder.procedures.items()):
        first = seen.setdefault(read.value.code, name)
        if first != name:
            message = f"the code {read.value.code} is already that of {first}"
            folder.problems.append(
                read.document.problem(("code",), "code-taken", message, "give each procedure its own code")
            )
