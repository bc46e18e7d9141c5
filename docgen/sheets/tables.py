"""What a sign-off sheet's tables are made of: told cells, fields to fill, and rows of them; its blanks that belong to
none; and how tables are set closer and in parts, so that they take less paper and break between rows.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from itertools import zip_longest
from typing import Literal

from docgen.club.words import Words, message
from docgen.sheets.figures import capital
from docgen.sheets.measure import longest_word

HEAD, PADDING = 2.83, 2.9
"""Size of a column's head (8 pt) and its cell's padding on both sides together, mm."""
CHUNK, BESIDE, PAIRED = 2, 2, 6
"""Rows of a table that stay together; boxes of one reading that stand in its row, more of them stand below it; rows of
parts renewed from which on two stand side by side."""
SHARES = (26, 19, 16, 18)
"""Shares of the columns of parts renewed, where two rows stand side by side."""
FieldKind = Literal["text", "date", "checkbox", "area"]
OTHERS = 4
"""Blank lines for parts renewed that nobody expected."""

STRUCK = message("Struck through: a wrong entry gets one line through it and initials beside it, and is named here")
FINDINGS_NOTE = message("What was not as it should be, and what was done about it; write “none” if there was nothing.")
RELEASE = message(
    "The work named here, and only that, was done as its rows say, but for what stands under findings; every "
    "part, cloth and tool is accounted for. The signature approves this work only, not the rest of the engine."
)


@dataclass(frozen=True)
class Field:
    """A place to fill with the pen, or on a tablet.

    name  : key of the mark, then "_" and the part: ``tighten-clutch-nut_wrench``; keys hold no "_"
    title : says to a screen reader, and to whoever fills it, what goes in
    unit  : printed behind it
    """

    name: str
    title: str
    kind: FieldKind = "text"
    unit: str = ""
    label: str = ""


@dataclass(frozen=True)
class Told:
    """What the sheet tells: a text, smaller notes below it, a tag for where the value is from.

    ``filled`` says that it is this engine's own, and differs on the next one's sheet.
    """

    text: str = ""
    notes: tuple[str, ...] = ()
    bold: bool = False
    tag: str = ""
    own: bool = False
    filled: bool = False


Entry = Field | Told | tuple[Field, ...] | tuple[Told, ...]


@dataclass(frozen=True)
class Column:
    """A table's column: its head, and its width as a share of the whole, about a millimetre each.

    A language with longer words gets the room that its longest one needs (:func:`widths`).
    """

    head: str
    share: float
    middle: bool = False


@dataclass(frozen=True)
class Table:
    """One table of the sheet. The first entry of a row names it; a row of one entry belongs to the one above it."""

    key: str
    title: str
    columns: tuple[Column, ...]
    rows: tuple[tuple[Entry, ...], ...]
    note: str = ""

    def __post_init__(self) -> None:
        wrong = [row for row in self.rows if len(row) not in (1, len(self.columns))]
        if wrong:
            raise ValueError(f"table {self.key}: {len(wrong)} rows have not {len(self.columns)} entries")

    @property
    def widths(self) -> tuple[float, ...]:
        """The columns' widths in per cent."""
        return widths((column.head, column.share) for column in self.columns)


Heads = Iterable[tuple[str, float]]


def table_of(key: str, title: str, heads: Heads, rows: Iterable[tuple[Entry, ...]], note: str = "") -> Table:
    """A table with these heads and their shares of the width; a column of ticks has its head over their middle."""
    made = tuple(rows)
    ticked = {n for row in made for n, one in enumerate(row) if isinstance(one, Field) and one.kind == "checkbox"}
    return Table(key, title, tuple(Column(*head, n in ticked) for n, head in enumerate(heads)), made, note)


def widths(heads: Heads) -> tuple[float, ...]:
    """The widths of columns in per cent; what a head's longest word needs beyond its share, the other columns give."""
    columns = [(share, max(share, longest_word(head) * HEAD + PADDING)) for head, share in heads]
    total = sum(share for share, _ in columns)
    spread = sum(share for share, wide in columns if wide == share)
    needed = sum(wide for share, wide in columns if wide > share)
    left = (total - needed) / spread if spread else total / needed
    return tuple(round(100 * (wide if wide > share else share * left) / total, 3) for share, wide in columns)


