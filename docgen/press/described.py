"""What a finished PDF says of itself, read back; nothing in it is trusted or run."""

from __future__ import annotations

import io
import re
from dataclasses import dataclass
from datetime import date

import pikepdf

MOST = 40 * 1024 * 1024
"""The largest file that is looked into, bytes."""
MOST_JOB = 1024 * 1024
"""The largest attached job that is read, bytes."""


@dataclass(frozen=True)
class Described:
    """``jobs`` are the texts of the attached jobs; ``on`` is the day that it was made for, if it says one."""

    title: str
    subject: str
    keywords: tuple[str, ...]
    pages: int
    on: date | None
    jobs: tuple[str, ...]


def described(pdf: bytes) -> Described:
    """What the PDF says. Errors: ValueError when it cannot be read."""
    if len(pdf) > MOST:
        raise ValueError("it is larger than any sheet")
    try:
        with pikepdf.open(io.BytesIO(pdf), attempt_recovery=False, suppress_warnings=True) as document:
            info = document.docinfo
            words = str(info.get("/Keywords", ""))
            return Described(
                title=str(info.get("/Title", "")),
                subject=str(info.get("/Subject", "")),
                keywords=tuple(word.strip() for word in words.split(",") if word.strip()),
                pages=len(document.pages),
                on=_day(str(info.get("/CreationDate", ""))),
                jobs=tuple(_jobs(document)),
            )
    except (pikepdf.PdfError, ValueError, TypeError, KeyError, AttributeError, RecursionError, OverflowError) as error:
        raise ValueError("it is no PDF, or damaged") from error


def _jobs(document: pikepdf.Pdf) -> list[str]:
    found = []
    for name, file in document.attachments.items():
        if name.endswith("job.yaml"):
            data = file.get_file().read_bytes()
            if len(data) <= MOST_JOB:
                found.append(data.decode("utf-8", "replace"))
    return found


def _day(text: str) -> date | None:
    match = re.match(r"D:(\d{4})(\d{2})(\d{2})", text)
    return date(int(match[1]), int(match[2]), int(match[3])) if match else None
