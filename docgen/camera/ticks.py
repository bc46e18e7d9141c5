"""One tick box: ticked, empty or unclear, by the ink that lies inside its printed outline.

What ink is, the outline says: it is printed in the same toner on the same paper under the same light, close by.
Unclear is whatever cannot be confirmed: an outline that is not found where it should be, too little contrast, a faint
mark, a line through the row, ink that runs in from beside, a box that is nearly filled.
"""

from dataclasses import dataclass

import cv2
import numpy as np

from docgen.camera.arrays import Flags, Grey, Level
from docgen.camera.reference import DOTS, Face
from docgen.camera.shot import State
from docgen.camera.strokes import strange
from docgen.camera.surface import Surface
from docgen.press.fields import FieldBox

AROUND, REACH = 3.6, 0.7
"""How much paper round a box is looked at, and how far from its place its outline may be found, mm."""
OUTLINE = 0.45
"""Width of the printed outline, mm: how much ink a length of line is."""
STROKE = 3.2
"""Nothing wider is a line, mm."""
TRACE = 2.2
"""Length of line that a faint mark is looked for by, mm."""
FOUND, FOUND_EMPTY, CONTRAST = 0.5, 0.75, 20.0
"""Below these nothing is said of a box: how well its outline fits (where it is to be empty nothing crosses it), and the
grey levels between outline and paper."""


@dataclass(frozen=True)
class Ink:
    """What was measured of one box.

    found    : how well its outline fits the picture, 1 as printed
    contrast : grey levels between outline and paper
    length   : ink inside, as the length of a line as dark and wide as the outline, mm
    extent   : of the largest connected mark inside, corner to corner, mm
    dark     : the darkest ink inside, by the outline's darkness
    trace    : the darkest straight line inside, however faint, above what lies between lines
    filled   : how much darker most of the inside is than the paper round it, by the outline's darkness
    strange  : whether a line goes through its row, or other ink than a tick runs into it
    """

    found: float
    contrast: float
    length: float = 0.0
    extent: float = 0.0
    dark: float = 0.0
    trace: float = 0.0
    filled: float = 0.0
    strange: bool = False


def ink_of(grey: Grey, face: Face, surface: Surface, box: FieldBox, dots: float) -> Ink:
    """Measure one box. dots: how finely the picture shows the page (:meth:`Surface.dots`)."""
    left, top, width, height = box.mm
    around = AROUND + REACH
    seen = surface.view(grey, left - around, top - around, width + 2 * around, height + 2 * around, DOTS)
    drawn = face.part(left - AROUND, top - AROUND, width + 2 * AROUND, height + 2 * AROUND)
    soft = max(0.45 * DOTS / dots, 0.6)
    drawn = np.asarray(cv2.GaussianBlur(drawn, (0, 0), soft), np.uint8)
    side = np.array(drawn.shape[::-1]) / DOTS
    x, y = np.meshgrid(*((np.arange(count, dtype=np.float32) + 0.5) / DOTS for count in drawn.shape[::-1]))
    out = np.maximum(abs(x - side[0] / 2) - width / 2, abs(y - side[1] / 2) - height / 2)
    (dx, dy), found = _place(seen, drawn, out)
    v = seen[dy : dy + drawn.shape[0], dx : dx + drawn.shape[1]]
    v = np.asarray(cv2.GaussianBlur(v, (0, 0), 0.1 * DOTS), np.float32)
    line = round(STROKE * DOTS) | 1
    paper = cv2.morphologyEx(v, cv2.MORPH_CLOSE, cv2.getStructuringElement(cv2.MORPH_ELLIPSE, (line, line)))
    paper = cv2.GaussianBlur(paper, (0, 0), 0.4 * DOTS)
    outline = (out < -0.1) & (out > -0.35)
    contrast = float(np.quantile((paper - v)[outline], 0.6))
    if contrast < CONTRAST:
        return Ink(found, contrast)
    dark = np.clip((paper - v) / contrast, 0, 1.5).astype(np.float32)
    inner = out < -(OUTLINE + 0.25 + 0.45 / dots)
    mark = np.asarray(inner & (dark > 0.25))
    length = float(np.minimum(dark, 1.3)[mark].sum() / DOTS**2 / OUTLINE)
    count, _, stats, _ = cv2.connectedComponentsWithStats(mark.astype(np.uint8), connectivity=8)
    extent = float(np.hypot(stats[1:, 2], stats[1:, 3]).max() / DOTS) if count > 1 else 0.0
    blank = (out > 0.6) & (out < 2.5) & (drawn > 235)
    filled = float(np.quantile(v[blank], 0.7) - np.median(v[inner])) / contrast if blank.any() else 0.0
    return Ink(
        found, contrast, length, extent, float(np.quantile(dark[inner], 0.98)), _trace(dark, inner), filled,
        strange(grey, face, surface, box, (dx / DOTS - REACH, dy / DOTS - REACH), contrast, dots),
    )  # fmt: skip


