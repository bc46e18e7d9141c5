"""Photographs and scans of signed sheets: sorted, then each sheet looked through by a person, and filed."""

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import replace
from pathlib import Path

from docgen.camera.gather import Photographed, gather
from docgen.camera.shot import ENDINGS
from docgen.club.problem import visible
from docgen.club.store import StoreError
from docgen.desk.asking import Page, Unanswered
from docgen.desk.filing import Paper
from docgen.desk.inbox import is_picture
from docgen.desk.settling import Clerk, Settled
from docgen.desk.system import given_file
from docgen.desk.walking import KEPT, WORDS, Stopped, ask, file_typed
from docgen.returns.diagnostic import Refused, Said
from docgen.returns.prompts import prompts
from docgen.returns.refiling import filed_as
from docgen.returns.report import said_lines
from docgen.returns.sandbox import PICTURE_BYTES, Reader
from docgen.returns.walk import Walk, draft_path, load_draft

_NO_SHEET = frozenset({"no-code", "not-our-sheet", "not-a-sign-off"})


def file_pictures(
    clerk: Clerk, pictures: Mapping[Path, bool], engine: str, page: Page | None
) -> Iterator[tuple[Path, Settled]]:
    """Look through pictures, say what they show, and have each sheet looked at by a person and filed.

    pictures : each with whether it was named; of a PDF that only lies in a folder and shows no sheet, nothing is said
    page     : where each is looked at, and not in the terminal
    The pictures themselves are never changed, moved or deleted. Errors: Unanswered.
    """
    files: list[tuple[Path, bytes]] = []
    for path, named in pictures.items():
        try:
            files.append((path, given_file(path, PICTURE_BYTES, named=named)))
        except Refused as refused:
            clerk.who.say(f"\n{visible(str(path))}")
            yield path, clerk.refusal(refused)
    perhaps = {path for path, named in pictures.items() if not named and not is_picture(path)}
    try:
        yield from _of_sheets(clerk, files, engine, page, perhaps)
    except StoreError as error:
        yield next(iter(pictures)), clerk.refusal(error)


def _of_sheets(
    clerk: Clerk, files: Sequence[tuple[Path, bytes]], engine: str, page: Page | None, perhaps: Collection[Path]
) -> Iterator[tuple[Path, Settled]]:
    with Reader(what="picture") as reader:
        found = gather(files, clerk.folder, reader, engine)
    for path, one in found.said:
        if path not in perhaps or one.name not in _NO_SHEET:
            clerk.who.say("\n".join((f"\n{visible(str(path))}", *said_lines((one,)))))
            if one.weight == "refused":
                yield path, Settled("not filed", said=(one,))
    for sheet in found.sheets:
        first = sheet.shots[min(sheet.shots)].path
        try:
            yield first, _one(replace(clerk, also=(*clerk.also, *_not_shown(sheet))), sheet, page)
        except Refused as refused:
            yield first, clerk.refusal(refused)


def _one(clerk: Clerk, one: Photographed, page: Page | None) -> Settled:
    who, sheet, engine = clerk.who, one.sheet, one.sheet.number.engine
    held = filed_as(sheet)
    if held is not None and not clerk.correct:
        who.say(f"\n{sheet.text} is already filed, as {held.entry.file}. Nothing was written.")
        return Settled("already filed", sheet.text, engine, (), held.entry.file)
    who.say(
        f"\n{sheet.text}  {sheet.job.instructions.title}, engine {engine}: "
        f"{len(one.ticked)} boxes ticked, {len(one.unclear)} to look at"
        + "".join(f"; no picture shows page {page}" for page in one.missing)
    )
    if who.quiet:
        raise Refused("not-looked-at", "what is written by hand is not read by the program: somebody must look at it",
                      "leave --yes out, and type the readings beside their pictures")  # fmt: skip
    if page is None or clerk.correct:
        return _typed(clerk, one)
    filed = page(clerk.folder, sheet, clerk.today, one, _papers(one), clerk.also)
    events = ", ".join(file.rpartition("/")[2] for file in filed)
    return Settled("filed" if filed else "not filed", sheet.text, engine, event=events)


def _not_shown(one: Photographed) -> tuple[Said, ...]:
    """The doubts about a sheet of which pages are missing."""
    return tuple(
        Said("doubt", "page-not-shown", f"no picture shows page {page} of {one.sheet.text}",
             "take one, or type in what stands on it; the paper itself is then kept in part only")
        for page in one.missing
    )  # fmt: skip


def _papers(one: Photographed) -> tuple[Paper, ...]:
    """The pictures that are kept with the event."""
    return tuple(
        Paper(shot.data, ENDINGS.get(shot.path.suffix.lower().lstrip("."), "pdf"), page)
        for page, shot in sorted(one.shots.items())
    )


def _typed(clerk: Clerk, one: Photographed) -> Settled:
    """The same prompts as for a sheet that is typed in; what is ticked beyond doubt stands there already."""
    walk, path = Walk(prompts(one.sheet.job)), draft_path(clerk.folder.root, one.sheet.number)
    try:
        if not load_draft(path, walk):
            walk.answers = dict.fromkeys(one.ticked, "on")
        clerk.who.say(WORDS)
        ask(clerk.who, walk, path)
        return file_typed(clerk, one.sheet, walk, path, _papers(one))
    except (Stopped, Unanswered):
        clerk.who.say(KEPT)
        return Settled("not filed", one.sheet.text, one.sheet.number.engine)
