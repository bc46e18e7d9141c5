"""The codes of a picture: which page of which print it shows."""

from dataclasses import dataclass

import cv2
import numpy as np
import zxingcpp

from docgen.camera.arrays import Feature, Grey, Points

LONG = 2000
"""Longer side of the picture in which codes are looked for first, dots."""
AROUND = 60.0
"""How far from a mark a code is looked for, mm."""
FINE = 8.0
"""Samples to the millimetre there."""
MOST = 30
"""The most codes that are looked at: a page of ours has two."""


@dataclass(frozen=True)
class Code:
    """What a code says, and where it stands."""

    text: str
    feature: Feature


def find_codes(grey: Grey, marks: list[Feature]) -> list[Code]:
    """The codes of a picture: in the whole of it; where that gives none, straightened round each mark."""
    scale = min(1.0, LONG / max(grey.shape))
    small = cv2.resize(grey, None, fx=scale, fy=scale, interpolation=cv2.INTER_AREA) if scale < 1 else grey
    found = [Code(text, Feature("code", (points + 0.5) / scale - 0.5)) for text, points in _decoded(np.asarray(small))]
    if found:
        return found
    for mark in marks:
        around, back = _straight(grey, mark)
        for text, points in _decoded(around):
            at = cv2.perspectiveTransform(points[None], back)[0]
            if all(np.linalg.norm(at.mean(0) - one.feature.middle) > 5 for one in found):
                found.append(Code(text, Feature("code", np.asarray(at, np.float64))))
    return found


def _decoded(grey: Grey) -> list[tuple[str, Points]]:
    read = zxingcpp.read_barcodes(grey, formats=zxingcpp.BarcodeFormats(zxingcpp.BarcodeFormat.QRCode))
    return [(one.text, _corners(one.position)) for one in read[:MOST] if one.valid]


def _corners(position: zxingcpp.Position) -> Points:
    corners = (position.top_left, position.top_right, position.bottom_right, position.bottom_left)
    return np.array([(corner.x, corner.y) for corner in corners], np.float64)


def _straight(grey: Grey, mark: Feature) -> tuple[Grey, Points]:
    """What stands round a mark as it would lie on the paper, and how to get back from there."""
    side, size = int(2 * AROUND * FINE), 10.0 * FINE
    corner = side / 2 - size / 2 + np.array([[0, 0], [size, 0], [size, size], [0, size]])
    # An affine fit: the far end of a perspective that was taken from ten millimetres is nowhere.
    matrix, _ = cv2.estimateAffine2D(mark.points, corner)
    flat = cv2.warpAffine(grey, matrix, (side, side), flags=cv2.INTER_CUBIC, borderMode=cv2.BORDER_REPLICATE)
    back = np.linalg.inv(np.vstack([matrix, [0, 0, 1]]))
    return np.asarray(flat, np.uint8), back