def judge(ink: Ink, two_level: bool = False) -> State:
    """What a box's ink says; unclear for whatever lies between.

    two_level : the picture knows black and white only: it may have swallowed a faint mark, so that no box is empty
    """
    if ink.found < FOUND or ink.contrast < CONTRAST or ink.strange or ink.filled > 0.45:
        return "unclear"
    if ink.length < 0.7 and ink.dark < 0.37 and ink.trace < 0.13:
        return "empty" if ink.found > FOUND_EMPTY and not two_level else "unclear"
    if ink.length > 1.3 and ink.extent > 1.9 and ink.dark > 0.42 and ink.trace > 0.2:
        return "ticked"
    return "unclear"


def _trace(dark: Level, inner: Flags) -> float:
    """The mean darkness of the darkest straight line of TRACE mm inside, above what lies beside lines."""
    level = np.clip(dark, 0, 1).astype(np.float32)
    level = np.where(inner, level - np.quantile(level[inner], 0.4), 0).astype(np.float32)
    return max(float(cv2.filter2D(level, -1, line)[inner].max()) for line in _LINES)


def _lines() -> list[Level]:
    size = round(TRACE * DOTS) | 1
    found = []
    for turn in np.arange(8) * np.pi / 8:
        kernel = np.zeros((size, size), np.float32)
        half = np.array([np.cos(turn), np.sin(turn)]) * (size - 3) / 2
        ends = [tuple(int(v) for v in np.round((size // 2 + sign * half) * 16)) for sign in (-1, 1)]
        cv2.line(kernel, ends[0], ends[1], 1.0, 3, cv2.LINE_AA, 4)
        found.append(kernel / kernel.sum())
    return found


_LINES = _lines()


def _place(seen: Grey, drawn: Grey, out: Level) -> tuple[tuple[int, int], float]:
    """Where the box's outline and what is printed beside it lie in the picture, and how alike they are."""
    weight = ((out > -OUTLINE - 0.3) & (out < 1.2)).astype(np.float32)
    rows, columns = np.flatnonzero(weight.any(1)), np.flatnonzero(weight.any(0))
    top, bottom, left, right = rows[0], rows[-1] + 1, columns[0], columns[-1] + 1
    patch, weight = drawn[top:bottom, left:right].astype(np.float32), weight[top:bottom, left:right]
    reach = round(REACH * DOTS)
    where = seen[top : bottom + 2 * reach, left : right + 2 * reach].astype(np.float32)
    scores = cv2.matchTemplate(where, patch, cv2.TM_CCOEFF_NORMED, mask=weight)
    scores = np.where(np.isfinite(scores), scores, -1)
    dy, dx = np.unravel_index(int(scores.argmax()), scores.shape)
    return (int(dx), int(dy)), float(scores[dy, dx])
