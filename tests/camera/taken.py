"""Pictures of the small club's one sheet, as a test takes them: drawn, ticked, tilted."""

from __future__ import annotations

import io
from collections.abc import Collection, Sequence
from dataclasses import dataclass

import cv2
import numpy as np
import pypdfium2
from PIL import Image

from docgen.camera.gather import issued_pdf, pages_of
from docgen.press.fields import FieldBox
from tests.returns.conftest import Club

DOTS = 150 / 25.4


@dataclass(frozen=True)
class Printed:
    """The sheet of a club on paper: its PDF, its fields by page, each page in grey at 150 dots to the inch."""

    pdf: bytes
    pages: dict[int, tuple[FieldBox, ...]]
    drawn: dict[int, np.ndarray]

    def face(self, page: int, ticked: Collection[str] = (), faint: Collection[str] = ()) -> np.ndarray:
        """A page with ticks in some of its boxes, in ink or hardly to be seen."""
        paper = self.drawn[page].copy()
        for box in self.pages[page]:
            if box.kind == "tick" and box.name in {*ticked, *faint}:
                left, top, width, height = box.mm
                stroke = np.array([[0.15, 0.5], [0.4, 0.85], [0.9, 0.1]]) * (width, height) + (left, top)
                shade = 40 if box.name in ticked else 205
                cv2.polylines(paper, [np.round(stroke * DOTS * 16).astype(np.int32)], False, shade, 3, cv2.LINE_AA, 4)
        return paper

    def inked(
        self, paper: np.ndarray, name: str, points: Sequence[tuple[float, float]], shade: int = 40, width: int = 3
    ) -> np.ndarray:
        """A drawn page with a line of ink through points, each in millimetres from the middle of a box."""
        left, top, wide, tall = next(box.mm for boxes in self.pages.values() for box in boxes if box.name == name)
        line = np.array([(left + wide / 2 + x, top + tall / 2 + y) for x, y in points]) * DOTS * 16
        return cv2.polylines(paper, [np.round(line).astype(np.int32)], False, shade, width, cv2.LINE_AA, 4)

    def ticks(self, page: int) -> list[str]:
        """The names of a page's tick boxes."""
        return [box.name for box in self.pages[page] if box.kind == "tick"]


def printed(club: Club) -> Printed:
    """The club's sheet, pressed and drawn."""
    pdf = issued_pdf(club.sheet, club.folder.club.value)
    document = pypdfium2.PdfDocument(pdf)
    pages = pages_of(pdf)
    drawn = {
        page: np.ascontiguousarray(
            document[page - 1].render(scale=150 / 72, grayscale=True, draw_annots=False).to_numpy().squeeze()
        )
        for page in pages
    }
    document.close()
    return Printed(pdf, pages, drawn)


def tilted(paper: np.ndarray, quarters: int = 0) -> np.ndarray:
    """The page on a dark bench, seen from a little beside it, with the light falling off to one side."""
    height, width = paper.shape
    corners = np.array([[0, 0], [width, 0], [width, height], [0, height]], np.float32)
    seen = np.array([[70, 60], [width + 10, 90], [width + 60, height + 40], [30, height + 80]], np.float32)
    size = (width + 120, height + 140)
    flat = cv2.warpPerspective(paper, cv2.getPerspectiveTransform(corners, seen), size, borderValue=70)
    light = np.linspace(1.0, 0.7, size[0])[None]
    return np.rot90((flat * light).astype(np.uint8), quarters)


def saved(picture: np.ndarray, kind: str = "JPEG", **how: object) -> bytes:
    """A picture as a file."""
    out = io.BytesIO()
    Image.fromarray(np.ascontiguousarray(picture)).save(out, kind, **how)
    return out.getvalue()
