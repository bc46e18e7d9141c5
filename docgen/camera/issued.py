"""The sign-off sheet of a frozen job, pressed anew: what a picture of it is held against."""

from __future__ import annotations

from docgen.club.schema.club import Club
from docgen.job.job import Job
from docgen.press.fields import Box, boxes
from docgen.press.orders import order
from docgen.press.workers import press_all
from docgen.returns.diagnostic import Refused
from docgen.returns.identity import Sheet
from docgen.sheets.signoff import signoff


def issued_pdf(sheet: Sheet, club: Club) -> bytes:
    """The PDF of a sheet that was printed. Errors: Refused ``not-printable`` where its job prints no longer."""
    job: Job = sheet.job
    (outcome,) = press_all([order(sheet.text, signoff(job, club), job, club.club, forms=True)], processes=1)
    if outcome.pressed is None:
        raise Refused(
            "not-printable",
            f"{sheet.text} cannot be printed any more, so that no picture can be held against it: {outcome.faults[0]}",
            f"type it in:  docgen enter {sheet.text}",
        )
    return outcome.pressed.pdf


def pages_of(pdf: bytes) -> dict[int, tuple[Box, ...]]:
    """The fields of a PDF by page."""
    found = boxes(pdf)
    return {page: tuple(box for box in found if box.page == page) for page in sorted({box.page for box in found})}
