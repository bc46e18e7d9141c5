"""Ink that is no tick: a line through the row that a box stands in, a stroke that runs into it from elsewhere.

Looked for well beyond the box, in what the page's own print leaves free; each makes the box one for a person.
"""

from dataclasses import dataclass

import cv2
import numpy as np

from docgen.camera.arrays import Flags, Grey, Level
from docgen.camera.reference import COARSE, Face
from docgen.camera.surface import Surface
from docgen.press.fields import FieldBox

BESIDE, ABOVE = 16.0, 5.5
"""How much of the page is looked at beside a box, and above and below it, mm."""
LONG, LEAST = 14.0, 4.0
"""How far a line is followed from the box, and how much of that must be free of print for it to count, mm."""
ROW, FARTHER = 3.0, 4.5
"""Distance of a line from the box's middle, mm: within ROW it is the row's own, up to FARTHER only a clear one is."""
INKED, CLEAR = 0.65, 0.9
"""The share of a line's free length that must be inked, within ROW and farther away."""
DARK, RIDGE = 0.28, 0.08
"""How dark ink is, and how much darker than what lies above and below it a faint line is, by the print's darkness."""
WIDE = 3.2
"""Nothing wider is a line, mm."""
LEAVES = 2.0
"""How far from its box a stroke must lead to be none of the box's own, mm."""


@dataclass(frozen=True)
class _Near:
    """A box and what lies round it, at COARSE.

    dark   : by the print's darkness; ``x``, ``y`` of each dot from the box's middle, ``out`` from its outline, mm
    free   : where nothing is printed; ``clear`` the same with more distance kept
    """

    dark: Level
    x: Level
    y: Level
    out: Level
    free: Flags
    clear: Flags
    width: float


def strange(
    grey: Grey, face: Face, surface: Surface, box: FieldBox, shift: tuple[float, float], contrast: float, dots: float
) -> bool:
    """Whether the row of a box is struck through, or other ink than a tick runs into the box.

    shift    : how far from its place the box was found, mm
    contrast : grey levels between print and paper there; ``dots`` of the picture to a millimetre of paper
    """
    near = _near(grey, face, surface, box, shift, contrast, dots)
    return _struck(near) or _run_into(near)


def _near(
    grey: Grey, face: Face, surface: Surface, box: FieldBox, shift: tuple[float, float], contrast: float, dots: float
) -> _Near:
    left, top, width, height = box.mm
    left, top, wide, tall = left - BESIDE, top - ABOVE, width + 2 * BESIDE, height + 2 * ABOVE
    seen = surface.view(grey, left + shift[0], top + shift[1], wide, tall, COARSE)
    small = cv2.resize(face.part(left, top, wide, tall), seen.shape[::-1], interpolation=cv2.INTER_AREA)
    drawn = np.asarray(cv2.GaussianBlur(small, (0, 0), max(0.45 * COARSE / dots, 0.3)), np.uint8)
    x, y = np.meshgrid(*((np.arange(n, dtype=np.float32) + 0.5) / COARSE - n / COARSE / 2 for n in drawn.shape[::-1]))
    printed = _darker(drawn) / 255
    free, clear = (
        cv2.dilate(printed, np.ones((2 * round((reach + 0.35 / dots) * COARSE) + 1,) * 2)) < 0.12
        for reach in (0.3, 0.7)
    )
    return _Near(
        np.clip(_darker(seen) / contrast, 0, 1.5), x, y, np.maximum(abs(x) - width / 2, abs(y) - height / 2),
        np.asarray(free), np.asarray(clear), width,
    )  # fmt: skip


def _darker(grey: Grey) -> Level:
    """How much darker each dot is than the paper round it, grey levels."""
    line = round(WIDE * COARSE) | 1
    paper = cv2.morphologyEx(grey, cv2.MORPH_CLOSE, cv2.getStructuringElement(cv2.MORPH_ELLIPSE, (line, line)))
    return np.asarray(cv2.GaussianBlur(paper.astype(np.float32), (0, 0), 0.4 * COARSE) - grey, np.float32)


def _struck(near: _Near) -> bool:
    """Whether a straight line leads to the box from one side and, where it meets the box, through it."""
    ink = np.asarray(cv2.dilate((_faint(near) | (near.dark > DARK)).astype(np.uint8), np.ones((3, 1)))) > 0
    inside = abs(near.x[0]) < near.width / 2 - 0.9
    for away, free, share in (
        (np.arange(0, ROW + 0.01, 0.25), near.free, INKED),
        (np.arange(ROW + 0.25, FARTHER + 0.01, 0.25), near.clear, CLEAR),
    ):
        rows = _lines(near, np.unique([*-away, *away]))
        columns = np.arange(rows.shape[1])
        open_, inked = free[rows, columns], ink[rows, columns]
        through = _share(open_, inked, inside, 1.0, otherwise=1.0)
        for beside in (-near.x[0], near.x[0]):
            strip = (beside > near.width / 2 + 0.6) & (beside < near.width / 2 + LONG)
            if bool((np.minimum(_share(open_, inked, strip, LEAST, otherwise=0.0), through) > share).any()):
                return True
    return False


def _lines(near: _Near, away: Level) -> Flags:
    """The rows of dots that nearly level lines pass through, each at a distance from the box's middle (mm)."""
    slopes = np.arange(-0.12, 0.121, 0.02)
    y = (away[:, None, None] + slopes[:, None] * near.x[0]).reshape(-1, near.x.shape[1])
    return np.asarray(np.round((y - near.y[0, 0]) * COARSE).astype(int).clip(0, near.x.shape[0] - 1))


def _share(open_: Flags, inked: Flags, strip: Flags, least: float, otherwise: float) -> Level:
    """The share of each line's free dots in a strip that are inked; otherwise, where fewer than `least` mm are free."""
    count = (open_ & strip).sum(1)
    share = (open_ & inked & strip).sum(1) / np.maximum(count, 1)
    return np.where(count < least * COARSE, otherwise, share).astype(np.float32)


def _faint(near: _Near) -> Flags:
    """Where a level line stands out, however faint: darker, over a length of it, than a millimetre above and below."""
    free = near.free.astype(np.float32)
    length = (round(1.5 * COARSE) | 1, 1)
    level = cv2.blur(near.dark * free, length) / np.maximum(cv2.blur(free, length), 1e-3) * free
    step = round(COARSE)
    beside = [(np.roll(level, way, 0), np.roll(free, way, 0)) for way in (step, -step)]
    paper = sum(part * there for part, there in beside) / np.maximum(sum(there for _, there in beside), 1e-3)
    return np.asarray(level - paper > RIDGE)


def _run_into(near: _Near) -> bool:
    """Whether ink inside goes on outside, and there leads away elsewhere than to the upper right, as a tick does."""
    ink = near.dark > DARK
    outside = (ink & near.free & (near.out > 0)).astype(np.uint8)
    beside = cv2.morphologyEx(outside, cv2.MORPH_CLOSE, np.ones((3, 3), np.uint8))
    inner = (ink & (near.out < -0.45) & (near.out > -2.0)).astype(np.uint8)
    reached = cv2.dilate(inner, cv2.getStructuringElement(cv2.MORPH_ELLIPSE, (round(3.6 * COARSE) | 1,) * 2)) > 0
    count, parts = cv2.connectedComponents(beside, connectivity=8)
    own = (near.x > 0) & (near.y < near.width / 2)
    for n in range(1, count):
        part = parts == n
        meets = part & (near.out < 1.2) & reached
        if meets.any() and not own[meets].any() and near.out[part].max() > LEAVES:
            return True
    return False
