"""What is done to a stranger's picture, in a process of its own: see :class:`docgen.returns.sandbox.Reader`."""

from functools import lru_cache

import cv2

from docgen.camera.arrays import Feature, Grey
from docgen.camera.codes import Code, find_codes
from docgen.camera.marks import find_marks
from docgen.camera.pictures import count, picture
from docgen.camera.read import read_face
from docgen.camera.reference import Face, faces_of
from docgen.camera.shot import Glimpse, Shown
from docgen.returns.diagnostic import Refused

_QUALITY = 80
cv2.setNumThreads(1)


def pictures_in(data: bytes) -> int:
    """How many pictures a file holds. Errors: those of :func:`docgen.camera.pictures.count`."""
    return count(data)


def glimpse(data: bytes, at: int) -> Glimpse:
    """Which codes and marks picture `at` of a file shows. Errors: those of :func:`docgen.camera.pictures.picture`."""
    _, marks, codes = _seen(data, at)
    return Glimpse(tuple(dict.fromkeys(code.text for code in codes)), len(marks))


def face_reading(data: bytes, at: int, pdf: bytes, page: int) -> Shown:
    """Read picture `at` of a file as that page of an issued sheet. Errors: those of :func:`read_face`."""
    grey, marks, codes = _seen(data, at)
    found = read_face(grey, marks, codes, _face(pdf, page))
    done, jpeg = cv2.imencode(".jpg", found.flat, [cv2.IMWRITE_JPEG_QUALITY, _QUALITY])
    if not done:
        raise Refused("damaged-picture", "the straightened page could not be kept")
    return Shown(page, dict(found.ticks), found.share * found.alike, found.dots, jpeg.tobytes())


@lru_cache(maxsize=4)
def _seen(data: bytes, at: int) -> tuple[Grey, list[Feature], list[Code]]:
    grey = picture(data, at)
    marks = find_marks(grey)
    return grey, marks, find_codes(grey, marks)


@lru_cache(maxsize=4)
def _face(pdf: bytes, page: int) -> Face:
    return faces_of(pdf, page)[0]
