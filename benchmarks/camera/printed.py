"""The faces that are written on: sign-off sheets of the demo club, on A4 and on Letter, drawn by poppler."""

from __future__ import annotations

import subprocess
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Any

import cv2
import numpy as np

from docgen.club.folder import Folder
from docgen.club.read import read_club
from docgen.club.uses import applies
from docgen.job.issue import number_of
from docgen.job.job import Job
from docgen.job.resolve import resolve
from docgen.press.fields import FieldBox, boxes
from docgen.press.orders import order
from docgen.press.workers import press_all
from docgen.sheets.signoff import signoff

ROOT = Path(__file__).resolve().parents[2]
ON = date(2027, 2, 20)
DPI = 200
DOTS = DPI / 25.4
"""Dots to the millimetre of the drawn page."""


@dataclass(frozen=True)
class Face:
    """One printed face: its number and page, its paper, its fields, and where its picture lies."""

    number: str
    page: int
    paper: str
    boxes: tuple[FieldBox, ...]
    picture: Path

    def pixels(self) -> Any:
        """The printed page in grey, at DPI."""
        return cv2.imread(str(self.picture), cv2.IMREAD_GRAYSCALE)


@dataclass(frozen=True)
class Sheet:
    """One printed sheet: the job behind it, its PDF and its faces."""

    job: Job
    pdf: bytes
    faces: tuple[Face, ...]


def jobs(folder: Folder, engines: int) -> Iterator[Job]:
    """Every job that applies to each of the first engines of the demo, each as print 1."""
    for name in sorted(folder.engines)[:engines]:
        record = folder.engines[name]
        for read in sorted(folder.procedures.values(), key=lambda one: one.value.code):
            if applies(read.value, folder.models[record.engine.model].value):
                yield resolve(folder, record, read, ON).model_copy(update={"print": 1})


def sheets(kept: Path, engines: int = 3) -> list[Sheet]:
    """The sheets on both papers; what was drawn before is found again in the folder `kept`."""
    folder = read_club(ROOT)
    made = []
    for paper in ("A4", "Letter"):
        club = folder.club.value.model_copy(update={"paper": paper})
        found = list(jobs(folder, engines))
        lacking = [one for one in found if not _pdf(kept, paper, one).is_file()]
        orders = [order(number_of(one).text, signoff(one, club), one, club.club, forms=True) for one in lacking]
        for one, outcome in zip(lacking, press_all(orders, processes=1), strict=True):
            if outcome.pressed is not None:
                _pdf(kept, paper, one).parent.mkdir(parents=True, exist_ok=True)
                _pdf(kept, paper, one).write_bytes(outcome.pressed.pdf)
            else:
                print(f"not printed: {outcome.key}: {outcome.faults}")
        made += [_sheet(kept, paper, one) for one in found if _pdf(kept, paper, one).is_file()]
    return made


def _pdf(kept: Path, paper: str, job: Job) -> Path:
    return kept / f"{paper}-{number_of(job).text}-{job.issue_digest[:12]}.pdf"


def _sheet(kept: Path, paper: str, job: Job) -> Sheet:
    path = _pdf(kept, paper, job)
    pdf = path.read_bytes()
    found = boxes(pdf)
    pages = sorted({box.page for box in found})
    pictures = [path.with_name(f"{path.stem}-{page}.png") for page in pages]
    if not all(picture.is_file() for picture in pictures):
        for page, picture in zip(pages, pictures, strict=True):
            subprocess.run(
                ["pdftoppm", "-r", str(DPI), "-gray", "-f", str(page), "-l", str(page), "-png", "-singlefile",
                 str(path), str(picture.with_suffix(""))], check=True,
            )  # fmt: skip
    number = number_of(job)
    number = type(number)(number.engine, number.code, number.revision, number.print, "S")
    faces = tuple(
        Face(number.on_page(page).text, page, paper, tuple(box for box in found if box.page == page), picture)
        for page, picture in zip(pages, pictures, strict=True)
    )
    return Sheet(job, pdf, faces)


def random_of(seed: int, what: str) -> np.random.Generator:
    """The chance of one step of one face."""
    return np.random.default_rng([seed, *what.encode()])
