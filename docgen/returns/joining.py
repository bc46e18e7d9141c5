"""Two branches of one log, filed apart, are joined by an event that names both ends; both stay as they are."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Any

from docgen.club.lock import alone
from docgen.club.log import Entry, Log
from docgen.club.store import told
from docgen.returns.filing import Filed, append_to, fit_or_refuse, whole_log


def branches(log: Log) -> list[list[Entry]]:
    """For each end of a log the entries that stand only behind it, oldest first; empty where there is one end."""
    if len(log.heads) < 2:
        return []
    behind = [_behind(log, head) for head in log.heads]
    return [
        [e for e in log.entries if e.digest in own and not any(e.digest in b for b in behind if b is not own)]
        for own in behind
    ]


def _behind(log: Log, head: str) -> set[str]:
    """The digests of an end and of everything that it follows."""
    found = {head}
    waiting = [head]
    while waiting:
        entry = log.named.find(waiting.pop())
        for parent in entry.event.parents if entry is not None else ():
            before = log.named.find(parent)
            if before is not None and before.digest not in found:
                found.add(before.digest)
                waiting.append(before.digest)
    return found


def join(root: Path, number: str, day: date, by: str | None = None, note: str | None = None) -> Filed | None:
    """Join the ends of the log of engine `number`; None where there is one end only.

    Errors: as :func:`docgen.returns.filing.file_event`; nothing is written then.
    """
    said = {"event": "joined", "date": day.isoformat(), "by": by, "note": note}
    event: dict[str, Any] = {key: value for key, value in said.items() if value is not None}
    fit_or_refuse(number, event)
    try:
        with alone(root / "engines" / number):
            if len(whole_log(root, number).heads) < 2:
                return None
            return append_to(root, number, event)
    except OSError as error:
        raise told(error, f"what joins the log of engine {number}") from error
