"""Files with pictures in them, as grey pictures: JPEG, PNG, WebP, HEIC, TIFF of several pages, scans as PDF.

Nothing in a file is believed: its kind is told by its first bytes, its size is read before it is unpacked, and what is
read at all is limited. Called in a process of its own (:mod:`docgen.camera.worker`).
"""

from __future__ import annotations

import io
import warnings
from collections.abc import Iterator
from contextlib import contextmanager

import cv2
import numpy as np
import pillow_heif
import pypdfium2
from PIL import Image, ImageFile, ImageOps, UnidentifiedImageError

from docgen.camera.arrays import Grey
from docgen.returns.diagnostic import Refused
from docgen.returns.sandbox import PICTURE_BYTES

MAX_BYTES = PICTURE_BYTES
MAX_DOTS = 80_000_000
MAX_SIDE = 20_000
MAX_PICTURES = 60
MAX_NOTES = 16 * 1024 * 1024
LONG = 4200
"""Longer side to which larger pictures are made smaller, dots: 360 to the inch of A4."""
SCAN = 300
"""Dots to the inch at which a page of a PDF is drawn."""
KINDS = ("JPEG", "PNG", "WEBP", "TIFF", "HEIF")
_KNOWN = "JPEG, PNG, WebP, HEIC, TIFF and PDF are read"
_BROKEN = (OSError, ValueError, SyntaxError, TypeError, KeyError, IndexError, EOFError, OverflowError, RuntimeError,
           MemoryError, ZeroDivisionError, AttributeError)  # fmt: skip

pillow_heif.register_heif_opener(thumbnails=False)


def count(data: bytes) -> int:
    """How many pictures a file holds: one, but for TIFF and PDF.

    Errors: Refused ``too-large``, ``not-a-picture``, ``damaged-picture``, ``picture-too-large``,
    ``too-many-pictures``.
    """
    with _opened(data) as source:
        return source.count


def picture(data: bytes, at: int) -> Grey:
    """One picture of a file, upright as its maker says, in grey, no longer than LONG. Errors: as :func:`count`."""
    with _opened(data) as source:
        return source.picture(at)


@contextmanager
def _opened(data: bytes) -> Iterator[_Source]:
    if len(data) > MAX_BYTES:
        raise Refused(
            "too-large",
            f"the file is {len(data) / 1048576:.0f} MB large; the most that is read is {MAX_BYTES // 1048576} MB",
            "a photograph of one page is smaller than 10 MB",
        )
    try:
        with (_Pdf if data[:1024].lstrip().startswith(b"%PDF-") else _Image)(data) as source:
            if source.count > MAX_PICTURES:
                raise Refused(
                    "too-many-pictures",
                    f"the file holds {source.count} pictures; the most that is read is {MAX_PICTURES}",
                    "give one sheet a file",
                )
            yield source
    except UnidentifiedImageError:
        raise Refused("not-a-picture", "this is no picture that is known here", _KNOWN) from None
    except (Image.DecompressionBombError, Image.DecompressionBombWarning):
        raise _too_large(0, 0) from None
    except (*_BROKEN, pypdfium2.PdfiumError):
        message = "the picture is damaged or cut short"
        raise Refused("damaged-picture", message, "copy it again from the camera") from None


class _Image:
    """A file of one picture, or of several as TIFF; the second one of a telephone's is no page."""

    def __init__(self, data: bytes) -> None:
        warnings.simplefilter("ignore")
        ImageFile.LOAD_TRUNCATED_IMAGES = False  # the library that lays pages out forgives what we do not
        _few_notes(data)
        self._image = Image.open(io.BytesIO(data), formats=KINDS)
        _fits(*self._image.size)
        self.count: int = getattr(self._image, "n_frames", 1) if self._image.format == "TIFF" else 1

    def __enter__(self) -> _Image:
        return self

    def __exit__(self, *_: object) -> None:
        self._image.close()

    def picture(self, at: int) -> Grey:
        if at:
            self._image.seek(at)
            _fits(*self._image.size)
        return _small(np.asarray(_upright(self._image), np.uint8))


def _upright(image: Image.Image) -> Image.Image:
    """In grey, turned as the camera was held; what is see-through lies on white."""
    image.draft("L", (LONG, LONG))
    if image.mode in ("RGBA", "LA", "PA") or "transparency" in image.info:
        clear = image.convert("RGBA")
        image = Image.alpha_composite(Image.new("RGBA", clear.size, "white"), clear)
    if image.mode.startswith(("I;16", "I")):
        image = Image.fromarray((np.asarray(image, np.float64).clip(0, 65535) / 257).astype(np.uint8))
    return ImageOps.exif_transpose(image).convert("L")


class _Pdf:
    """A scan as PDF, a picture a page."""

    def __init__(self, data: bytes) -> None:
        self._document = pypdfium2.PdfDocument(data)
        self.count = len(self._document)

    def __enter__(self) -> _Pdf:
        return self

    def __exit__(self, *_: object) -> None:
        self._document.close()

    def picture(self, at: int) -> Grey:
        page = self._document[at]
        longer = max(page.get_size())
        if not 0 < longer <= 14_400:
            message = f"a page of the file is {longer * 25.4 / 72:.0f} mm long"
            raise Refused("picture-too-large", message, "scan at the paper's own size")
        drawn = page.render(scale=min(SCAN / 72, LONG / longer), grayscale=True, may_draw_forms=False).to_numpy()
        return np.ascontiguousarray(drawn.reshape(drawn.shape[:2]), np.uint8)


_Source = _Image | _Pdf


def _few_notes(data: bytes) -> None:
    """Refuse a JPEG whose notes (camera, place, copies) before the picture go on and on: reading them takes long."""
    at, notes = 2, 0
    while data[:2] == b"\xff\xd8" and data[at : at + 1] == b"\xff" and data[at + 1 : at + 2] not in (b"\xda", b""):
        length = int.from_bytes(data[at + 2 : at + 4], "big")
        notes += length
        at += 2 + max(length, 2)
    if notes > MAX_NOTES:
        raise Refused(
            "too-many-notes",
            f"the picture has {notes // 1048576} MB of notes; the most that is read is {MAX_NOTES // 1048576} MB",
            "save it again without them",
        )


def _fits(width: int, height: int) -> None:
    if width * height > MAX_DOTS or max(width, height) > MAX_SIDE or min(width, height) < 1:
        raise _too_large(width, height)


def _small(grey: Grey) -> Grey:
    scale = LONG / max(grey.shape)
    if scale >= 1:
        return np.ascontiguousarray(grey)
    return np.asarray(cv2.resize(grey, None, fx=scale, fy=scale, interpolation=cv2.INTER_AREA), np.uint8)


def _too_large(width: int, height: int) -> Refused:
    said = f"the picture says that it is {width} by {height} dots" if width else "the picture unpacks to too many dots"
    message = f"{said}; the most that is read is {MAX_DOTS // 1_000_000} million"
    return Refused("picture-too-large", message, "make it smaller")
