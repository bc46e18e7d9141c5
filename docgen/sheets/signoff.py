"""The sign-off sheet: paper, signed with a pen, kept with the engine; its blanks are form fields as well.

What it records follows the entry elements of 14 CFR 43.9(a) and 91.417(a), as a model of a good entry: description of
the work, date, who did it, who approves it and for what only, total time, parts with limited life, findings. It records
by exception: what is as it should be is signed for once.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import zip_longest

from docgen.club.schema.club import Club
from docgen.job.job import Job
from docgen.job.number import SIGNOFF, SheetNumber
from docgen.job.wording import in_text
from docgen.sheets import record_tables
from docgen.sheets.blanks import blanks, identity
from docgen.sheets.drawings.fiducials import fiducials
from docgen.sheets.entries import Entries, asks_second, entry_texts, touched
from docgen.sheets.figures import capital, day, figure
from docgen.sheets.head import head_of, number_size
from docgen.sheets.jinja import fill
from docgen.sheets.numbering import Place, numbers_of
from docgen.sheets.page import Body, Page
from docgen.sheets.paper import PAPERS
from docgen.sheets.tables import Column, Entry, Table, Told
from docgen.sheets.words import Words

FILE, SIDE, BAND = 18.0, 12.0, 26.5
"""Margin on the left, clear of two punched holes (ISO 838: centres 12 mm in, 6 mm wide), and on the right; height of
the bands at head and foot that hold the marks for the camera; mm."""
MAST = 30.0
"""Width of the plate with the engine's number on the first face, mm."""
CODE, CODE_SIDE, CODE_EDGE = 18.0, 30.0, 7.0
"""Side of the two QR codes, their distance from the paper's sides and from its head and foot, mm."""

TOLD = 8
"""How much of the issue's digest the codes hold: with it they fit the code that the number alone would take."""


def told_by(job: Job) -> str:
    """What the codes say behind the number: which print it is, where two copies of a folder gave the same number."""
    return job.issue_digest[:TOLD].upper()


def signoff(job: Job, club: Club, words: Words | None = None) -> Page:
    """The sign-off sheet of a job: everything that is recorded of it, and the release.

    Two QR codes, diagonally opposite, and four corner marks let a photograph of the signed page be read back.
    """
    words = words or Words.speaking(job.instructions.tongue)
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
    numbers = numbers_of(number, f"{words.page} {{face}} {words.of} {{faces}}", places, behind=told_by(job))
    head = head_of(
        told.engine, told.title, f"{words.sign_off} · {told.model_title}",
        room=paper.width - 20.0 - CODE_SIDE - CODE - 4, plate=24.0, size=4.2, small=3.35, least=16.0,
    )  # fmt: skip
    entries = Entries(job, words)
    values = {
        "w": words,
        "club": club,
        "told": told,
        "most_pages": numbers.most,
        "issue": issue,
        "paper": paper,
        "body": body,
        "number": number,
        "file": FILE,
        "side": SIDE,
        "band": BAND,
        "edge": CODE_EDGE,
        "code": CODE,
        "code_side": CODE_SIDE,
        "capital": capital,
        "figure": lambda text: figure(text, words),
        "day": lambda when: day(when, words),
        "record": entry_texts(issue, words),
        "identity": () if told.plate else identity(words),
        "tables": [part for table in record_tables.tables(entries) for part in parted(closer(table, words))],
        "deviations": [one for one in told.deviations if one.item in touched(told)],
        "seconded": asks_second(told),
        "checks": list(record_tables.checks(entries)),
        "blanks": blanks(words),
        "instructions_digest": job.instructions_digest,
        "issue_digest": job.issue_digest,
        "head": head,
        "mast_plate": MAST,
        "mast_figure": number_size(told.engine, MAST, 12.0),
    }
    return Page(
        html=fill("signoff.html.j2", **values),
        css=fill("signoff.css.j2", **values),
        faces=fill("signoff_faces.css.j2", **values),
        title=f"{words.sign_off}: {told.title}, {in_text(words.engine, words)} {told.engine}",
        subject=number.body,
        identifier=number.body,
        language=words.language,
        drawings={"corner-marks": fiducials(paper)},
        body=body,
        numbers=numbers,
    )


CHUNK = 2
"""Rows of a table that stay together."""
BESIDE = 2
"""Boxes of one reading that stand in its row; more of them stand below it."""
PAIRED, SHARES = 6, (26, 19, 16, 18)
"""Parts renewed from which on two stand in a row, and the shares of their columns."""


def closer(table: Table, words: Words) -> Table:
    """Jobs, and many parts renewed, in two columns; many boxes of one reading in a row of their own below it."""
    if table.key == "renewed" and len(table.rows) > PAIRED:
        number, *others = table.columns
        return _paired(table, (number, *(replace(one, share=s) for one, s in zip(others, SHARES, strict=True))))
    if table.key == "jobs":
        return _paired(table, table.columns)
    return replace(table, rows=tuple(row for one in table.rows for row in _with_boxes_below(one, words)))


def _paired(table: Table, half: tuple[Column, ...]) -> Table:
    left = (len(table.rows) + 1) // 2
    pairs = zip_longest(table.rows[:left], table.rows[left:], fillvalue=(Told(),) * len(half))
    return replace(table, columns=half + half, rows=tuple(a + b for a, b in pairs))


def _with_boxes_below(row: tuple[Entry, ...], words: Words) -> Iterator[tuple[Entry, ...]]:
    boxes = row[-1]
    if isinstance(boxes, tuple) and len(boxes) > BESIDE and all(one.label for one in boxes):
        yield (*row[:-1], Told(words.below))
        yield (boxes,)
    else:
        yield row


def parted(table: Table) -> Iterator[Table]:
    """A table in parts, each of which stays on one face; the later ones have no title of their own."""
    own = [n for n, row in enumerate(table.rows) if len(row) == len(table.columns)]
    for first in range(0, len(own), CHUNK):
        start, end = own[first], (own[first + CHUNK :] or [len(table.rows)])[0]
        part = replace(table, rows=table.rows[start:end])
        yield part if start == 0 else replace(part, title="", note="")  # its heads stand at the top of a face only
