"""A filled document held against the same one laid out: pixels, words, fields and tags."""

from __future__ import annotations

import io
import random
import re
import string
from dataclasses import replace
from html import escape, unescape
from pathlib import Path
from typing import Any

import numpy as np
import pikepdf
import pymupdf
import pytest

from docgen.job.job import DeviationLine, Job
from docgen.press import galley, render
from docgen.press.blocks import Blocks
from docgen.press.meta import Order
from docgen.press.shelf import Shelf
from docgen.press.workers import printed
from docgen.sheets.entries import touched

DPI = 110
VALUE = re.compile(r"(?<= data-value>)([^<]*)(?=</)")


def with_values(order: Order, change: Any) -> Order:
    """The order with each of its values changed by a function."""
    return replace(order, html=VALUE.sub(lambda match: escape(change(unescape(match[1]))), order.html))


def another(text: str, chance: random.Random, longer: int = 0) -> str:
    """A text of the same kind: digits for digits, letters for letters; up to so many more or fewer characters."""
    letters = string.ascii_letters + "äöüßéÁőŐñ"
    made = [
        chance.choice(string.digits if char.isdigit() else letters) if char.isalnum() else char for char in text.strip()
    ]
    grown = chance.randint(-longer, longer) if longer else 0
    made = made[:grown] if grown < 0 and len(made) > 1 - grown else made + chance.choices(letters, k=max(grown, 0))
    return re.sub(" +", " ", "".join(made)).strip() or "7"


def deviating(job: Job, chance: random.Random) -> Job:
    """The job with a deviation of something that it touches, in random words."""
    told = job.instructions
    words = " ".join(another("seven", chance, longer=2) for _ in range(chance.randint(1, 12)))
    line = DeviationLine(item=chance.choice(sorted(touched(told))), name=words[:9], what=words, dated=job.issue.on)
    more = told.model_copy(update={"deviations": (*told.deviations, line)})
    return job.model_copy(update={"instructions": more})


def pixels(pdf: bytes) -> list[np.ndarray]:
    """Each page, grey."""
    with pymupdf.open(stream=pdf) as document:
        return [
            np.frombuffer((p := page.get_pixmap(dpi=DPI, colorspace=pymupdf.csGRAY)).samples, np.uint8).reshape(
                p.h, p.w
            )
            for page in document
        ]


def words(pdf: bytes) -> list[tuple[Any, ...]]:
    """Each word with its page and its place to a fiftieth of a point."""
    with pymupdf.open(stream=pdf) as document:
        return [
            (page.number, word[4], *(round(side * 50) for side in word[:4]))
            for page in document
            for word in page.get_text("words", sort=False)
        ]


def tags(pdf: bytes) -> Any:
    """The tag tree, with what each tag says and the numbers of its marks; and the fields."""
    with pikepdf.open(io.BytesIO(pdf)) as document:
        fields = document.Root.AcroForm.Fields if "/AcroForm" in document.Root else []
        named = [(str(one.T), str(one.get("/TU", "")), str(one.get("/V", ""))) for one in fields]
        return _tag(document.Root.StructTreeRoot.K), named, str(document.Root.Lang)


def _tag(item: Any) -> Any:
    if isinstance(item, pikepdf.Array):
        return [_tag(one) for one in item]
    if isinstance(item, pikepdf.Dictionary):
        said = {key: str(item[key]) for key in ("/S", "/Alt", "/Lang", "/T", "/MCID") if key in item}
        return (said, _tag(item.K)) if "/K" in item else said
    return str(item)


def differences(filled: bytes, laid_out: bytes) -> list[str]:
    """What a reader, a viewer or a screen reader would find to be otherwise."""
    found = []
    for number, (one, two) in enumerate(zip(pixels(filled), pixels(laid_out), strict=True), 1):
        if one.shape != two.shape or np.abs(one.astype(int) - two).max() > 40:
            found.append(f"the pixels of page {number}")
    if words(filled) != words(laid_out):
        found.append("the words")
    if tags(filled) != tags(laid_out):
        found.append("the tags")
    if _said(filled) != _said(laid_out):
        found.append("what it says of itself")
    return found


def _said(pdf: bytes) -> Any:
    with pikepdf.open(io.BytesIO(pdf)) as document:
        attached = {name: file.get_file().read_bytes() for name, file in document.attachments.items()}
        packet = document.Root.Metadata.read_bytes()
        info = {key: str(value) for key, value in document.docinfo.items()}
        return attached, packet, info, str(document.trailer.ID[0])


def kept(order: Order, folder: Path) -> Shelf:
    """A shelf with the form that the order leaves behind."""
    shelf = Shelf(folder)
    printed(order, shelf)
    return shelf


def alone(order: Order) -> bytes:
    """The order as a process prints it that has laid out no block before."""
    with pytest.MonkeyPatch.context() as patch:
        none = Blocks()
        patch.setattr(galley, "BLOCKS", none)
        patch.setattr(render, "BLOCKS", none)
        return printed(order).pdf
