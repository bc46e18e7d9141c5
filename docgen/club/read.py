"""Reading a club: its files, their shapes, and the names that they use of each other."""

import os
import re
from collections.abc import Collection, Iterator, Mapping
from pathlib import Path
from typing import Any

from docgen.club.cache import RecordCache
from docgen.club.content import content_digest, kept_version
from docgen.club.files import linked, no_engine, not_read, read_bytes, subfolders, without_copies, yaml_files
from docgen.club.fit import fit
from docgen.club.folder import ORIGINS, EngineRecord, Folder, Read, Shape
from docgen.club.log import digest
from docgen.club.moves import move_problems
from docgen.club.problem import Problem, did_you_mean
from docgen.club.readlog import read_log
from docgen.club.references import reference_problems
from docgen.club.schema.club import Club
from docgen.club.schema.engine import NUMBER, Engine
from docgen.club.schema.event import ComponentMoved
from docgen.club.schema.model import Model
from docgen.club.schema.origins import Origins
from docgen.club.schema.procedure import Procedure, Sequence
from docgen.club.teaching import ENDING, TeachingPage, read_shared
from docgen.club.translation import club_language, spoken
from docgen.club.uses import lacking
from docgen.club.yamldoc import Data, Document

WRITTEN = ("", "/log", "/issued", "/signed", "/drafts")
"""Where the program writes below an engine's folder; a link there would lead it out of the club's."""


def read_club(
    root: Path, known: RecordCache | None = None, instead: Mapping[str, bytes] | None = None,
    engines: Collection[str] | None = None, unmoved: Collection[str] = (),
) -> Folder:  # fmt: skip
    """Everything in the club folder `root`, in the club's language, with every problem in every file.

    known   : what was read before; it saves parsing, and learns what was new
    instead : bytes by path, as if they lay there: of procedures, models, engines' records, club.yaml
    engines : the engines that are needed; None for all. Those whose components were ever moved are read as well
    unmoved : those of which it is known that they never were
    """
    folder = Folder(root, instead=instead or {})
    if (root / "club.yaml").is_file():
        _Reading(folder, known, unmoved).all(engines)
    else:
        hint = "go to the club's folder or name it with --club; docgen new club FOLDER begins one"
        folder.problems.append(Problem("club.yaml", 0, 0, "no-club", f"there is no club.yaml in {root}", hint))
    folder.lacking = lacking(folder)
    folder.problems = sorted({*folder.problems, *reference_problems(folder), *move_problems(folder)})
    return spoken(folder, club_language(folder))


