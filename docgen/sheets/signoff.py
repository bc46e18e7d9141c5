"""The sign-off sheet: paper, signed with a pen, kept with the engine; its blanks are form fields as well.

What it records follows the entry elements of 14 CFR 43.9(a) and 91.417(a), as a model of a good entry: description of
the work, date, who did it, who approves it and for what only, total time, parts with limited life, findings. It records
by exception: what is as it should be is signed for once.
"""

from collections.abc import Iterable

from docgen.club.schema.club import Club
from docgen.club.words import Words
from docgen.job.job import Job
from docgen.job.number import SIGNOFF, SheetNumber
from docgen.job.wording import in_text
from docgen.sheets import record_tables
from docgen.sheets.composition import head_of, number_size, page_of
from docgen.sheets.drawings.fiducials import fiducials
from docgen.sheets.entries import Entries, asks_second, entry_texts, touched
from docgen.sheets.measure import width
from docgen.sheets.page import PAPERS, Body, Numbers, Page, Place
from docgen.sheets.tables import FINDINGS_NOTE, RELEASE, Table, blanks, closer, identity, parted

FILE, SIDE, BAND = 18.0, 12.0, 26.5
"""Margin on the left, clear of two punched holes (ISO 838: centres 12 mm in, 6 mm wide), and on the right; height of
the bands at head and foot that hold the marks for the camera; mm."""
MAST = 30.0
"""Width of the plate with the engine's number on the first face, mm."""
CODE, CODE_SIDE, CODE_EDGE = 18.0, 30.0, 7.0
"""Side of the two QR codes, their distance from the paper's sides and from its head and foot, mm."""

TOLD = 8
"""How much of the issue's digest the codes say behind the number: which print it is, where two copies of a folder gave
the same number. With it they fit the code that the number alone would take."""


def signoff(job: Job, club: Club) -> Page:
    """The sign-off sheet of a job: everything that is recorded of it, and the release.

    Two QR codes, diagonally opposite, and four corner marks let a photograph of the signed page be read back.
    """
    words = Words.speaking(job.instructions.tongue)
    told, issue, paper = job.instructions, job.issue, PAPERS[club.paper]
    number = SheetNumber(told.engine, told.code, told.revision, job.print, SIGNOFF)
    body = Body(
        left=FILE,
        width=paper.width - FILE - SIDE,
        first=(CODE_EDGE, paper.height - CODE_EDGE - BAND),
        others=(BAND, paper.height - 2 * BAND),
    )
    places = (
        Place(paper.width - CODE_SIDE - CODE, CODE_EDGE, CODE),
        Place(CODE_SIDE, paper.height - CODE_EDGE - CODE, CODE),
    )
    faces, behind = f"{words('Page')} {{face}} {words('of')} {{faces}}", job.issue_digest[:TOLD].upper()
    numbers = Numbers(number, faces, places, behind=behind)
    head = head_of(
        told.engine, told.title, f"{words('Sign-off sheet')} · {told.model_title}",
        room=paper.width - 20.0 - CODE_SIDE - CODE - 4, plate=24.0, least=16.0,
    )  # fmt: skip
    entries, visit = Entries(job, words), bool(told.parts)

    def in_parts(tables: Iterable[Table]) -> list[Table]:
        return [part for table in tables for part in parted(closer(table, words, visit=visit))]

    return page_of(
        "signoff", words, f"{words('Sign-off sheet')}: {told.title}, {in_text(words('Engine'), words)} {told.engine}",
        number.body, drawings={"corner-marks": fiducials(paper)}, body=body, numbers=numbers, club=club, told=told,
        issue=issue, paper=paper, file=FILE, side=SIDE, band=BAND, edge=CODE_EDGE, code=CODE, code_side=CODE_SIDE,
        findings_note=FINDINGS_NOTE, release_text=RELEASE, record=entry_texts(issue, words),
        identity=() if told.plate else identity(words), tables=in_parts(record_tables.tables(entries)),
        deviations=[one for one in told.deviations if one.item in touched(told)], seconded=asks_second(told),
        checks=[] if visit else list(record_tables.checks(entries)),
        paired_checks=in_parts(record_tables.checks(entries)) if visit else [], blanks=blanks(words),
        instructions_digest=job.instructions_digest, issue_digest=job.issue_digest, head=head,
        ems=lambda text: round(width(text) + 0.2, 2), mast_plate=MAST, mast_figure=number_size(told.engine, MAST, 12.0),
    )  # fmt: skip
