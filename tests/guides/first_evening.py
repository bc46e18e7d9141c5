"""A preparer's first evening with an engine type of his own, typed at a terminal and counted.

`python -m tests.guides.first_evening --accept` writes what was said into docs/first-evening.md.
"""

from __future__ import annotations

import re
import sys
import tempfile
from collections.abc import Sequence
from dataclasses import dataclass, field
from pathlib import Path

import pymupdf

from tests.guides.terminal import ROOT, Typed, typed

PAGE = ROOT / "docs/first-evening.md"
DAY, SHEET = "2027-02-20", r"11-CLU-\d\d-001-S1-"
CLUB, MODEL = "ours", "rowan-100a"
READINGS = {"Thickness": "1,95", "along": "74.10", "across": "74.12", "Diameter over": "73.10", "Clutch cl": "1.00",
            "End float": "0.30", "Slack": "13", "Speed": "3400"}  # fmt: skip
WORDS = {
    "begin": """\
# The first evening

You have kart engines of a type that docgen does not know, and an evening. At its end the first sheet is filled in,
filed, and in the record. A test types this page at a terminal and counts: every line below a `$` is what docgen
said. You need docgen set up (`./run setup`).""",
    "club": """\
## A club

A club is a folder. Take along the engine type that is most like yours; its jobs come with it.""",
    "model": """\
## Your engine type

Yours is an air-cooled 100 without a starter, its clutch held by a circlip. Say that it is like the Alder, and only
what differs is asked. Figures of another maker are left blank: on the sheet stands *see the maker's manual*, until
you write your own into the type's file. Each line of the file explains itself; look through what covers what, and
which way round. The rows keep the words of the job: where one says *nut* and yours is a circlip, change that row in
the job's file.""",
    "engines": """\
## Two engines, and what you remember of them

What was done before the record begins is said in a line. What you do not know stays unknown: a chain that may run
10 h has no age on an engine that came with 31 h, until you say one.""",
    "sheet": """\
## The first sheet

Two papers: the leaf to laminate, and the sheet to sign.""",
    "record": """\
## Filled in by pen, and typed in

All went as the sheet asks for: `y`. Only the readings, the wrench, the second look and the findings are asked for.""",
    "after": """\
It ran on Sunday. The checks after the first run are added; nothing is done again.""",
    "parcel": """\
## A parcel from another club

Slate Hollow send two jobs. You have changed the title of one, they a reason in it: you get theirs with your change
in it.""",
}
"""What the page says between the commands."""
_ISSUE = re.compile(r"(?<=issue )[0-9a-f]{12}|(?<=service-)[0-9a-f]{12}|(?<=correction-)[0-9a-f]{12}")
_RATE = re.compile(r"  [0-9.]+ sheets a (second|minute)")


Answer = tuple[str, str]
"""What a question ends with, and what is typed."""


@dataclass
class Evening:
    """The evening so far: the page as it is told, and each command by a name."""

    root: Path
    lines: list[str] = field(default_factory=list)
    said: dict[str, Typed] = field(default_factory=dict)

    def tell(self, text: str) -> None:
        """A paragraph."""
        self.lines.append(f"{text}\n")

    def type(
        self, name: str, folder: str, words: Sequence[str], answers: Sequence[Answer] = (), *, shown: bool = True
    ) -> Typed:
        """A command, with its answers."""
        one = self.said[name] = typed(self.root / folder, words, answers)
        if shown:
            command = " ".join(f'"{word}"' if " " in word else word for word in words)
            screen = _ISSUE.sub("…", _RATE.sub("", one.screen).replace(f"{self.root}/", "")).rstrip()
            self.lines.append(f"```\n$ docgen {command}\n{screen}\n```\n")
        return one

    def count(self, *names: str) -> tuple[int, int]:
        """Prompts and keys of some commands together."""
        return sum(self.said[n].prompts for n in names), sum(self.said[n].keys for n in names)


def evening(root: Path) -> Evening:
    """The whole of it."""
    one = Evening(root)
    _club(one)
    _model(one)
    _engines(one)
    _sheet(one)
    _record(one)
    _parcel(one)
    return one


def _club(one: Evening) -> None:
    one.tell(WORDS["begin"])
    one.tell(WORDS["club"])
    one.type("club", ".", ["new", "club", CLUB],
             [("What is the club called", "Marsh Lane Karters"), ("Paper", ""), ("Take along", "alder-100r")])


def _model(one: Evening) -> None:
    one.tell(WORDS["model"])
    one.type("model", CLUB, ["new", "model", MODEL, "--like", "alder-100r"], [
        ("What it is called", "Rowan 100A"), ("The maker's manual", "Rowan 100A handbook"), ("Swept volume", ""),
        ("What it has not", "electric-start battery"), ("What it has besides", ""), ("Torques, limits", ""),
        ("What differs", "clutch-nut catch=clip"), ("What differs", "clutch-nut name=circlip of the clutch"),
        ("What differs", ""),
    ])  # fmt: skip


