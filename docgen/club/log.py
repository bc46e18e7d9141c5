"""An engine's log: one file an event, each naming its parents' digests and bearing its own in its name.

A digest is the SHA-256 of the file's bytes with line endings normalised to LF. The file name is
``YYYY-MM-DD-kind-DIGEST.yaml`` with the first twelve digits. Editing a file changes its digest, so the
events after it no longer name it; removing the last page leaves no trace in the history itself, which is
why the head's digest is printed on the sign-off sheet.
"""

import hashlib
import heapq
import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cached_property
from typing import Generic, Protocol, TypeVar

from docgen.club.problem import Problem
from docgen.club.schema.event import Correction, Event
from docgen.club.yamldoc import Document

FILE_NAME = re.compile(r"(?P<date>\d{4}-\d{2}-\d{2})-(?P<kind>[a-z]+)-(?P<digest>[0-9a-f]{12})\.yaml")
SHORT = 12

Kind = TypeVar("Kind", bound=Event)


def digest(data: bytes) -> str:
    """SHA-256 of the bytes with CR LF and CR as LF, hexadecimal."""
    return hashlib.sha256(data.replace(b"\r\n", b"\n").replace(b"\r", b"\n")).hexdigest()


@dataclass(frozen=True)
class Entry:
    """One event with the digest of its file and the document it was read from."""

    digest: str
    event: Event
    document: Document
    instead: Event | None = None

    @property
    def file(self) -> str:
        """The name of the event's file."""
        return self.document.path.rpartition("/")[2]

    @property
    def short(self) -> str:
        """The twelve digits that its file bears: those that it was written with."""
        match = FILE_NAME.fullmatch(self.file)
        return match["digest"] if match else self.digest[:SHORT]


@dataclass(frozen=True)
class Held:
    """An entry with the event that holds in its place; None where a correction struck it out.

    correction : the entry that says so, if any
    """

    entry: Entry
    event: Event | None
    correction: Entry | None = None


class Bearer(Protocol):
    """What bears the digest of its bytes, and the twelve digits that its file was written with."""

    @property
    def digest(self) -> str: ...
    @property
    def short(self) -> str: ...


Some = TypeVar("Some", bound=Bearer)


class Named(Generic[Some]):
    """Finds events by a digest, or by the beginning of one."""

    def __init__(self, entries: Iterable[Some]) -> None:
        self._whole: dict[str, Some] = {}
        self._short: dict[str, Some] = {}
        for entry in entries:
            self._whole.setdefault(entry.digest, entry)
            self._short.setdefault(entry.digest[:SHORT], entry)
        for entry in list(self._whole.values()):
            self._short.setdefault(entry.short, entry)

    def find(self, digest: str) -> Some | None:
        """The one with this digest (at least twelve digits); one that was edited since is found by its name."""
        found = self._whole.get(digest) or self._short.get(digest[:SHORT])
        if found is None or found.digest.startswith(digest) or found.short != found.digest[:SHORT]:
            return found
        return None


