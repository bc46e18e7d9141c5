"""One sheet on its way into the record as a page in a browser shows it: its boxes, what was read, what is said."""

from __future__ import annotations

import contextlib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import TYPE_CHECKING

from docgen.club.folder import Folder
from docgen.club.readlog import read_log
from docgen.club.store import StoreError
from docgen.desk.filing import Looked, Paper, diagnostics, looked, not_written, stays_open, waiting, write
from docgen.job.job import Part
from docgen.press.fields import FieldBox
from docgen.returns.diagnostic import Refused, Said
from docgen.returns.identity import IssuedSheet
from docgen.returns.parts import OfPart, parts
from docgen.returns.prompts import Prompt, prompts
from docgen.returns.report import report_lines
from docgen.returns.walk import Walk, done_with, draft_path, load_draft, save_draft
from docgen.sheets.jinja import fill

if TYPE_CHECKING:
    from docgen.camera.gather import Photographed

_KEPT = "What was typed is kept."


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
    filed  : the entries of the log, once all that is complete is there; ``text`` what became of it, in words
    """

    def __init__(
        self, folder: Folder, sheet: IssuedSheet, today: date, photographed: Photographed | None = None,
        papers: Sequence[Paper] = (), also: tuple[Said, ...] = (),
    ) -> None:  # fmt: skip
        self._folder, self.sheet, self._today = folder, sheet, today
        self._papers, self._also, self._photographed = papers, also, photographed
        self._draft = draft_path(folder.root, sheet.number)
        self._walk = Walk(prompts(sheet.job))
        if not load_draft(self._draft, self._walk) and photographed is not None:
            self._walk.answers = dict.fromkeys(photographed.ticked, "on")
        self.filed: tuple[str, ...] = ()
        self.text = f"Not filed. {_KEPT}"

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
        """What the answers come to; they are kept as a draft. Nothing is filed. Errors: StoreError, OSError.

        ready : whether anything can be filed as it stands: a sheet, or the first jobs of a visit
        """
        answers = self._known(answers)
        self._walk.answers, self._walk.at = dict(answers), len(self._walk.prompts)
        save_draft(self._draft, self._walk)
        found, still_open, said = self._looked(answers)
        new, left = [one for one in found if not one.already], self._left(answers)
        lines = [line for one in found for line in ((one.already,) if one.already else report_lines(one.one))]
        return {
            "shown": [*lines, *map(stays_open, still_open)],
            "said": [vars(one) for one in (*left, *said)],
            "fields": dict(self._fields(answers)),
            "findings": [text for one in new for text in one.findings],
            "ready": not left and bool(found) and not any(one.against for one in new[:1]),
        }

    def file(self, answers: Mapping[str, str], accepted: Sequence[str], closed: Sequence[int]) -> dict[str, object]:
        """File the sheet, unless something stands in the way; what became of it.

        Of the sheet of a visit each complete job is filed by itself, one after the other; those behind one that is not
        filed wait.
        closed : which of the findings that ``check`` listed, from 1, need nothing more
        """
        answers = self._known(answers)
        found, still_open, said = self._looked(answers)
        left = self._left(answers)
        against = [] if found else [*left, *said]
        files, lines, listed = [], [], 0
        for one in found:
            if one.held and one.already:
                files.append(one.held.entry.document.path)
                lines.append(one.already)
                continue
            own = frozenset(n - listed for n in closed if n > listed)
            listed += len(one.findings)
            against = [*left, *one.against, *(doubt for doubt in one.one.doubts if doubt.name not in accepted)]
            if against:
                break
            try:
                done = write(self._folder.root, self._look(one.part, own).one, self._papers, self._today)
            except (StoreError, OSError) as error:
                against = [not_written(error)]
                break
            files.append(done.path.relative_to(self._folder.root).as_posix())
            lines.append(f"Filed: {files[-1]}" + (f" ({done.unsure})" if done.unsure else ""))
        self._now()
        if against:
            self.text = "\n".join((*lines, f"{'The rest is not filed.' if lines else 'Not filed.'} {_KEPT}"))
            behind = waiting([one.part for one in found[len(files) + 1 :]])
            notes = [Said("note", "filed", line) for line in lines] + [Said("note", "waits", behind)] * bool(behind)
            return {"filed": "", "said": [vars(one) for one in (*against, *notes)]}
        # A draft that cannot be taken away does no harm: the sheet is known as filed.
        with contextlib.suppress(StoreError, OSError):
            self._walk.answers = dict(answers)
            done_with(self._draft, self._walk, next((part.box for part in still_open), ""))
        self.filed, self.text = tuple(files), "\n".join((*lines, *map(stays_open, still_open)))
        return {"filed": ", ".join(files), "said": [], "text": self.text}

    def _looked(self, answers: Mapping[str, str]) -> tuple[list[Looked], tuple[Part, ...], list[Said]]:
        """The sheet, or each complete job of a visit; the jobs that stay open; what is said of what is not filed."""
        try:
            found, still_open = parts(self.sheet, answers)
        except Refused as refused:
            return [], (), [refused.said]
        every = [self._look(part) for part in found]
        return every, still_open, diagnostics([one for one in every if not one.already])

    def _look(self, part: OfPart, closed: frozenset[int] = frozenset()) -> Looked:
        return looked(self._folder, part, self._today, self._also, closed)

    def _now(self) -> None:
        """Hold what comes next against the log as it is now."""
        log, _ = read_log(self._folder.root, self.sheet.number.engine)
        self.sheet = replace(self.sheet, record=replace(self.sheet.record, log=log))

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

    def _place(self, name: str) -> tuple[int, FieldBox | None]:
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
