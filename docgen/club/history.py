"""Walks the history of one log, file by file, and says what does not fit: changed, removed, exchanged, added.

What it can show: every file bears the digest of its own bytes, and names the digests of the events before it.
What it cannot: that events are missing from its end (a head printed on a sheet shows those), or that somebody wrote the
whole log anew.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import date
from functools import cached_property

from docgen.club.log import FILE_NAME, SHORT, Named, digest
from docgen.club.problem import Problem
from docgen.club.readlog import fit_event
from docgen.club.store import TEMPORARY
from docgen.club.yamltext import read_yaml


@dataclass(frozen=True)
class EventFile:
    """One file of a log. ``short`` are the digits in its name, ``digest`` that of its bytes now."""

    path: str
    name: str
    digest: str
    short: str
    day: str
    kind: str
    parents: tuple[str, ...]

    @property
    def as_written(self) -> bool:
        """Whether its bytes are those that it was named after."""
        return self.digest.startswith(self.short)


@dataclass
class History:
    """What the walk found.

    unfinished : files that a filing left behind when it was cut off, and of which nothing is lost
    nameless   : files that bear such a name and hold a whole event which the log has not; by path, its name
    """

    files: list[EventFile] = field(default_factory=list)
    problems: list[Problem] = field(default_factory=list)
    heads: list[EventFile] = field(default_factory=list)
    joins: list[EventFile] = field(default_factory=list)
    unfinished: list[str] = field(default_factory=list)
    nameless: dict[str, str] = field(default_factory=dict)

    @cached_property
    def named(self) -> Named[EventFile]:
        """The pages by their digests, by their bytes or by their names."""
        return Named(self.files)

    def since(self, head: EventFile) -> list[EventFile]:
        """The pages that `head` does not stand for: filed after it, or beside it."""
        covered = {head.digest}
        waiting = [head]
        while waiting:
            for parent in waiting.pop().parents:
                page = self.named.find(parent)
                if page is not None and page.digest not in covered:
                    covered.add(page.digest)
                    waiting.append(page)
        return [page for page in self.files if page.digest not in covered]

    @property
    def first(self) -> date | None:
        """The day of the earliest event."""
        return min((date.fromisoformat(p.day) for p in self.files), default=None)

    @property
    def last(self) -> date | None:
        """The day of the latest event."""
        return max((date.fromisoformat(p.day) for p in self.files), default=None)


def walk(base: str, files: Mapping[str, bytes | None]) -> History:
    """Check the files of the log in folder `base`, by name; None for what is no file.

    Every problem names a file, and each cause is named once.
    """
    history = History()
    begun: dict[str, str] = {}
    for name, data in sorted(files.items()):
        path = f"{base}/{name}"
        if name.startswith(TEMPORARY):
            begun[path] = _name_of(path, data or b"")
            continue
        match = FILE_NAME.fullmatch(name)
        if match is None or data is None:
            history.problems.append(_stranger(path, name))
            continue
        said, problems = _said(path, data)
        parents = said.get("parents", [])
        page = EventFile(path, name, digest(data), match["digest"], match["date"], match["kind"],
                    tuple(p for p in parents if isinstance(p, str)) if isinstance(parents, list) else ())  # fmt: skip
        history.files.append(page)
        if page.as_written:
            history.problems += problems or _misnamed(page, said)
    changed = [page for page in history.files if not page.as_written]
    history.problems += [problem for page in changed for problem in _changed(page, history)]
    names = {page.name for page in history.files}
    history.nameless = {path: name for path, name in begun.items() if name and name not in names}
    history.unfinished = [path for path in begun if path not in history.nameless]
    _links(history)
    history.problems.sort()
    return history


def _said(path: str, data: bytes) -> tuple[Mapping[str, object], list[Problem]]:
    document, problems = read_yaml(path, data)
    if document is None or not isinstance(document.data, dict):
        return {}, problems or [Problem(path, 0, 0, "not-a-mapping", "this file is no event")]
    return document.data, problems


def _name_of(path: str, data: bytes) -> str:
    """The name that an event would have which was not given one; empty where the file holds no whole event."""
    document, problems = read_yaml(path, data)
    event = fit_event(document)[0] if document is not None and not problems else None
    if event is None or not isinstance(document.data, dict):  # type: ignore[union-attr]
        return ""
    return f"{event.date}-{document.data['event']}-{digest(data)[:SHORT]}.yaml"  # type: ignore[union-attr]


def _stranger(path: str, name: str) -> Problem:
    message = f'"{name}" was not written by the program: it is not the name of an event'
    return Problem(path, 0, 0, "event-added", message, "take it out of log/; what belongs into the record is filed")


def _misnamed(page: EventFile, said: Mapping[str, object]) -> list[Problem]:
    wrong = [word for word, named in (("date", page.day), ("event", page.kind)) if said.get(word) != named]
    return [
        Problem(page.path, 0, 0, "event-renamed",
                f"this file was renamed: it holds the {said.get('event')} of {said.get('date')}",
                f"name it {said.get('date')}-{said.get('event')}-{page.short}.yaml again")
        for _ in wrong[:1]
    ]  # fmt: skip


def _changed(page: EventFile, history: History) -> list[Problem]:
    whose = next((other for other in history.files if page.digest.startswith(other.short) and other is not page), None)
    if whose is None:
        return [Problem(page.path, 0, 0, "event-changed", "this event was changed after it was written",
                        "restore the file from a backup; to put an event right, docgen correct")]  # fmt: skip
    if whose.digest.startswith(page.short):
        return [Problem(page.path, 0, 0, "events-exchanged", f"this file and {whose.name} were exchanged",
                        "give each its own name again")]  # fmt: skip
    return [Problem(page.path, 0, 0, "event-changed", f"this file holds what {whose.name} was written with",
                    "restore the file from a backup")]  # fmt: skip


def _links(history: History) -> None:
    """Parents that are not there, ends, and joins. What a changed file says of its parents counts for nothing."""
    followed: set[str] = set()
    gone: list[tuple[str, EventFile]] = []
    for page in history.files:
        for parent in page.parents:
            found = history.named.find(parent)
            if found is not None:
                followed.add(found.digest)
            elif page.as_written:
                gone.append((parent, page))
    ends = {page.digest: page for page in reversed(history.files) if page.digest not in followed}
    history.heads = list(reversed(ends.values()))
    history.joins = [page for page in history.files if len(page.parents) > 1]
    hidden = {name.rpartition("-")[2][:SHORT]: path for path, name in history.nameless.items()}
    for parent, page in gone:
        path = hidden.get(parent[:SHORT])
        problem = _renamed(path, history.nameless[path]) if path else _removed(parent, page, history.heads)
        history.problems.append(problem)
    # An event that is gone, or that no longer says what it follows, leaves the one before it without a follower.
    lost = sum(not page.as_written and not any(map(history.named.find, page.parents)) for page in history.files)
    if len(history.heads) > 1 + len(gone) + lost:
        history.problems += [_two_ends(page, history.heads) for page in history.heads]


def _removed(parent: str, page: EventFile, heads: Iterable[EventFile]) -> Problem:
    ends = [head.name for head in heads if head.day <= page.day and head is not page]
    between = f"; {_listed(ends)} came before it, or was put in its place" if ends else "; it was the first"
    return Problem(page.path, 0, 0, "event-removed",
                   f"the event that this one follows is not in the log: {parent[:SHORT]}{between}",
                   "restore the file from a backup")  # fmt: skip


def _renamed(path: str, name: str) -> Problem:
    message = "this event was renamed: it bears the name of an unfinished file, and the log does not have it"
    return Problem(path, 0, 0, "event-renamed", message, f"name it {name} again")


def _two_ends(page: EventFile, heads: list[EventFile]) -> Problem:
    others = _listed([other.name for other in heads if other is not page])
    follows = f"it follows {page.parents[0][:SHORT]}" if page.parents else "it follows nothing"
    message = f"nothing follows this event ({follows}) and nothing follows {others}: filed apart, or one was put in"
    return Problem(page.path, 0, 0, "branch-not-joined", message, "look at both; docgen join puts them together")


def _listed(names: list[str]) -> str:
    return names[0] if len(names) == 1 else ", ".join(names[:-1]) + " and " + names[-1]