@dataclass(frozen=True)
class Log:
    """The events of one engine in the order of their history (parents first; by date, then digest, where free)."""

    entries: tuple[Entry, ...] = ()

    @cached_property
    def named(self) -> Named[Entry]:
        """The entries by their digests."""
        return Named(self.entries)

    @cached_property
    def heads(self) -> tuple[str, ...]:
        """Digests that no event names as its parent: one, unless two people filed apart."""
        followed = {found.digest for e in self.entries for p in e.event.parents if (found := self.named.find(p))}
        return tuple(e.digest for e in self.entries if e.digest not in followed)

    @property
    def head(self) -> str:
        """The digest that stands for the whole log; empty when there is no event yet."""
        return "+".join(self.heads)

    @cached_property
    def held(self) -> tuple[Held, ...]:
        """Every entry with what holds of it: what a correction names stands as the correction says, or not at all.

        Of several corrections of one event the last holds. One that names a correction means what that one corrected.
        """
        last: dict[str, Entry] = {}
        for entry in self.entries:
            target: Entry | None = entry
            while target is not None and isinstance(target.event, Correction):
                target = self.named.find(target.event.corrects)
            if target is not None and target is not entry:
                last[target.digest] = entry
        return tuple(
            Held(e, by.instead, by) if (by := last.get(e.digest)) else Held(e, e.event) for e in self.entries
        )

    @cached_property
    def events(self) -> tuple[Event, ...]:
        """The events that hold, in the order of the history: as they were written down."""
        return tuple(held.event for held in self.held if held.event is not None)

    @cached_property
    def happened(self) -> tuple[tuple[str, Event], ...]:
        """The events that hold with their digests, day by day as they happened; within a day as written down.

        What was entered late counts on its day: a sheet that came back after the next meeting was still signed before.
        """
        held = [(held.entry.digest, held.event) for held in self.held if held.event is not None]
        return tuple(sorted(held, key=lambda one: one[1].date))

    def of(self, kind: type[Kind]) -> tuple[Kind, ...]:
        """The events of one kind that hold, oldest first."""
        return tuple(event for event in self.events if isinstance(event, kind))


def in_order(entries: Iterable[Entry]) -> tuple[tuple[Entry, ...], list[Problem]]:
    """The entries with parents first, and a problem for each parent that is not there."""
    waiting = sorted(entries, key=lambda e: (e.event.date, e.digest))
    named = Named(waiting)
    place = {e.digest: index for index, e in enumerate(waiting)}
    left = [0] * len(waiting)
    after: list[list[int]] = [[] for _ in waiting]
    problems: list[Problem] = []
    for index, entry in enumerate(waiting):
        for number, parent in enumerate(entry.event.parents):
            found = named.find(parent)
            if found is None:
                problems.append(_missing(entry, number, parent))
            else:
                left[index] += 1
                after[place[found.digest]].append(index)
    return tuple(waiting[index] for index in _parents_first(left, after)), problems


def _parents_first(left: list[int], after: list[list[int]]) -> Iterator[int]:
    """Every place once; of those that wait for nobody the smallest comes first.

    Where all wait for one another, which digests rule out, the smallest.
    """
    ready = [index for index, count in enumerate(left) if count == 0]
    given = [False] * len(left)
    stuck = 0
    for _ in left:
        while not ready:
            if not given[stuck]:
                heapq.heappush(ready, stuck)
            stuck += 1
        index = heapq.heappop(ready)
        given[index] = True
        yield index
        for follower in after[index]:
            left[follower] -= 1
            if left[follower] == 0 and not given[follower]:
                heapq.heappush(ready, follower)


def _missing(entry: Entry, number: int, parent: str) -> Problem:
    message = f"this event follows {parent[:SHORT]}, which is not in the log"
    hint = "a file of the log was removed or edited: restore it"
    return entry.document.problem(("parents", number), "missing-event", message, hint)


def name_problem(document: Document, digest: str, event: Event) -> Problem | None:
    """What is wrong with an event file's name, if anything: its form, date or kind, or a digest that does not fit."""
    file_name = document.path.rpartition("/")[2]
    match = FILE_NAME.fullmatch(file_name)
    if match is None:
        hint = "events are written by the program; keep other files out of log/"
        return document.problem((), "bad-log-name", f'"{file_name}" is not the name of an event', hint)
    if match["digest"] != digest[:SHORT]:
        message = "this event was edited after it was written: its digest no longer fits"
        hint = "restore the file; to correct an event, file a correction"
        return document.problem((), "event-changed", message, hint)
    said = (("date", event.date.isoformat()), ("kind", getattr(event, "event", match["kind"])))
    for key, is_ in said:
        if is_ != match[key]:
            at = "event" if key == "kind" else key
            message = f"the file's name says {match[key]}"
            return document.problem((at,), "event-changed", message, "restore the file's name")
    return None
