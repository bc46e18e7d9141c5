"""What a signed sheet asks for, in the order of the paper: the same tables and blanks that it was printed from."""

import re
from collections.abc import Iterator
from dataclasses import dataclass

from docgen.club.words import Words
from docgen.job.job import Job
from docgen.sheets import record_tables
from docgen.sheets.entries import Entries, asks_second
from docgen.sheets.tables import FINDINGS_NOTE, RELEASE, STRUCK, Field, Table, Told, blanks

_LABEL = re.compile(r"\d{1,3}[a-z]{0,2}")


@dataclass(frozen=True)
class LayoutRow:
    """One row of a table, or one blank: what it is called, what is printed beside it, the fields to fill.

    key   : what the row's fields begin with
    label : the number of the row on the paper, where it has one
    """

    key: str
    name: str
    told: tuple[str, ...]
    fields: tuple[Field, ...]
    label: str = ""


@dataclass(frozen=True)
class Section:
    """A table of the sheet, or a group of blanks."""

    key: str
    title: str
    note: str
    rows: tuple[LayoutRow, ...]


def sections(job: Job) -> tuple[Section, ...]:
    """Everything that the sign-off sheet of a job asks for."""
    words = Words()
    entries, empty = Entries(job, words), blanks(words)
    tables = (*record_tables.tables(entries), *record_tables.checks(entries))
    after_run = f"{words('After the first run')}: when, by whom"
    first_run = any(table.key == "after-run" for table in tables)
    return (
        _blanks("work", "Work", empty["work"]),
        *(Section(one.key, one.title, one.note, tuple(_row(one, row) for row in one.rows)) for one in tables),
        _blanks("also-renewed", words("Also renewed: part, number"), empty["also_renewed"]),
        *((_blanks("first-run", after_run, empty["first_run"]),) if first_run else ()),
        _blanks("struck", words(STRUCK), empty["struck"]),
        _blanks("findings", words("Findings and remarks"), empty["findings"], words(FINDINGS_NOTE)),
        _blanks("release", words("Release"), empty["release"], words(RELEASE)),
        *((_blanks("second", "Second person", empty["second"]),) if asks_second(job.instructions) else ()),
        _blanks("next-due", "Next due", empty["next_due"]),
    )


def field_names(job: Job) -> tuple[str, ...]:
    """The name of every field of a job's sign-off sheet, in its order."""
    return tuple(one.name for section in sections(job) for row in section.rows for one in row.fields)


def row_names(job: Job) -> dict[str, str]:
    """What each row is called on paper, by its key."""
    return {row.key: row.name for section in sections(job) for row in section.rows}


def _blanks(key: str, title: str, fields: tuple[Field, ...], note: str = "") -> Section:
    return Section(key, title, note, tuple(LayoutRow(one.name, one.title, (), (one,)) for one in fields))


def _row(table: Table, row: tuple[object, ...]) -> LayoutRow:
    fields = tuple(_fields(row))
    told = [(column.head, one) for column, one in zip(table.columns, row, strict=True) if isinstance(one, Told)]
    label = next((one.text for _, one in told if _LABEL.fullmatch(one.text)), "")
    named = [(head, one) for head, one in told if _says(one) and not (label and one.text == label)]
    name = named[0][1].text if named else table.title
    rest = tuple(f"{head.lower()} {_says(one)}" for head, one in named[1:])
    notes = named[0][1].notes if named else ()
    return LayoutRow(fields[0].name.partition("_")[0], name, (*notes, *rest), fields, label)


def _says(one: Told) -> str:
    tag = f" ({one.tag})" if one.tag else ""
    return ", ".join((*((one.text + tag,) if one.text else ()), *one.notes)).replace("\u00a0", " ")


def _fields(row: tuple[object, ...]) -> Iterator[Field]:
    for one in row:
        if isinstance(one, Field):
            yield one
        elif isinstance(one, tuple):
            yield from one
