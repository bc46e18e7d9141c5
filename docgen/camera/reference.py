"""What a face should look like: its page drawn from the issued PDF, and the PDF's own map of its fields.

Nothing here knows where anything stands on a sheet: marks and codes are found on the drawn page as they are in a
photograph, and the boxes are those of :func:`docgen.press.fields.boxes`.
"""

from dataclasses import dataclass

import cv2
import numpy as np
import pypdfium2

from docgen.camera.arrays import Feature, Grey, Points
from docgen.camera.codes import find_codes
from docgen.camera.marks import find_marks
from docgen.press.fields import FieldBox, boxes

DOTS = 8.0
"""Dots to the millimetre of a drawn page."""
COARSE = 4.0
"""Dots to the millimetre at which patches are matched."""
PATCH = 10.0
"""Side of a patch, mm."""
_CELL = 8.0


@dataclass(frozen=True)
class Face:
    """One page as it was issued.

    size     : width and height, mm
    drawn    : the page in grey at DOTS; ``coarse`` the same at COARSE
    features : its marks and codes, in mm
    patches  : middles of the places that look like no other place near them, mm
    """

    page: int
    size: tuple[float, float]
    drawn: Grey
    coarse: Grey
    features: tuple[Feature, ...]
    patches: Points
    boxes: tuple[FieldBox, ...]

    def part(self, left: float, top: float, width: float, height: float) -> Grey:
        """A part of the page (mm) as it was issued, at DOTS; white beyond its edges."""
        x, y, w, h = (round(v * DOTS) for v in (left, top, width, height))
        part = np.full((h, w), 255, np.uint8)
        own = self.drawn[max(y, 0) : y + h, max(x, 0) : x + w]
        part[max(-y, 0) : max(-y, 0) + own.shape[0], max(-x, 0) : max(-x, 0) + own.shape[1]] = own
        return part


def faces_of(pdf: bytes, only: int = 0) -> tuple[Face, ...]:
    """Every face of an issued sheet that has fields, or `only` one page of it.

    Errors: those of pypdfium2 and pikepdf, on what is no PDF.
    """
    found = boxes(pdf)
    document = pypdfium2.PdfDocument(pdf)
    try:
        return tuple(
            _face(document[number - 1], number, tuple(box for box in found if box.page == number))
            for number in sorted({box.page for box in found if only in (0, box.page)})
        )
    finally:
        document.close()


def _face(page: pypdfium2.PdfPage, number: int, found: tuple[FieldBox, ...]) -> Face:
    width, height = (side * 25.4 / 72 for side in page.get_size())
    bitmap = page.render(scale=DOTS * 25.4 / 72, grayscale=True, draw_annots=False, may_draw_forms=False)
    drawn = np.array(bitmap.to_numpy(), np.uint8)
    drawn = np.ascontiguousarray(drawn.reshape(drawn.shape[:2]))
    small = cv2.resize(drawn, None, fx=COARSE / DOTS, fy=COARSE / DOTS, interpolation=cv2.INTER_AREA)
    coarse: Grey = np.asarray(cv2.GaussianBlur(small, (0, 0), 0.6), np.uint8)
    marks = find_marks(drawn)
    features = (*marks, *(code.feature for code in find_codes(drawn, marks)))
    inmm = tuple(Feature(one.name, (one.points + 0.5) / DOTS, one.turned) for one in features)
    return Face(number, (width, height), drawn, coarse, inmm, _patches(coarse, found), found)


def _patches(coarse: Grey, found: tuple[FieldBox, ...]) -> Points:
    """In each cell of the page the place whose surroundings have the most edges both ways, where they have enough.

    Places that lie mostly in fields are left out: somebody writes there.
    """
    smooth = cv2.GaussianBlur(coarse, (0, 0), 1.0).astype(np.float32)
    dx, dy = cv2.Sobel(smooth, cv2.CV_32F, 1, 0), cv2.Sobel(smooth, cv2.CV_32F, 0, 1)
    side = int(PATCH * COARSE)
    xx, yy, xy = (cv2.boxFilter(v, cv2.CV_32F, (side, side)) for v in (dx * dx, dy * dy, dx * dy))
    least = (xx + yy) / 2 - np.sqrt(((xx - yy) / 2) ** 2 + xy**2)
    written = np.zeros(coarse.shape, np.float32)
    for box in found:
        left, top, width, height = (round(v * COARSE) for v in box.mm)
        written[top : top + height, left : left + width] = 1
    least[cv2.boxFilter(written, cv2.CV_32F, (side, side)) > 0.5] = 0
    least[: side // 2 + 2] = least[-side // 2 - 2 :] = 0
    least[:, : side // 2 + 2] = least[:, -side // 2 - 2 :] = 0
    enough, cell = 0.06 * float(np.quantile(least, 0.98)), int(_CELL * COARSE)
    places = []
    for top in range(0, least.shape[0] - cell, cell):
        for left in range(0, least.shape[1] - cell, cell):
            part = least[top : top + cell, left : left + cell]
            if part.max() > enough:
                y, x = np.unravel_index(int(part.argmax()), part.shape)
                places.append(((left + x + 0.5) / COARSE, (top + y + 0.5) / COARSE))
    return np.array(places, np.float64).reshape(-1, 2)
