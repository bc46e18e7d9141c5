"""The questions of a guided entry, in the order of the paper, and what each will take."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from docgen.job import marks as m
from docgen.job.job import Job
from docgen.job.wording import band
from docgen.returns.diagnostic import Refused
from docgen.returns.layout import LayoutRow, Section, sections
from docgen.returns.measurements import WORDS, judge
from docgen.returns.numbers import read_figure
from docgen.returns.writing import one_line, read_date, read_hours
from docgen.sheets.entries import expected, marked
from docgen.sheets.tables import Field
from docgen.trade.units import units

Kind = Literal["text", "tick", "date", "hours", "figure", "lines"]
Answered = tuple[dict[str, str], str]
"""The fields that an answer fills, and what was understood where that is not what was typed."""
_YES = frozenset({"y", "yes", "x", "ok", "done", "tick", "ticked", "1", "on"})
_NO = frozenset({"n", "no", "0", "off"})
_FORMS: dict[str, tuple[str, str]] = {
    "tick": ("Done", "y or n"),
    "date": ("Date", "year-month-day"),
    "hours": ("Hours", "h"),
    "figure": ("Reading", ""),
    "text": ("Text", ""),
}
"""What a box without a name of its own is called, and the form of an answer."""


@dataclass(frozen=True)
class Prompt:
    """One question. ``unit`` is the symbol of the unit behind the box; ``mark`` the reading's, for its limits;
    ``needs`` the box without whose tick it is not asked; ``wrench`` says that it asks for one."""

    section: Section
    row: LayoutRow
    field: str
    label: str
    kind: Kind
    unit: str = ""
    mark: m.ReadingMark | None = None
    needs: str = ""
    wrench: bool = False

    @property
    def alone(self) -> bool:
        """Whether the box is its whole row, and nothing is printed beside it."""
        return len(self.row.fields) == 1 and not self.row.told

    @property
    def asks(self) -> str:
        """The question in words."""
        name, _ = _FORMS.get(self.kind, ("", ""))
        what = f"  {self.row.name}" if self.alone else f"    {self.label or name}"
        return f"{what} ({self.form})" if self.form else what

    @property
    def form(self) -> str:
        """The unit, or the form of an answer; empty where any words do."""
        return self.unit or _FORMS.get(self.kind, ("", ""))[1]

    def take(self, typed: str) -> Answered:
        """The fields that an answer fills, and what was understood where that is not what was typed.

        Errors: Refused when the answer does not fit the box.
        """
        text = typed.strip()
        if not text:
            return {self.field: ""}, ""
        if self.kind == "tick":
            return {self.field: "on" if _yes(text) else ""}, ""
        if self.kind == "date":
            return {self.field: text}, read_date(text)[1]
        if self.kind == "hours":
            return {self.field: text}, read_hours(text).said
        if self.kind == "figure":
            return {self.field: text}, self._judged(text)
        return {self.field: one_line(text)}, ""

    def _judged(self, text: str) -> str:
        found = read_figure(text, self.unit)
        verdict = judge(self.mark, (found.quantity,)) if self.mark else None
        printed = band(self.mark.limit_band) if self.mark and self.mark.limit_band else ""
        return "; ".join(filter(None, (found.said, f"{WORDS[verdict]} {printed}" if verdict else "")))

    def shown(self, answers: Mapping[str, str]) -> str:
        """What was answered before, as it would be typed."""
        text = answers.get(self.field, "")
        return "y" if self.kind == "tick" and text else text


def prompts(job: Job) -> tuple[Prompt, ...]:
    """Every question of a job's sign-off sheet, in its order."""
    figures, needs = _figures(job), {one.how_box: one.done_box for one in job.issue.listed_findings}
    needs |= {mark.number_box: mark.renewed_box for _, mark in expected(job.instructions)}
    wrenches = {mark.wrench_box for _, mark in marked(job.instructions, m.TorqueMark)}
    found: list[Prompt] = []
    for section in sections(job):
        for row in section.rows:
            for one in row.fields:
                (unit, mark), at = figures.get(one.name, ("", None)), one.name
                found.append(
                    Prompt(section, row, at, _label(row, one), _kind(one, unit), unit, mark, needs.get(at, ""),
                           at in wrenches)
                )  # fmt: skip
    return tuple(found)


def _kind(one: Field, unit: str) -> Kind:
    if unit:
        return "figure"
    if one.kind == "checkbox":
        return "tick"
    if one.kind == "area":
        return "lines"
    return "date" if one.kind == "date" else "hours" if one.name in ("engine-hours", "next-due-hours") else "text"


def _label(row: LayoutRow, one: Field) -> str:
    """What to call a box under its row's name."""
    start, _, rest = one.title.partition(": ")
    named_first = start.casefold() == row.name.casefold()
    return one.label if len(row.fields) > 1 and one.label else (rest if named_first else start) if rest else ""


def _figures(job: Job) -> dict[str, tuple[str, m.ReadingMark | None]]:
    """The unit of each box for a figure, and for a reading its mark."""
    found: dict[str, tuple[str, m.ReadingMark | None]] = {}
    for _, reading in marked(job.instructions, m.ReadingMark):
        found |= dict.fromkeys(reading.boxes, (reading.unit, reading))
    settings = (mark for _, mark in marked(job.instructions, m.SettingMark) if mark.unit in units())
    return found | {mark.value_box: (mark.unit, None) for mark in settings}


def _yes(text: str) -> bool:
    folded = text.casefold()
    if folded not in _YES | _NO:
        raise Refused("not-an-answer", f'"{text[:20]}" is neither yes nor no', "type y, n, or Enter for blank")
    return folded in _YES
