"""The corner marks in a picture: black squares with white dots (:mod:`docgen.sheets.drawings.fiducials`)."""

from collections.abc import Iterator
from itertools import islice

import cv2
import numpy as np

from docgen.camera.arrays import Feature, Grey, Points
from docgen.sheets.drawings.fiducials import APART, DOT, DOTS, SIZE

LONG = 1600
"""Longer side of the picture in which marks are looked for first, dots."""
LEAST, MOST = 11.0, 120.0
"""Side of a mark in that picture, dots."""
MOST_LOOKED_AT, MOST_MARKS = 500, 16
"""How many four-cornered shapes are looked at, and how many marks are taken, the clearest first."""
_STEP, _AROUND = 0.25, 2.0
"""Of the straightened mark: mm to a sample, and mm of paper round it."""


def find_marks(grey: Grey) -> list[Feature]:
    """The corner marks of a picture, each at most once a place; the clearest first.

    A mark is found when its outline is a four-cornered shape with paper round it and dots as no other mark has them.
    """
    scale = min(1.0, LONG / max(grey.shape))
    small = cv2.resize(grey, None, fx=scale, fy=scale, interpolation=cv2.INTER_AREA) if scale < 1 else grey
    found: list[tuple[float, Feature]] = []
    for outline in islice(_squares(np.asarray(small, np.uint8)), MOST_LOOKED_AT):
        corners = _sharper(grey, (outline + 0.5) / scale - 0.5, 1 / scale)
        read = _read(grey, corners)
        if read is not None:
            found.append(read)
    found.sort(key=lambda one: -one[0])
    kept: list[Feature] = []
    for _, one in found:
        side = np.linalg.norm(one.points[0] - one.points[2])
        if all(np.linalg.norm(one.middle - other.middle) > side / 2 for other in kept):
            kept.append(one)
    return kept[:MOST_MARKS]


def _squares(small: Grey) -> Iterator[Points]:
    """The outlines of what is darker than its surroundings and has four corners."""
    calm = cv2.GaussianBlur(small, (3, 3), 0)
    for block in (25, 71):
        dark = cv2.adaptiveThreshold(calm, 255, cv2.ADAPTIVE_THRESH_MEAN_C, cv2.THRESH_BINARY_INV, block, 8)
        outlines, _ = cv2.findContours(dark, cv2.RETR_LIST, cv2.CHAIN_APPROX_SIMPLE)
        for outline in outlines:
            area = cv2.contourArea(outline)
            if not LEAST**2 <= area <= MOST**2:
                continue
            few = cv2.approxPolyDP(outline, 0.07 * cv2.arcLength(outline, True), True)
            if len(few) != 4 or not cv2.isContourConvex(few):
                continue
            points = few.reshape(4, 2).astype(np.float64)
            sides = np.linalg.norm(points - np.roll(points, 1, 0), axis=1)
            if sides.min() > 0.45 * sides.max() and sides.max() < 1.6 * MOST and area > 0.75 * sides.min() ** 2:
                turning = np.cross(points[1] - points[0], points[2] - points[1])
                yield points if turning > 0 else points[::-1]


def _sharper(grey: Grey, corners: Points, step: float) -> Points:
    """The corners to a fraction of a dot."""
    reach = max(2, round(2 * step))
    low, high = corners.min(0) - 3 * reach, np.array(grey.shape[::-1]) - corners.max(0) - 3 * reach
    if min(*low, *high) < 0:
        return corners
    rule = (cv2.TERM_CRITERIA_EPS + cv2.TERM_CRITERIA_MAX_ITER, 20, 0.02)
    start = corners.astype(np.float32).reshape(-1, 1, 2)
    better = cv2.cornerSubPix(grey, start, (reach, reach), (-1, -1), rule).reshape(-1, 2).astype(np.float64)
    near = np.linalg.norm(better - corners, axis=1) < 1.5 * reach
    return np.where(near[:, None], better, corners)


def _read(grey: Grey, corners: Points) -> tuple[float, Feature] | None:
    """The mark whose outline has these corners, and how clear it is; None where it is none."""
    count = int((SIZE + 2 * _AROUND) / _STEP)
    ends = (np.array([[0, 0], [SIZE, 0], [SIZE, SIZE], [0, SIZE]]) + _AROUND) / _STEP - 0.5
    flat = cv2.getPerspectiveTransform(corners.astype(np.float32), ends.astype(np.float32))
    patch = cv2.warpPerspective(grey, flat, (count, count), flags=cv2.INTER_LINEAR, borderMode=cv2.BORDER_REPLICATE)
    values = patch.astype(np.float64)
    at = (np.arange(count) + 0.5) * _STEP - _AROUND
    x, y = np.meshgrid(at, at)
    out = np.maximum(abs(x - SIZE / 2), abs(y - SIZE / 2)) - SIZE / 2
    white, black = values[(out > 0.8) & (out < 1.7)], values[(out < -0.6) & (out > -1.5)]
    light, dark = np.median(white), np.median(black)
    if light - dark < 25:
        return None
    between = (light + dark) / 2
    if (white < between).mean() > 0.2 or (black > between).mean() > 0.12:
        return None
    levels = []
    for n in range(4):
        away = np.hypot(x - SIZE / 2 - (n % 2 - 0.5) * APART, y - SIZE / 2 - (n // 2 - 0.5) * APART)
        levels.append((values[away < 0.35 * DOT].mean() - dark) / (light - dark))
    middle = (values[np.maximum(abs(x - SIZE / 2), abs(y - SIZE / 2)) < 0.5].mean() - dark) / (light - dark)
    dots = tuple(int(level > 0.4) for level in levels)
    if middle > 0.4 or any(0.3 < level < 0.5 for level in levels):
        return None
    named = _TURNS.get(dots)
    if named is None:
        return None
    corner, quarter = named
    points = np.roll(corners, -quarter, 0)
    return float(light - dark), Feature(corner, points, turned=corner == "bottom-right")


def _turns() -> dict[tuple[int, ...], tuple[str, int]]:
    """Each pattern of dots as a picture may show it, with its corner and the place of that mark's own first corner."""
    found: dict[tuple[int, ...], tuple[str, int]] = {}
    for corner, dots in DOTS.items():
        square = np.reshape(dots, (2, 2))
        for quarter in range(4):
            seen = tuple(int(dot) for dot in np.rot90(square, -quarter).ravel())  # turned clockwise
            found.setdefault(seen, (corner, quarter))
    return found


_TURNS = _turns()
