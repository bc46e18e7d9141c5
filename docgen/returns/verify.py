"""Whether one engine's record is as it was written: its chain, the sheets printed from it, the papers kept."""

from __future__ import annotations

import hashlib
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from docgen.club.chain import Chain, Page, walk
from docgen.club.files import bounded
from docgen.club.log import SHORT, Log
from docgen.club.problem import Problem
from docgen.club.readlog import read_log
from docgen.club.schema.event import Service
from docgen.job import wording
from docgen.job.prints import Print, doubled, prints
from docgen.returns.apart import PICTURE_BYTES
from docgen.returns.beside import elsewhere, judged, services
from docgen.returns.duplicates import doubled_problems
from docgen.returns.filing import sheet_key

_HEAD = re.compile(r"^ *log_head: ['\"]?([0-9a-f+]+)['\"]?$", re.MULTILINE)
"""Where a frozen job says how its engine's log ended."""
DIGEST = re.compile(r"[0-9a-f]{12,64}")
"""A digest, or enough of its beginning."""


@dataclass(frozen=True)
class Verified:
    """What was found. ``notes`` are no faults: branches that were joined, papers that belong to no event."""

    number: str
    chain: Chain
    problems: tuple[Problem, ...]
    notes: tuple[str, ...]


def verify(root: Path, number: str) -> Verified:
    """Read every file of the engine's log, and what else its record says of it."""
    base = f"engines/{number}/log"
    files, unreadable = _files(root / base, base)
    chain = walk(base, files)
    log, read = read_log(root, number)
    named = {p.path for p in chain.problems}
    # That a parent is missing, the chain has said already, and of which event.
    more = (p for p in read if p.level == "error" and p.path not in named and p.name != "missing-event")
    problems = [*unreadable, *chain.problems, *more]
    printed = prints(root, f"engines/{number}/issued")
    problems += [*_printed(number, printed, chain), *_twice(log), *doubled_problems(log), *_kept(root, number, log)]
    problems += [*judged(number, printed, log), *elsewhere(root, number, log)]
    notes = (*_notes(root, number, chain, log), *_numbers_twice(printed))
    return Verified(number, chain, tuple(sorted(set(problems))), notes)


def _files(folder: Path, base: str) -> tuple[dict[str, bytes | None], list[Problem]]:
    files: dict[str, bytes | None] = {}
    problems: list[Problem] = []
    for path in sorted(folder.iterdir()) if folder.is_dir() else []:
        try:
            files[path.name] = bounded(path) if path.is_file() and not path.is_symlink() else None
        except OSError as error:
            problems.append(Problem(f"{base}/{path.name}", 0, 0, "unreadable-file",
                                    f"this file cannot be read: {error.strerror}"))  # fmt: skip
    return files, problems


def against_head(chain: Chain, base: str, head: str) -> tuple[Page | None, Problem | None]:
    """The event that a printed head means, or the problem that it is not in the log.

    head : at least twelve digits, as they stand on a sheet or card
    """
    page = chain.find(head) if DIGEST.fullmatch(head) else None
    if page is not None:
        return page, None
    message = f"the log does not hold the event {head[:SHORT]}, which it once ended with"
    return None, Problem(base, 0, 0, "event-missing", message,
                         "it was taken off the end, or changed: restore the log from a backup")  # fmt: skip


def _printed(number: str, printed: Sequence[Print], chain: Chain) -> Iterator[Problem]:
    """Every frozen job names the head that its sheet was printed with."""
    sheets: dict[str, list[str]] = {}
    for one in printed:
        found = _HEAD.search(one.text)
        for head in found[1].split("+") if found else ():
            sheets.setdefault(head, []).append(one.stem)
    for head, stems in sheets.items():
        _, problem = against_head(chain, f"engines/{number}/log", head)
        if problem is not None:
            were = "was" if len(stems) == 1 else "were"
            message = f"{problem.message}: {wording.listed(stems)} {were} printed then"
            yield Problem(problem.path, 0, 0, problem.name, message, problem.hint)


def _twice(log: Log) -> Iterator[Problem]:
    """A sheet that stands in the log two times for one job, as two who file apart may bring about."""
    seen: dict[tuple[str, str], str] = {}
    for held in log.held:
        event = held.event
        if isinstance(event, Service) and (event.issue or event.sheet):
            key = (event.issue or sheet_key(event.sheet or ""), event.procedure)
            first = seen.setdefault(key, held.entry.file)
            if first != held.entry.file:
                yield Problem(held.entry.document.path, 0, 0, "sheet-twice", f"this sheet is also filed as {first}",
                              "strike one of them out: docgen correct")  # fmt: skip


def _kept(root: Path, number: str, log: Log) -> Iterator[Problem]:
    """The signed papers beside the log are those that were filed."""
    for entry, event in services(log):
        for file, digest in _papers(event):
            path = f"engines/{number}/{file}"
            try:
                now = hashlib.sha256(bounded(root / path, PICTURE_BYTES)).hexdigest()
            except OSError as error:
                yield Problem(path, 0, 0, "paper-missing",
                              f"the signed sheet of {entry.file} cannot be read: {error.strerror}",
                              "restore the file from a backup")  # fmt: skip
                continue
            if not now.startswith(digest):
                yield Problem(path, 0, 0, "paper-changed",
                              f"the signed sheet of {entry.file} was changed after it was filed",
                              "restore the file from a backup")  # fmt: skip


def _papers(event: Service) -> Iterator[tuple[str, str]]:
    """The papers that an event names, each once, with its digest."""
    if event.file and event.file_digest:
        yield event.file, event.file_digest
    yield from dict.fromkeys((one.file, one.digest) for one in event.pictures)


def _numbers_twice(printed: Sequence[Print]) -> Iterator[str]:
    for stem, each in doubled(printed):
        issues = wording.listed([one.issue[:SHORT] for one in each])
        yield (f"{stem} is the number of {len(each)} jobs, printed from two copies of the folder: issue {issues}; "
               "the foot of the paper says which, and filing asks for it")  # fmt: skip


def _notes(root: Path, number: str, chain: Chain, log: Log) -> Iterator[str]:
    for page in chain.joins:
        ends = " and ".join(found.name if (found := chain.find(p)) else p[:SHORT] for p in page.parents)
        yield f"{page.name} joins what was filed apart: {ends}"
    filed = {file for _, event in services(log) for file, _ in _papers(event)}
    for path in sorted((root / "engines" / number / "signed").glob("[!.]*")):
        if f"signed/{path.name}" not in filed:
            yield f"signed/{path.name} belongs to no event: its filing was cut off; file it again"
    for left in chain.unfinished:
        yield f"{left} was left by a filing that was cut off; it is no part of the log (--tidy takes it away)"
    for left, name in chain.nameless.items():
        yield (f"{left} holds a whole event that is not in the log: its filing was cut off before it had its name, or "
               f"it was renamed; name it {name}, or delete it (--tidy leaves it alone)")  # fmt: skip
