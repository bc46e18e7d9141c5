"""One sheet on its way into the record as a page in a browser shows it: its boxes, what was read, what is said."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from docgen.club.folder import Folder
from docgen.desk.filing import Paper, understood, write
from docgen.press.fields import Box
from docgen.returns.diagnostic import Refused, Said
from docgen.returns.identity import Sheet
from docgen.returns.parts import OfPart
from docgen.returns.prompts import Prompt, prompts
from docgen.returns.reading import Understood
from docgen.returns.refiling import filed_as
from docgen.returns.report import shown
from docgen.returns.walk import Walk, draft_path, load_draft, save_draft
from docgen.sheets.jinja import fill

if TYPE_CHECKING:
    from docgen.camera.gather import Photographed


@dataclass(frozen=True)
class Asked:
    """One box as the page asks for it.

    label   : what the box is called, with its row; ``told`` what the sheet prints beside it: limits, last value
    state   : of a tick box that was photographed; empty where a person is asked plainly
    page    : where it stands, with ``mm`` left, top, width, height on it; 0 where no picture shows it
    """

    prompt: Prompt
    label: str
    told: str
    value: str
    state: str
    page: int
    mm: tuple[float, float, float, float]


class Entry:
    """A sheet that somebody looks through and files.

    papers : what is kept with the event; ``also`` what the pictures give cause to say
    """

    def __init__(
        self, folder: Folder, sheet: Sheet, today: date, photographed: Photographed | None = None,
        papers: Sequence[Paper] = (), also: tuple[Said, ...] = (),
    ) -> None:  # fmt: skip
        if sheet.job.instructions.parts:
            raise Refused(
                "several-jobs", f"{sheet.text} is the sheet of a visit, and the page asks for one job at a time",
                f"docgen enter {sheet.text} asks for it in the terminal",
            )  # fmt: skip
        self._folder, self.sheet, self._today = folder, sheet, today
        self._papers, self._also, self._photographed = papers, also, photographed
        self._draft = draft_path(folder.root, sheet.number)
        self._walk = Walk(prompts(sheet.job))
        try:
            drafted = load_draft(self._draft, self._walk)
        except ValueError as error:
            raise Refused(
                "draft-unreadable", f"{self._draft} cannot be read: {error}", "delete it, and begin anew"
            ) from None
        if photographed is not None and not drafted:
            self._walk.answers = dict.fromkeys(photographed.ticked, "on")
        self.filed = ""

    @property
    def faces(self) -> dict[int, bytes]:
        """The straightened picture of each page, as JPEG."""
        one = self._photographed
        return {page: shot.shown.jpeg for page, shot in sorted(one.shots.items())} if one else {}

    def page(self) -> str:
        """The page, as HTML. Unclear boxes come first, the others in the order of the paper."""
        rows = [prompt.row for prompt in self._walk.prompts]
        asked = [self._asked(prompt, rows[n - 1 : n] != [prompt.row]) for n, prompt in enumerate(self._walk.prompts)]
        first = [one for one in asked if one.state == "unclear"]
        groups: dict[str, list[Asked]] = {}
        for one in asked:
            if one.state != "unclear":
                groups.setdefault(one.prompt.section.title, []).append(one)
        return fill(
            "entry.html.j2", sheet=self.sheet, told=self.sheet.job.instructions, faces=tuple(self.faces), first=first,
            groups=groups, notes=[f"{one.name}: {one.message}" for one in self._also],
        )  # fmt: skip

    def check(self, answers: Mapping[str, str]) -> dict[str, object]:
        """What the answers come to; they are kept as a draft. Nothing is filed. Errors: StoreError, OSError."""
        answers = self._known(answers)
        self._walk.answers, self._walk.at = dict(answers), len(self._walk.prompts)
        save_draft(self._draft, self._walk)
        one, left = self._understood(answers), self._left(answers)
        return {
            "shown": list(shown(one)),
            "said": [vars(said) for said in (*left, *one.said)],
            "fields": dict(self._fields(answers)),
            "findings": list(one.event.get("findings", ())),
        }

    def file(self, answers: Mapping[str, str], accepted: Sequence[str], closed: Sequence[int]) -> dict[str, object]:
        """File the sheet, unless something stands in the way; what became of it. Errors: StoreError, OSError."""
        answers = self._known(answers)
        one = self._understood(answers, frozenset(closed))
        open_ = [*self._left(answers), *one.refused, *(d for d in one.doubts if d.name not in accepted)]
        if open_:
            return {"filed": "", "said": [vars(said) for said in open_]}
        held = filed_as(self.sheet)
        if held is not None:
            self.filed = held.entry.file
            return {
                "filed": self.filed,
                "said": [],
                "text": f"Already filed, as {held.entry.file}. Nothing was written.",
            }
        done = write(self._folder.root, one, self._papers, self._today)
        self._draft.unlink(missing_ok=True)
        self.filed = done.path.relative_to(self._folder.root).as_posix()
        text = f"Filed: {self.filed}" + (f" ({done.unsure})" if done.unsure else "")
        return {"filed": self.filed, "said": [], "text": text}

    def _understood(self, answers: Mapping[str, str], closed: frozenset[int] = frozenset()) -> Understood:
        return understood(self._folder, OfPart(self.sheet, answers, whole=True), self._today, self._also, closed)

    def _known(self, answers: Mapping[str, str]) -> dict[str, str]:
        names = {prompt.field for prompt in self._walk.prompts}
        return {name: text for name, text in answers.items() if name in names}

    def _left(self, answers: Mapping[str, str]) -> list[Said]:
        """The unclear boxes of which nobody has said yet what they are."""
        unclear = self._photographed.unclear if self._photographed else ()
        asked = {prompt.field: prompt for prompt in self._walk.prompts}
        return [
            Said(
                "refused",
                "unclear-box",
                f"{_label(asked[name]).rstrip('.')}: ticked or not?",
                "look at the picture, and say which",
                name,
            )
            for name in unclear
            if name in asked and name not in answers
        ]

    def _fields(self, answers: Mapping[str, str]) -> list[tuple[str, str]]:
        """What is to be said beside a box: how a figure was understood, and what the limits say of it."""
        found = []
        for prompt in self._walk.prompts:
            try:
                said = prompt.take(answers.get(prompt.field, ""))[1]
            except Refused as refused:
                said = refused.said.message
            if said:
                found.append((prompt.field, said))
        return found

    def _asked(self, prompt: Prompt, first: bool) -> Asked:
        """A box as the page asks for it. first: of its row; what the row says is said there, limits beside each."""
        page, box = self._place(prompt.field)
        state = ""
        if self._photographed is not None and prompt.kind == "tick":
            state = "unclear" if prompt.field in self._photographed.unclear else "read"
        told = " · ".join(prompt.row.told) if first or state == "unclear" or prompt.kind == "figure" else ""
        mm = box.mm if box else (0.0, 0.0, 0.0, 0.0)
        return Asked(prompt, _label(prompt), told, self._walk.answers.get(prompt.field, ""), state, page, mm)

    def _place(self, name: str) -> tuple[int, Box | None]:
        for page, boxes in self._photographed.pages.items() if self._photographed else ():
            if page in self.faces:
                for box in boxes:
                    if box.name == name:
                        return page, box
        return 0, None


def _label(prompt: Prompt) -> str:
    """What a box is called: its row, with the number that it has on the paper, and which of the row's boxes it is."""
    row, form = prompt.row, "" if prompt.kind == "tick" else prompt.form
    named = row.name if prompt.alone or not prompt.label else f"{row.name.rstrip('.')}: {prompt.label}"
    return " ".join(filter(None, (row.label, named, f"({form})" if form else "")))
