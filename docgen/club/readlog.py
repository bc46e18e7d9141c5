"""Reading one engine's log: every file of it as an event in the order of the history, every problem kept."""

from collections.abc import Mapping
from pathlib import Path

from docgen.club.cache import RecordCache
from docgen.club.files import read_bytes, yaml_files
from docgen.club.fit import fit
from docgen.club.log import Entry, Log, digest, in_order, name_problem
from docgen.club.problem import Problem, did_you_mean
from docgen.club.schema.event import KINDS, Correction, Event
from docgen.club.yamldoc import Document
from docgen.club.yamltext import read_yaml


def read_log(
    root: Path, number: str, known: RecordCache | None = None, instead: Mapping[str, bytes] | None = None
) -> tuple[Log, list[Problem]]:
    """The log of engine `number` in the club at `root`; empty where there is none yet.

    known   : what was read before, by digest; saves parsing
    instead : bytes by path, as if they lay there
    """
    base, there = f"engines/{number}/log", instead or {}
    entries: list[Entry] = []
    problems: list[Problem] = []
    for path in sorted({*yaml_files(root, base), *(path for path in there if path.startswith(f"{base}/"))}):
        data = there.get(path) or read_bytes(root, path)
        if isinstance(data, Problem):
            problems.append(data)
            continue
        entry, found = read_entry(path, data, known)
        problems += found
        if entry is not None:
            entries.append(entry)
    ordered, missing = in_order(entries)
    return Log(ordered), problems + missing


def read_entry(path: str, data: bytes, known: RecordCache | None = None) -> tuple[Entry | None, list[Problem]]:
    """One event from the bytes of its file, and every problem in it; None where it is no event."""
    whole = digest(data)
    document = known.document(path, data, whole) if known is not None else None
    problems: list[Problem] = []
    if document is None:
        document, problems = read_yaml(path, data)
        if document is None:
            return None, problems
        if known is not None and not problems:
            known.add(whole, document)
    event, found = fit_event(document)
    instead = None
    if isinstance(event, Correction) and event.instead is not None:
        inner = Document(path, document.text, event.instead, document.values, document.keys)
        instead, more = fit_event(inner, within=document)
        found += more
    problems += found
    if event is None:
        return None, problems
    named = name_problem(document, whole, event)
    return Entry(whole, event, document, instead), problems + ([named] if named else [])


def fit_event(document: Document, within: Document | None = None) -> tuple[Event | None, list[Problem]]:
    """The document as an event of the kind that it names, or what keeps it from being one.

    within : the correction's document, where the event stands under ``instead``
    """
    kind = document.data.get("event") if isinstance(document.data, dict) else None
    if not isinstance(kind, str) or kind not in KINDS:
        hint = did_you_mean(kind, KINDS) if isinstance(kind, str) else "events are written by the program"
        at, place = (document, "event") if within is None else (within, "instead")
        return None, [at.problem((place,), "unknown-event", f'"{kind}" is not a kind of event', hint)]
    return fit(document, KINDS[kind])
