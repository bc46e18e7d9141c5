"""Pages that are printed together: all of them or none, then each is laid where it belongs."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from docgen.club.folder import Folder
from docgen.club.placement import lay
from docgen.desk.choosing import Unprinted
from docgen.desk.whereabouts import with_place
from docgen.press.meta import Order, Pressed
from docgen.press.orders import plain_order
from docgen.press.workers import press_all
from docgen.sheets.page import Page


@dataclass(frozen=True)
class Wish:
    """A page to print: its order for the press, whose key says what it is, and where it goes."""

    order: Order
    path: Path


def wish(folder: Folder, says: str, page: Page, on: date, marks: Sequence[str], path: Path) -> Wish:
    """A page that is no job's numbered sheet, made for the day `on`, with its marks among the file's keywords."""
    return Wish(plain_order(says, page, folder.club.value.club, on, tuple(marks)), path)


@dataclass(frozen=True)
class Laid:
    """A page that lies in its place.

    says  : what it is
    aside : the new name of what lay there, where that was not a print of docgen's
    """

    says: str
    path: Path
    pages: int
    aside: Path | None


def pressed(root: Path, orders: Sequence[Order]) -> list[Pressed]:
    """The orders' documents. Errors: Unprinted, with every fault of every one."""
    outcomes = press_all(orders)
    if faults := [with_place(root, f"{each.key}: {fault}") for each in outcomes for fault in each.faults]:
        raise Unprinted(faults)
    return [outcome.pressed for outcome in outcomes if outcome.pressed is not None]


def print_all(root: Path, wishes: Sequence[Wish]) -> list[Laid]:
    """Print pages, and lay each in its place. Errors: Unprinted, and then nothing is laid; OSError."""
    made = pressed(root, [wish.order for wish in wishes])
    return [
        Laid(wish.order.key, wish.path, one.pages, lay(wish.path, one.pdf))
        for wish, one in zip(wishes, made, strict=True)
    ]