def blanks(w: Words) -> dict[str, tuple[Field, ...]]:
    """The blanks of every sign-off sheet: each group in one row of boxes."""
    groups: dict[str, tuple[tuple[str, str] | tuple[str, str, FieldKind], ...]] = {
        "work": (("work-started", w("Work started on"), "date"), ("work-completed", w("Work completed on"), "date"),
                 ("engine-hours", w("Engine hours at this work")), ("done-by", w("Work done by (name)"))),
        "first_run": (("after-run-date", w("Date"), "date"), ("after-run-time", w("Running time")),
                      ("after-run-by", w("Checked by"))),
        "also_renewed": tuple((f"also-renewed-{n}", w("Also renewed: part, number")) for n in range(1, OTHERS + 1)),
        "struck": (("struck", w(STRUCK)),),
        "release": (("released-by", w("Released by (name)")), ("released-signature", w("Signature")),
                    ("released-on", w("Date"), "date")),
        "second": (("second-by", w("Second person (name), if any")), ("second-signature", w("Signature")),
                   ("second-on", w("Date"), "date")),
        "next_due": (("next-due-what", w("Next due: what")), ("next-due-hours", w("Due at engine hours")),
                     ("next-due-date", w("Or due on"), "date")),
    }  # fmt: skip
    made = {group: tuple(_blank(*one) for one in fields) for group, fields in groups.items()}
    return made | {"findings": (Field("findings", w("Findings and remarks"), "area"),)}


def identity(w: Words) -> tuple[Field, ...]:
    """What stands in the record, of an engine that is in none yet: to be filled in."""
    asked = (("engine-number", w("Engine")), ("engine-serial", capital(w("serial"))), ("engine-keeper", w("Keeper")),
             ("engine-hours-before", w("Hours on record")))  # fmt: skip
    return tuple(_blank(*one) for one in asked)


def _blank(name: str, label: str, kind: FieldKind = "text") -> Field:
    return Field(name, label, kind, label=label)


def closer(table: Table, words: Words, *, visit: bool = False) -> Table:
    """Jobs, many parts renewed and a visit's checks and readings in two columns; many boxes of one reading in a row of
    their own below it."""
    if visit and table.key == "readings":
        return _paired_readings(table, words)
    if visit and table.key == "renewed":
        number, part, part_number, *others = table.columns
        head = f"{part.head} · {part_number.head}"
        half = (replace(number, share=12), replace(part, head=head, share=46), others[0], replace(others[1], share=22))
        rows = tuple((row[0], _together(row[1], row[2]), *row[3:]) for row in table.rows)
        return _paired(replace(table, columns=half, rows=rows))
    if table.key == "renewed" and len(table.rows) > PAIRED:
        number, *others = table.columns
        narrow = (replace(one, share=share) for one, share in zip(others, SHARES, strict=True))
        return _paired(replace(table, columns=(number, *narrow)))
    if table.key == "jobs" or (visit and table.key in ("closing", "after-run")):
        return _paired(table)
    return replace(table, rows=tuple(row for one in table.rows for row in _with_boxes_below(one, words)))


def _paired_readings(table: Table, words: Words) -> Table:
    """What is accepted and what was read last stand behind the reading's name; those with many boxes come last."""
    number, reading, last, accept, now = table.columns
    few: list[tuple[Entry, ...]] = []
    many: list[tuple[Entry, ...]] = []
    for row_number, name, was, allowed, boxes in table.rows:
        told = _together(name, allowed, was)
        if isinstance(boxes, tuple) and len(boxes) > BESIDE:
            many += [(row_number, told, Told(words("below")), Told(), Told(), Told()), (boxes,)]
        else:
            few.append((row_number, told, _named(boxes)))
    head = replace(reading, head=f"{reading.head} · {accept.head} · {last.head}", share=56)
    half = (replace(number, share=10.5), head, replace(now, share=25))
    pairs = _paired(replace(table, columns=half, rows=tuple(few)))
    return replace(pairs, rows=(*pairs.rows, *many))


def _named(boxes: Entry) -> Entry:
    """Boxes side by side, each with its unit behind its name: beside the box it would leave no room to write."""
    if not isinstance(boxes, tuple) or len(boxes) < BESIDE:
        return boxes
    fields = (one for one in boxes if isinstance(one, Field))
    return tuple(replace(one, label=f"{one.label}, {one.unit}", unit="") if one.unit else one for one in fields)


def _together(*told: Entry) -> tuple[Told, ...]:
    return tuple(replace(one, bold=one.bold and n > 0) for n, one in enumerate(told) if isinstance(one, Told))


def _paired(table: Table) -> Table:
    left = (len(table.rows) + 1) // 2
    pairs = zip_longest(table.rows[:left], table.rows[left:], fillvalue=(Told(),) * len(table.columns))
    return replace(table, columns=table.columns * 2, rows=tuple(a + b for a, b in pairs))


def _with_boxes_below(row: tuple[Entry, ...], words: Words) -> Iterator[tuple[Entry, ...]]:
    boxes = row[-1]
    if isinstance(boxes, tuple) and len(boxes) > BESIDE and all(isinstance(one, Field) and one.label for one in boxes):
        yield (*row[:-1], Told(words("below")))
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
