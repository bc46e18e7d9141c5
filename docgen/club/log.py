"""An engine's log: one file an event, each naming its parents' digests and bearing its own in its name.

A digest is the SHA-256 of the file's bytes with line endings normalised to LF. The file name is
``YYYY-MM-DD-kind-DIGEST.yaml`` with the first twelve digits. Editing a file changes its digest, so the
events after it no longer name it; removing the last page leaves no trace in the chain itself, which is
why the head's digest is printed on the sign-off sheet.
"""

from __future__ import annotations

import hashlib
import re
from collections.abc import Iterable
from dataclasses import dataclass
from typing import TypeVar

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


@dataclass(frozen=True)
class Log:
    """The events of one engine in the order of their chain (parents first; by date, then digest, where free)."""

    entries: tuple[Entry, ...] = ()

    @property
    def heads(self) -> tuple[str, ...]:
        """Digests that no event names as its parent: one, unless two people filed apart."""
        named = {parent for entry in self.entries for parent in entry.event.parents}
        return tuple(e.digest for e in self.entries if not any(e.digest.startswith(p) for p in named))

    @property
    def head(self) -> str:
        """The digest that stands for the whole log; empty when there is no event yet."""
        return "+".join(self.heads)

    @property
    def events(self) -> tuple[Event, ...]:
        """The events that hold: what a correction names stands as the correction says, or not at all."""
        corrections = [(e.event.corrects, e.instead) for e in self.entries if isinstance(e.event, Correction)]
        held: list[Event] = []
        for entry in self.entries:
            instead = [new for corrected, new in corrections if entry.digest.startswith(corrected)]
            event = instead[-1] if instead else entry.event
            if event is not None:
                held.append(event)
        return tuple(held)

    def of(self, kind: type[Kind]) -> tuple[Kind, ...]:
        """The events of one kind that hold, oldest first."""
        return tuple(event for event in self.events if isinstance(event, kind))


def in_order(entries: Iterable[Entry]) -> tuple[tuple[Entry, ...], list[Problem]]:
    """The entries with parents first, and a problem for each parent that is not there."""
    waiting = sorted(entries, key=lambda e: (e.event.date, e.digest))
    known = {e.digest: e for e in waiting}
    parents: dict[str, set[str]] = {}
    problems: list[Problem] = []
    for entry in waiting:
        parents[entry.digest] = set()
        for index, named in enumerate(entry.event.parents):
            found = next((d for d in known if d.startswith(named)), None)
            if found is None:
                message = f"this event follows {named[:SHORT]}, which is not in the log"
                problems.append(
                    entry.document.problem(
                        ("parents", index),
                        "missing-event",
                        message,
                        "a file of the log was removed or edited: restore it",
                    )
                )
            else:
                parents[entry.digest].add(found)
    ordered: list[Entry] = []
    placed: set[str] = set()
    while waiting:
        ready = next((e for e in waiting if parents[e.digest] <= placed), waiting[0])
        waiting.remove(ready)
        ordered.append(ready)
        placed.add(ready.digest)
    return tuple(ordered), problems


def name_problem(document: Document, file_name: str, data: bytes, event: Event | None) -> Problem | None:
    """What is wrong with an event file's name, if anything: its form, its date, or a digest that no longer fits."""
    match = FILE_NAME.fullmatch(file_name)
    if match is None:
        return document.problem(
            (),
            "bad-log-name",
            f'"{file_name}" is not the name of an event',
            "events are written by the program; keep other files out of log/",
        )
    if match["digest"] != digest(data)[:SHORT]:
        return document.problem(
            (),
            "event-changed",
            "this event was edited after it was written: its digest no longer fits",
            "restore the file; to correct an event, file a correction",
        )
    if event is not None and match["date"] != event.date.isoformat():
        return document.problem(
            ("date",), "event-changed", f"the file's name says {match['date']}", "restore the file's name"
        )
    return None
