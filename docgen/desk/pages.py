"""Pages that are printed together: all of them or none, then each is laid where it belongs."""

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from docgen.club.files import bounded
from docgen.club.folder import Folder
from docgen.club.placement import lay
from docgen.desk.choosing import Unprinted
from docgen.press.meta import Order, Pressed
from docgen.press.orders import plain_order
from docgen.press.workers import press_all
from docgen.sheets.page import Page

MOST = 4 << 20
"""Largest file that is looked through, bytes."""
PLACES = ("procedures", "models", "engines/{engine}", "club.yaml", "glossary.yaml")


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


def with_place(root: Path, fault: str, engine: str = "") -> str:
    """The fault, with a line that says where to change what it quotes, where one of the club's files holds that."""
    place = whereabouts(root, fault, engine)
    return f"{fault}\n  it stands in {place}" if place else fault


def whereabouts(root: Path, fault: str, engine: str = "") -> str:
    """The file and line of the first quoted words that one of the club's files holds; empty where none does.

    engine : the one whose record is looked through; without it, all
    Words that a fault has cut short, with ``...``, are sought by their beginning.
    """
    for quoted in re.findall(r'"([^"]+)"', fault):
        words = quoted.removesuffix("...").split()
        if not words:
            continue
        sought = re.compile(r"\s+".join(map(re.escape, words)))
        for path, text in _texts(root, engine):
            if found := sought.search(text):
                return f"{path.relative_to(root).as_posix()}, line {text.count(chr(10), 0, found.start()) + 1}"
    return ""


def _texts(root: Path, engine: str) -> Iterator[tuple[Path, str]]:
    for place in PLACES:
        path = root / place.format(engine=engine)
        files = sorted(path.rglob("*")) if path.is_dir() else [path]
        for file in files:
            if file.suffix in (".yaml", ".md") and "issued" not in file.parts:
                try:
                    yield file, bounded(file, MOST).decode()
                except (OSError, UnicodeDecodeError):
                    continue
