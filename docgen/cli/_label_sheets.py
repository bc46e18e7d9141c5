"""Onto which label sheet labels go, and the printing of them."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

import click

from docgen.cli._saying import counted, stop
from docgen.club.folder import Folder
from docgen.club.problem import Problem, close_name

if TYPE_CHECKING:
    from docgen.club.words import Words
    from docgen.sheets.labelgrid import LabelSheet
    from docgen.sheets.labels import Label

DEFAULTS = {
    "A4": {"parts": "2x4", "old": "2x4", "spares": "2x7", "fuel": "2x4", "tag": "2x2"},
    "Letter": {"parts": "2x3", "old": "2x3", "spares": "2x5", "fuel": "2x3", "tag": "2x3"},
}
"""The label sheet that each kind of label is printed on, by the club's paper."""
MOST = 400
"""Labels in one print."""


def words_of(folder: Folder) -> Words:
    """The words of the pages in the club's language."""
    from docgen.club.words import Words

    return Words.speaking(folder.club.value.language)


def known_sheets(folder: Folder) -> dict[str, LabelSheet]:
    """The label sheets by name; ends with 1 where the club's own are faulty."""
    from docgen.club.beside import read_label_sheets
    from docgen.sheets.labelgrid import label_sheet, misfits, shipped

    own, problems = read_label_sheets(folder)
    found = shipped()
    if own is not None:
        for name, grid in own.value.sheets.items():
            made = label_sheet(name, grid)
            problems += [_misfit(own.document.problem, name, fault) for fault in misfits(made)]
            found[name] = made
    if problems:
        stop(sorted(problems))
    return found


def _misfit(problem: Callable[..., Problem], name: str, fault: tuple[str, str, str]) -> Problem:
    key, kebab, sentence = fault
    hint = "measure the label sheet: left and top to the first label, across and down from edge to edge"
    return problem(("sheets", name, key), kebab, f"{name}: {sentence}", hint)


def print_labels(
    folder: Folder, kind: str, labels: list[Label], on: date, *, sheet_name: str | None, start: int, outline: bool,
    out: Path | None, where: str = "",
) -> None:  # fmt: skip
    """Print labels of one kind from a position of a label sheet on. Errors: click.UsageError, in the user's words."""
    from docgen.cli._pages import Wish, print_pages
    from docgen.press.orders import plain_order
    from docgen.sheets.labels import LabelError, labels_page

    club, w = folder.club.value, words_of(folder)
    known = known_sheets(folder)
    name = sheet_name or DEFAULTS[club.paper][kind]
    if name not in known:
        close = close_name(name, list(known))
        meant = f'; did you mean "{close}"?' if close else ""
        raise click.UsageError(f'there is no label sheet "{name}"{meant}; docgen labels sheets lists them')
    if len(labels) > MOST:
        raise click.UsageError(f"these would be {len(labels)} labels: name fewer jobs; at most {MOST} in one print")
    title = w("Labels: {what}", what=" ".join(filter(None, (kind, where))))
    try:
        page = labels_page(labels, known[name], start, club, title, outline=outline)
    except LabelError as error:
        raise click.UsageError(str(error)) from None
    file = "-".join(filter(None, (where, "labels", kind))) + ".pdf"
    order = plain_order(
        f"{counted(len(labels), 'label')} ({kind}) from position {start}", page, club.club, on, ("labels", kind, where)
    )
    print_pages([Wish(order, (out or folder.root / "out") / where / file)])