def _engines(one: Evening) -> None:
    one.tell(WORDS["engines"])
    for number, hours, before in (
        ("11", "31 h", "clutch-hub new in September 2026, 3 h ago; chain 6 h; POP October 2026"),
        ("12", "8,5 h", "PLU 2 h"),
    ):
        one.type(f"engine {number}", CLUB, ["new", "engine", number, "--received", DAY], [
            ("Which engine type", MODEL), ("Who looks after it", "Jo Ash"), ("Serial number", ""),
            ("Hours that it has run", hours), ("Done or renewed before", before),
        ])  # fmt: skip
    one.type("due", CLUB, ["due", "11", "--on", DAY])


def _sheet(one: Evening) -> None:
    one.tell(WORDS["sheet"])
    one.type("print", CLUB, ["print", "11", "--job", "CLU", "--on", DAY])


def _record(one: Evening) -> None:
    one.tell(WORDS["record"])
    number = sheet_number(one.root)
    boxes = list(READINGS.items())
    one.type("enter", CLUB, ["enter", number, "--on", DAY], [
        ("Work done and released by", "Jo Ash"), ("All so?", "y"), *VALUES, *boxes,
        ("Who looked at it second", "18:30"), ("one finding a line", ""), ("Write this into the record", "y"),
    ])  # fmt: skip
    one.tell(WORDS["after"])
    one.type("after", CLUB, ["enter", number, "--after-run", "--on", "2027-02-21"],
             [("Checked by", ""), ("How long it ran", "36 min"), ("All 3 made", "y")])  # fmt: skip


VALUES = [("see the maker", "4 N.m"), ("Wrench used", ""), ("see the maker", "9 N.m")]
"""Where the maker's figure is not known, the torque that was used is written on the sheet."""


def sheet_number(root: Path) -> str:
    """The number on the foot of the sign-off sheet."""
    with pymupdf.open(root / CLUB / "out/11/11-CLU-sign-off.pdf") as document:
        found = re.search(rf"{SHEET}[0-9A-Z]", document[0].get_text())
    assert found is not None
    return found[0]


def _parcel(one: Evening) -> None:
    other = one.root / "slate"
    one.type("other", ".", ["new", "club", "slate", "--name", "Slate Hollow Karters", "--take", "alder-100r", "--yes"],
             shown=False)  # fmt: skip
    _edit(other / "procedures/clutch-service.yaml", "why: ", "why: Slate says so. ")
    _edit(other / "procedures/clutch-service.yaml", "revision: 6", "revision: 7")
    ours = one.root / CLUB / "procedures/clutch-service.yaml"
    _edit(ours, "title: Clutch - clean, inspect and regrease", "title: Clutch - clean, inspect, regrease")
    one.type("pack", "slate", ["pack", "CLU", "PLU", "-o", "../two.parcel"], shown=False)
    one.tell(WORDS["parcel"])
    one.type("receive", CLUB, ["receive", "../two.parcel", "--on", DAY], [("Take this in?", "y")])


def _edit(path: Path, old: str, new: str) -> None:
    text = path.read_text("utf-8")
    assert old in text, (path, old)
    path.write_text(text.replace(old, new, 1), "utf-8")


PICTURES = {"first-evening-leaf.png": "11-CLU-leaf.pdf", "first-evening-sign-off.png": "11-CLU-sign-off.pdf"}
"""What is printed in the end: a picture of each paper's first face."""


def page(one: Evening) -> str:
    """The page: what was said, and what is printed at its end."""
    shown = " | ".join(f"![First face](pictures/{name})" for name in PICTURES)
    end = f"## What is printed\n\n| the leaf | the sheet to sign |\n|---|---|\n| {shown} |\n\n{counts(one)}\n"
    return "\n".join((*one.lines, end))


def draw(one: Evening) -> None:
    """Draw the pictures of the page."""
    (PAGE.parent / "pictures").mkdir(exist_ok=True)
    for name, pdf in PICTURES.items():
        with pymupdf.open(one.root / CLUB / "out/11" / pdf) as document:
            document[0].get_pixmap(dpi=80, colorspace=pymupdf.csGRAY).save(PAGE.parent / "pictures" / name)


def counts(one: Evening) -> str:
    """What the evening took, in a line."""
    first, _ = one.count("club", "model", "engine 11", "print")
    past, _ = one.count("engine 11", "engine 12")
    beside = set(READINGS.values()) | {"Jo Ash", *(text for _, text in VALUES)} - {""}
    sheet = sum(len(text) + 1 for _, text in one.said["enter"].answers if text not in beside)
    return (f"First sheet after {first} questions; a clean clutch sheet in {sheet} keys beside readings and names; "
            f"two engines with their past in {past} questions; a parcel of two jobs in "
            f"{one.count('receive')[0]} question; errors: {errors(one)}.")  # fmt: skip


def errors(one: Evening) -> int:
    """Lines that speak of an error, in all that was said."""
    return sum(len(re.findall(r"^Error|\berror\b|^\d+ errors", said.screen, re.M)) for said in one.said.values())


def main() -> None:
    """Play it, and print the page, or write it into the docs."""
    with tempfile.TemporaryDirectory(prefix="evening-") as folder:
        one = evening(Path(folder))
        if "--accept" in sys.argv:
            PAGE.write_text(page(one), "utf-8")
            draw(one)
        else:
            sys.stdout.write(page(one))
    sys.stderr.write(counts(one) + "\n")


if __name__ == "__main__":
    main()