class _Reading:
    """Fills a folder. Nothing is raised for what is in the files, and nothing else is opened."""

    def __init__(self, folder: Folder, known: RecordCache | None, unmoved: Collection[str]) -> None:
        self.folder, self.root, self.known, self.problems = folder, folder.root, known, folder.problems
        self.unmoved = unmoved

    def all(self, engines: Collection[str] | None) -> None:
        """Read everything that the club folder knows."""
        folder = self.folder
        folder.club_file = self._one("club.yaml", Club)
        for path in self._own("procedures"):
            document = self._document(path)
            if document and isinstance(document.data, dict) and "sequence" in document.data:
                self._named(folder.sequences, "sequence", path, self._fitted(document, Sequence))
            elif document:
                self._named(folder.procedures, "procedure", path, self._fitted(document, Procedure))
        for path in self._own("procedures", ENDING):
            if path.endswith(ENDING):  # a folder that is a link stands for itself, and has been told of
                self._page(path)
        for path in self._own("models"):
            self._named(folder.models, "model", path, self._one(path, Model))
        self._engines(engines)
        self._same_code_twice()
        if linked(self.root, ORIGINS) or (self.root / ORIGINS).exists() or ORIGINS in folder.instead:
            origins = self._one(ORIGINS, Origins, kept=False)
            folder.origins = origins.value if origins else folder.origins
            folder.received = dict(self._received())

    def _own(self, kind: str, *endings: str) -> list[str]:
        endings = endings or (".yaml", ".yml")
        instead = (path for path in self.folder.instead if path.startswith(f"{kind}/") and path.endswith(endings))
        own, copies = without_copies(sorted({*yaml_files(self.root, kind, endings), *instead}))
        self.problems += copies
        return own

    def _document(self, path: str, *, kept: bool = True) -> Document | None:
        """The file's text; `kept`: what was read before is believed, and this is kept for the next time."""
        known = self.known if kept else None
        data = self.folder.instead.get(path) or read_bytes(self.root, path)
        if isinstance(data, Problem):
            self.problems.append(data)
            self.folder.broken.add(path)
            return None
        document = known.document(path, data, digest(data)) if known is not None else None
        if document is None:
            document, problems = read_shared(path, data)
            self.problems += problems
            if document is None:
                self.folder.broken.add(path)
            elif known is not None and not problems:
                known.add(digest(data), document)
        return document

    def _one(self, path: str, shape: type[Shape], *, kept: bool = True) -> Read[Shape] | None:
        document = self._document(path, kept=kept)
        return self._fitted(document, shape) if document is not None else None

    def _fitted(self, document: Document, shape: type[Shape]) -> Read[Shape] | None:
        """The document in its shape; None when anything is wrong with the file, since its text may be cut or mended.

        A line that the reader found fault with is not judged a second time.
        """
        found = [p for p in self.problems if p.path == document.path and p.level == "error"]
        value, problems = fit(document, shape)
        self.problems += [p for p in problems if p.line not in {one.line for one in found}]
        if value is None or found:
            self.folder.broken.add(document.path)
            return None
        return Read(value, document)

    def _named(self, into: dict[str, Read[Shape]], key: str, path: str, read: Read[Shape] | None) -> None:
        if read and self._called(read, key, Path(path).stem):
            into[Path(path).stem] = read

    def _called(self, read: Read[Any], key: str, expected: str) -> bool:
        """Whether a file says the name that it is called by."""
        name, document = getattr(read.value, key), read.document
        if name != expected:
            message = f'the file is called "{expected}" but says {key}: {name}'
            self.problems.append(document.problem((key,), "name-differs", message, "give both the same name"))
            self.folder.broken |= {document.path, str(Path(document.path).with_stem(name))}
        return bool(name == expected)

    def _page(self, path: str) -> None:
        """A page is its job's; one that no job has is told of, since it would be printed nowhere."""
        name = Path(path).stem
        if name not in self.folder.names("procedures"):
            message = f'no job is called "{name}", so this page is printed nowhere'
            hint = did_you_mean(name, self.folder.procedures) or "give it the name of its job"
            self.problems.append(Problem(path, 0, 0, "page-without-job", message, hint, level="note"))
        if page := self._one(path, TeachingPage):
            self.folder.pages[name] = page

    def _engines(self, wanted: Collection[str] | None) -> None:
        """Read all engines; or some, and all that ever gave or took a component: half a move shows in two records only.

        An engine whose own file names a component of one of them is read as well: it cannot be on both.
        """
        if linked(self.root, "engines"):
            self.problems.append(not_read("engines"))
        brought = (path.split("/")[1] for path in self.folder.instead if path.startswith("engines/"))
        folders = sorted({*subfolders(self.root / "engines"), *brought})
        there = {number for number in folders if NUMBER.fullmatch(number)}
        if wanted is None:
            self.problems += [no_engine(f"engines/{name}") for name in folders if name not in there]
            for number in sorted(there):
                self._engine(number)
            return
        needed = {*wanted} & there
        needed |= {number for number in there - needed if number not in self.unmoved and self._moved(number)}
        files: dict[str, bytes] = {}
        read: set[str] = set()
        while left := sorted(needed - read):
            for number in left:
                self._engine(number)
            read.update(left)
            records = [self.folder.engines[number] for number in left if number in self.folder.engines]
            moves = [event for one in records for event in one.log.of(ComponentMoved)]
            needed |= there & {event.other for event in moves if event.other}
            fitted = {number for one in records for number in one.engine.components.values()}
            fitted |= {number for event in moves for number in (event.fitted, event.removed) if number}
            files = files or {number: self._own_file(number) for number in there - read}
            # a backslash: it may be written in other letters
            named = re.compile(b"|".join([rb"\\", *(re.escape(number.encode()) for number in fitted)]))
            needed |= {number for number, data in files.items() if fitted and named.search(data)}
        self.folder.unread = frozenset(there - needed)

    def _moved(self, number: str) -> bool:
        """Whether a log tells of a component that was moved, by its files' names (a correction may be of a move)."""
        log = self.root / "engines" / number / "log"
        return log.is_dir() and any("-component-" in name or "-correction-" in name for name in os.listdir(log))  # noqa: PTH208  of every log

    def _own_file(self, number: str) -> bytes:
        data = read_bytes(self.root, f"engines/{number}/engine.yaml")
        return data if isinstance(data, bytes) else b""

    def _engine(self, number: str) -> None:
        base = f"engines/{number}"
        if ways := sorted({way for sub in WRITTEN if (way := linked(self.root, f"{base}{sub}"))}):
            self.problems += [not_read(way) for way in ways]
            return
        path = f"{base}/engine.yaml"
        if path not in self.folder.instead and not (self.root / path).is_file():
            message, hint = "this engine has no engine.yaml", "write it, or take the folder away"
            self.problems.append(Problem(path, 0, 0, "no-engine-file", message, hint))
            return
        read = self._one(path, Engine)
        log, problems = read_log(self.root, number, self.known, self.folder.instead)
        self.problems += problems
        if read and self._called(read, "engine", number):
            self.folder.engines[number] = EngineRecord(read.value, read.document, log)

    def _same_code_twice(self) -> None:
        seen: dict[str, str] = {}
        for name, read in sorted(self.folder.procedures.items()):
            first = seen.setdefault(read.value.code, name)
            if first != name:
                message = f"the code {read.value.code} is already that of {first}"
                hint = "give each procedure its own code"
                self.problems.append(read.document.problem(("code",), "code-taken", message, hint))

    def _received(self) -> Iterator[tuple[str, Data]]:
        reads: list[Read[Any]] = [*self.folder.procedures.values(), *self.folder.sequences.values()]
        for path, document in ((read.document.path, read.document) for read in reads):
            came = self.folder.origins.received(path)
            if came is not None and came.digest != content_digest(document):
                yield path, kept_version(self.root, path, came.digest)
