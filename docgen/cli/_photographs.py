"""Photographs and scans of signed sheets, as `docgen file` takes them: sorted, then looked at one by one."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import replace
from pathlib import Path

import click

from docgen.camera.gather import Photographed, gather
from docgen.camera.shot import ENDINGS, lacking
from docgen.cli._page import on_page
from docgen.cli._settle import Settled, State, Wishes, refusal
from docgen.cli._walking import WORDS, Stopped, ask, file_typed
from docgen.club.folder import Folder
from docgen.club.problem import visible
from docgen.desk.entry import Entry
from docgen.desk.filing import Paper
from docgen.returns.apart import Reader
from docgen.returns.diagnostic import Refused, Said
from docgen.returns.prompts import prompts
from docgen.returns.refiling import filed_as
from docgen.returns.report import said_lines
from docgen.returns.walk import Walk, draft_path, load_draft

_NO_SHEET = frozenset({"no-code", "not-our-sheet", "not-a-sign-off"})


def file_photographs(
    folder: Folder, files: Sequence[tuple[Path, bytes]], engine: str, wishes: Wishes, page: bool,
    perhaps: Collection[Path] = (),
) -> list[tuple[Path, Settled]]:
    """Look through pictures, say what they show, and have each sheet looked at by a person and filed.

    page    : look at each on a page in the browser, and not in the terminal
    perhaps : files of which nothing is said where they show no sheet
    The pictures themselves are never changed, moved or deleted. Errors: StoreError, OSError.
    """
    if way := lacking():
        raise click.ClickException(way)
    with Reader(what="picture") as reader:
        found = gather(files, folder, reader, engine)
    said = [(path, one) for path, one in found.said if path not in perhaps or one.name not in _NO_SHEET]
    for path, one in said:
        wishes.say("\n".join((f"\n{visible(str(path))}", *said_lines((one,)))))
    settled = [(path, Settled("not filed", said=(one,))) for path, one in said if one.weight == "refused"]
    for sheet in found.sheets:
        first = sheet.shots[min(sheet.shots)].path
        try:
            settled.append((first, _one(folder, sheet, wishes, page)))
        except Refused as refused:
            settled.append((first, refusal(refused, wishes)))
    return settled


def _one(folder: Folder, one: Photographed, wishes: Wishes, page: bool) -> Settled:
    held = filed_as(one.sheet)
    if held is not None and not wishes.correct:
        wishes.say(f"\n{one.sheet.text} is already filed, as {held.entry.file}. Nothing was written.")
        return Settled("already filed", one.sheet.text, one.sheet.number.engine, (), held.entry.file)
    wishes.say(
        f"\n{one.sheet.text}  {one.sheet.job.instructions.title}, engine {one.sheet.number.engine}: "
        f"{len(one.ticked)} boxes ticked, {len(one.unclear)} to look at"
        + "".join(f"; no picture shows page {page}" for page in one.missing)
    )
    wishes = replace(wishes, also=(*wishes.also, *not_shown(one)))
    if wishes.yes:
        return refusal(
            Refused("not-looked-at", "what is written by hand is not read by the program: somebody must look at it",
                    "leave --yes out, and type the readings beside their pictures"), wishes,
        )  # fmt: skip
    return _in_browser(folder, one, wishes) if page and not wishes.correct else _in_terminal(folder, one, wishes)


def not_shown(one: Photographed) -> tuple[Said, ...]:
    """The doubts about a sheet of which pages are missing."""
    return tuple(
        Said("doubt", "page-not-shown", f"no picture shows page {page} of {one.sheet.text}",
             "take one, or type in what stands on it; the paper itself is then kept in part only")
        for page in one.missing
    )  # fmt: skip


def papers_of(one: Photographed) -> tuple[Paper, ...]:
    """The pictures that are kept with the event."""
    return tuple(
        Paper(shot.data, ENDINGS.get(shot.path.suffix.lower().lstrip("."), "pdf"), page)
        for page, shot in sorted(one.shots.items())
    )


def _in_browser(folder: Folder, one: Photographed, wishes: Wishes) -> Settled:
    entry = Entry(folder, one.sheet, wishes.today, one, papers_of(one), wishes.also)
    state: State = "filed" if on_page(entry) else "not filed"
    wishes.say(entry.text)
    events = ", ".join(file.rpartition("/")[2] for file in entry.filed)
    return Settled(state, one.sheet.text, one.sheet.number.engine, event=events)


def _in_terminal(folder: Folder, one: Photographed, wishes: Wishes) -> Settled:
    """The same prompts as for a sheet that is typed in; what is ticked beyond doubt stands there already."""
    walk = Walk(prompts(one.sheet.job))
    path = draft_path(folder.root, one.sheet.number)
    try:
        if not load_draft(path, walk):
            walk.answers = dict.fromkeys(one.ticked, "on")
        wishes.say(WORDS)
        ask(walk, path)
        return file_typed(folder, one.sheet, walk, path, wishes, papers_of(one))
    except (Stopped, click.Abort):
        wishes.say("\nKept. The same command goes on from here.")
        return Settled("not filed", one.sheet.text, one.sheet.number.engine)
