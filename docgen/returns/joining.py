"""Two branches of one log, filed apart, are joined by an event that names both ends; both stay as they are."""

from __future__ import annotations

from datetime import date
from pathlib import Path

from docgen.club.lock import alone
from docgen.club.log import Entry, Log
from docgen.club.store import told
from docgen.returns.duplicates import behind
from docgen.returns.filing import Filed, append_to, event_of, fit_or_refuse, whole_log


def branches(log: Log) -> list[list[Entry]]:
    """For each end of a log the entries that stand only behind it, oldest first; empty where there is one end."""
    if len(log.heads) < 2:
        return []
    every = [behind(log, head) for head in log.heads]
    return [
        [e for e in log.entries if e.digest in own and not any(e.digest in b for b in every if b is not own)]
        for own in every
    ]


def join(
    root: Path, number: str, day: date, by: str | None = None, note: str | None = None, *, always: bool = False
) -> Filed | None:  # fmt: skip
    """Join the ends of the log of engine `number`; None where there is one end only.

    always  : also behind one end, to say that what was filed twice apart stands twice
    Errors: as :func:`docgen.returns.filing.file_event`; nothing is written then.
    """
    event = event_of("joined", day, by=by, note=note)
    fit_or_refuse(number, event)
    try:
        with alone(root / "engines" / number):
            if len(whole_log(root, number).heads) < 2 and not always:
                return None
            return append_to(root, number, event)
    except OSError as error:
        raise told(error, f"what joins the log of engine {number}") from error
