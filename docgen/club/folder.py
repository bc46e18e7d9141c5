"""The club folder as a whole: every file read and fitted to its shape, every problem in every file kept."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import cached_property
from pathlib import Path
from typing import Generic, TypeVar

from pydantic import BaseModel

from docgen.club.fit import fit
from docgen.club.log import Entry, Log, digest, in_order, name_problem
from docgen.club.problem import Problem, did_you_mean
from docgen.club.schema.club import Club
from docgen.club.schema.engine import Engine
from docgen.club.schema.event import KINDS, Correction
from docgen.club.schema.model import Model
from docgen.club.schema.procedure import Procedure, Sequence
from docgen.club.yamlbytes import MAX_BYTES
from docgen.club.yamldoc import Document
from docgen.club.yamltext import read_yaml

Shape = TypeVar("Shape", bound=BaseModel)


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


@dataclass
class Folder:
    """A club folder that was read. Files with problems are missing from the mappings and named in `problems`."""

    root: Path
    club: Read[Club] | None = None
    procedures: dict[str, Read[Procedure]] = field(default_factory=dict)
    sequences: dict[str, Read[Sequence]] = field(default_factory=dict)
    models: dict[str, Read[Model]] = field(default_factory=dict)
    engines: dict[str, EngineRecord] = field(default_factory=dict)
    problems: list[Problem] = field(default_factory=list)
    broken: set[str] = field(default_factory=set)

    def names(self, kind: str) -> set[str]:
        """The names of all files of a kind (``models``), those included whose file has problems of its own."""
        place = "procedures/" if kind == "sequences" else f"{kind}/"
        stems = {Path(path).stem for path in self.broken if path.startswith(place)}
        read: dict[str, object] = getattr(self, kind)
        return stems | read.keys()

    def whole(self, kind: str) -> bool:
        """Whether every file of a kind could be read: else what they define is not known in full."""
        return not any(path.startswith(f"{kind}/") for path in self.broken)

    @cached_property
    def codes(self) -> dict[str, str]:
        """Sheet code to procedure name."""
        return {read.value.code: name for name, read in self.procedures.items()}

    def for_model(self, model: Model) -> Iterator[Procedure]:
        """The procedures whose needed equipment this model has, in the order of their names."""
        for _, read in sorted(self.procedures.items()):
            if set(read.value.needs) <= set(model.equipment):
                yield read.value

    def blocking(self, number: str | None = None) -> list[Problem]:
        """The errors that stop a print for engine `number` (or for any): another engine's files do not."""
        other = tuple(f"engines/{n}/" for n in self._engine_folders() if n != number) if number else ()
        return [p for p in self.problems if p.level == "error" and not p.path.startswith(other)]

    def _engine_folders(self) -> list[str]:
        return _subfolders(self.root / "engines")


def read_folder(root: Path) -> Folder:
    """Read everything below `root` that the club folder knows; nothing else is opened.

    Errors: none are raised for what is in the files; they are in `Folder.problems`, sorted.
    """
    folder = Folder(root)
    if not (root / "club.yaml").is_file():
        folder.problems.append(
            Problem(
                "club.yaml",
                0,
                0,
                "no-club",
                f"there is no club.yaml in {root}",
                "go to the club's folder, or name it with --club",
            )
        )
        return folder
    folder.club = _one(folder, "club.yaml", Club)
    for path in _files(root, "procedures"):
        _procedure(folder, path)
    for path in _files(root, "models"):
        model = _one(folder, path, Model)
        if model and _named_as(folder, model.document, "model", model.value.model, Path(path).stem):
            folder.models[model.value.model] = model
    for number in folder._engine_folders():
        _engine(folder, number)
    _same_code_twice(folder)
    folder.problems.sort()
    return folder


def _files(root: Path, sub: str) -> list[str]:
    return sorted(f"{sub}/{p.name}" for p in (root / sub).glob("*.y*ml") if p.is_file() and not p.name.startswith("."))


def _subfolders(folder: Path) -> list[str]:
    return (
        sorted(p.name for p in folder.iterdir() if p.is_dir() and not p.name.startswith(".")) if folder.is_dir() else []
    )


def _bytes(folder: Folder, path: str) -> bytes | None:
    try:
        full = folder.root / path
        with full.open("rb") as file:
            return file.read(MAX_BYTES + 1)
    except OSError as error:
        folder.problems.append(
            Problem(
                path,
                0,
                0,
                "unreadable-file",
                f"this file cannot be read: {error.strerror}",
                "check that it is a file and that you may read it",
            )
        )
        return None


def _document(folder: Folder, path: str, data: bytes | None = None) -> Document | None:
    data = data if data is not None else _bytes(folder, path)
    if data is None:
        return None
    document, problems = read_yaml(path, data)
    folder.problems += problems
    if document is None:
        folder.broken.add(path)
    return document


def _one(folder: Folder, path: str, shape: type[Shape]) -> Read[Shape] | None:
    document = _document(folder, path)
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


def _procedure(folder: Folder, path: str) -> None:
    document = _document(folder, path)
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


def _engine(folder: Folder, number: str) -> None:
    base = f"engines/{number}"
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
    read = _one(folder, f"{base}/engine.yaml", Engine)
    log = _log(folder, f"{base}/log")
    if read and _named_as(folder, read.document, "engine", read.value.engine, number):
        folder.engines[number] = EngineRecord(read.value, read.document, log)


def _log(folder: Folder, base: str) -> Log:
    entries = []
    for path in _files(folder.root, base):
        entry = _entry(folder, path)
        if entry is not None:
            entries.append(entry)
    ordered, problems = in_order(entries)
    folder.problems += problems
    return Log(ordered)


def _entry(folder: Folder, path: str) -> Entry | None:
    data = _bytes(folder, path)
    document = _document(folder, path, data) if data is not None else None
    if data is None or document is None:
        return None
    kind = document.data.get("event") if isinstance(document.data, dict) else None
    if not isinstance(kind, str) or kind not in KINDS:
        hint = did_you_mean(kind, KINDS) if isinstance(kind, str) else "events are written by the program"
        folder.problems.append(document.problem(("event",), "unknown-event", f'"{kind}" is not a kind of event', hint))
        return None
    event, problems = fit(document, KINDS[kind])
    instead = None
    if isinstance(event, Correction) and event.instead is not None:
        inner = Document(path, document.text, event.instead, document.values, document.keys)
        kind = str(event.instead.get("event"))
        instead, more = (
            fit(inner, KINDS[kind])
            if kind in KINDS
            else (
                None,
                [
                    document.problem(
                        ("instead",), "unknown-event", f'"{kind}" is not a kind of event', did_you_mean(kind, KINDS)
                    )
                ],
            )
        )
        problems += more
    named = name_problem(document, Path(path).name, data, event)
    folder.problems += problems + ([named] if named else [])
    return Entry(digest(data), event, document, instead) if event is not None else None


def _same_code_twice(folder: Folder) -> None:
    seen: dict[str, str] = {}
    for name, read in sorted(folder.procedures.items()):
        first = seen.setdefault(read.value.code, name)
        if first != name:
            message = f"the code {read.value.code} is already that of {first}"
            folder.problems.append(
                read.document.problem(("code",), "code-taken", message, "give each procedure its own code")
            )
