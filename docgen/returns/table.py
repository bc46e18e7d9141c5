"""Running of many engines from a plain table: a row an engine and day, every faulty row found at once."""

import csv
import io
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any

from docgen.club.folder import Folder
from docgen.club.problem import Problem, did_you_mean
from docgen.returns.diagnostic import Refused
from docgen.returns.running import FACTS, meeting_on, read_time, run_event
from docgen.returns.writing import read_date

NEEDED, COLUMNS = ("engine", "ran"), ("engine", "date", "ran", *FACTS)
MAX_BYTES, MAX_ROWS, MAX_COLUMNS, MAX_FAULTS = 4 << 20, 10_000, 100, 100
"""Largest table, in bytes, rows and columns, and the faults from which on the rest is not looked at."""


@dataclass(frozen=True)
class TableRow:
    """The running of one engine on one day, as an event; `line` of the table, 0 for what was typed."""

    engine: str
    day: date
    event: Mapping[str, Any]
    line: int = 0


def read_table(
    path: str, data: bytes, folder: Folder, day: date, facts: Mapping[str, str]
) -> tuple[list[TableRow], list[Problem]]:
    """The good rows of a table in CSV (comma, semicolon or tab), and a problem for every fault in the others.

    day   : for rows without a date
    facts : for rows without these
    """
    text, problem = _text(path, data)
    if problem is not None:
        return [], [problem]
    lines = text.split("\n")
    mark = max(",;\t", key=lines[0].count)
    reader = csv.reader(io.StringIO(text), delimiter=mark)
    cells, problem = _next(path, reader)
    heads = [head.strip().lower().replace(" ", "_").replace("-", "_") for head in cells or ()]
    problems = [problem] if problem else list(_heads(path, heads, lines[0]))
    if problems:
        return [], problems
    rows: list[TableRow] = []
    seen: dict[tuple[object, ...], int] = {}
    start = reader.line_num
    while True:
        cells, problem = _next(path, reader)
        if cells is None:
            problems += [problem] if problem else []
            break
        line, start = start + 1, reader.line_num
        if not any(cell.strip() for cell in cells):
            continue
        if len(rows) + len(problems) >= MAX_ROWS:
            problems.append(Problem(path, line, 1, "too-long", f"more than {MAX_ROWS} rows", "split the table"))
            break
        if len(problems) >= MAX_FAULTS:
            message = f"{len(problems)} faults up to here; the rest of the table was not looked at"
            problems.append(Problem(path, line, 1, "too-many-problems", message, "begin with these"))
            break
        told = {head: cell.strip() for head, cell in zip(heads, cells, strict=False)}
        row, found = _row(path, line, lines[line - 1], told, folder, day, facts)
        if len(cells) > len(heads) and any(cell.strip() for cell in cells[len(heads) :]):
            found.append(Problem(path, line, 1, "too-many-cells", f"{len(cells)} cells under {len(heads)} heads",
                                 "put text with a comma between quotation marks", lines[line - 1]))  # fmt: skip
        if row is not None and not found:
            same = (row.engine, row.day, row.event["hours"], row.event.get("meeting"))
            first = seen.setdefault(same, line)
            if first != line:
                hint = "add the sessions of one day up, as in 12+10+11"
                found.append(Problem(path, line, 1, "row-twice", f"the same as line {first}", hint, lines[line - 1]))
            else:
                rows.append(row)
        problems += found
    if not rows and not problems:
        problems.append(Problem(path, 0, 0, "empty-table", "there is no row below the heads", "add one"))
    return rows, problems


def _next(path: str, reader: Any) -> tuple[list[str] | None, Problem | None]:
    """The cells of the next row; None at the end, and where the text is no table any more."""
    begins = reader.line_num + 1
    try:
        return next(reader, None), None
    except csv.Error:
        message = f"a cell that begins here has no end, or more than {csv.field_size_limit()} characters"
        return None, Problem(path, begins, 1, "not-a-table", message, "look for a quotation mark without its partner")


def _text(path: str, data: bytes) -> tuple[str, Problem | None]:
    if len(data) > MAX_BYTES:
        return "", Problem(path, 0, 0, "too-large", f"the table has more than {MAX_BYTES >> 20} MiB", "split it")
    try:
        text = data.decode("utf-8-sig").replace("\r\n", "\n").replace("\r", "\n")
    except UnicodeDecodeError:
        return "", Problem(path, 0, 0, "not-utf-8", "this is not UTF-8 text",
                           "save the table as CSV with the encoding UTF-8")  # fmt: skip
    if "\0" in text:
        return "", Problem(path, 0, 0, "not-a-table", "this is no text", "save the table as CSV")
    return text, None


def _heads(path: str, heads: list[str], source: str) -> Iterator[Problem]:
    if len(heads) > MAX_COLUMNS:
        yield Problem(path, 1, 1, "too-long", f"more than {MAX_COLUMNS} columns", "take the needless ones away", source)
        return
    for head in heads:
        if head not in COLUMNS:
            yield Problem(path, 1, _col(source, head), "unknown-column", f'"{head}" is not a column known here',
                          did_you_mean(head, COLUMNS) or f"known: {', '.join(COLUMNS)}", source)  # fmt: skip
        elif heads.count(head) > 1:
            yield Problem(path, 1, 1, "column-twice", f'there are two columns "{head}"', "take one away", source)
    for needed in NEEDED:
        if needed not in heads:
            yield Problem(path, 1, 1, "missing-column", f'there is no column "{needed}"',
                          f"the first line has the heads: {', '.join(COLUMNS[:4])}, ...", source)  # fmt: skip


def _row(
    path: str, line: int, source: str, told: Mapping[str, str], folder: Folder, day: date, facts: Mapping[str, str]
) -> tuple[TableRow | None, list[Problem]]:
    found: list[Problem] = []

    def fault(cell: str, name: str, message: str, hint: str = "") -> None:
        found.append(Problem(path, line, _col(source, cell), name, message, hint, source))

    engine, when, long = told.get("engine", ""), told.get("date", ""), told.get("ran", "")
    if engine not in folder.engines:
        known = sorted(folder.engines)
        hint = _unpadded(engine, known) or did_you_mean(engine, known)
        fault(engine, "unknown-engine", f'there is no engine "{engine}"', hint)
    try:
        day = read_date(when)[0] or day
    except Refused as refused:
        fault(when, refused.said.name, refused.said.message, refused.said.hint)
    event: dict[str, Any] = {}
    try:
        ran = read_time(long)
        own = {key: told.get(key) or facts.get(key, "") for key in FACTS}
        own["meeting"] = own["meeting"] or meeting_on(folder.club.value, day)
        event = run_event(day, ran, own)
    except Refused as refused:
        cell = told.get(refused.said.field, "") if refused.said.field else long
        fault(cell, refused.said.name, refused.said.message, refused.said.hint)
    return (None, found) if found else (TableRow(engine, day, event, line), [])


def _unpadded(engine: str, known: list[str]) -> str:
    """A spreadsheet takes the noughts off the front of a number."""
    meant = [number for number in known if engine and number.lstrip("0") == engine.lstrip("0")]
    return f'did you mean "{meant[0]}"? Make the column text, so that noughts stay' if len(meant) == 1 else ""


def _col(source: str, cell: str) -> int:
    return source.find(cell) + 1 if cell and cell in source else 1
