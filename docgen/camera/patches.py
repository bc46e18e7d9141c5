"""Bent paper made flat: printed patches of the page are found in the picture, from the marks outwards."""

from dataclasses import dataclass, replace
from typing import Any

import cv2
import numpy as np

from docgen.camera.arrays import Flags, Grey, Points
from docgen.camera.reference import COARSE, PATCH, Face
from docgen.camera.surface import Surface, terms

MARGIN = 8.0
"""Of the straightened picture round the page, mm."""
FAR, NEAR = 2.2, 1.0
"""How far from its place a patch is looked for, at first and once the bend is known, mm."""
ALIKE = 0.5
"""From which correlation on a patch counts as found."""
STEP = 32.0
"""How far from what is known the next patches are looked for, mm."""


@dataclass(frozen=True)
class Fitted:
    """The surface, and how well the page lies on it.

    found : which of the face's patches were found; ``alike`` how alike each is (1 is the very same, 0 nothing)
    """

    surface: Surface
    found: Flags
    alike: Points

    @property
    def share(self) -> float:
        """The share of the patches that were found."""
        return float(self.found.mean()) if len(self.found) else 0.0


def fit(grey: Grey, face: Face, surface: Surface) -> Fitted:
    """Follow the paper from where marks and codes are to wherever the page's own print is found."""
    whole = _straight(grey, face, surface)
    known = [(point, np.zeros(2)) for point in _anchors(face)]
    moved, alike = _grown(whole, face, np.array([k[0] for k in known]), np.array([k[1] for k in known]))
    found = alike > ALIKE
    if found.sum() < 12:
        return Fitted(surface, found, np.maximum(alike, 0))
    bent = _bent(face.patches[found], moved[found], face.size)
    for reach in (NEAR, NEAR / 2):
        surface = replace(surface, bent=bent)
        whole = _straight(grey, face, surface)
        moved, alike = _all(whole, face, reach)
        found = alike > ALIKE
        if found.sum() < 12:
            return Fitted(surface, found, np.maximum(alike, 0))
        start = terms(face.patches, face.size) @ bent
        bent = _bent(face.patches[found], (start + moved)[found], face.size)
    left = start + moved - terms(face.patches, face.size) @ bent
    found &= np.linalg.norm(left, axis=1) < 1.0
    surface = replace(surface, bent=bent, knots=np.hstack([face.patches[found], left[found]]))
    return Fitted(surface, found, np.maximum(alike, 0))


def _straight(grey: Grey, face: Face, surface: Surface) -> Grey:
    width, height = face.size
    return surface.view(grey, -MARGIN, -MARGIN, width + 2 * MARGIN, height + 2 * MARGIN, COARSE)


def _anchors(face: Face) -> list[Points]:
    return [one.middle for one in face.features]


def _grown(whole: Grey, face: Face, at: Points, by: Points) -> tuple[Points, Points]:
    """Find the patches from what is known (places, mm, and how far each has moved) outwards."""
    moved, alike = np.zeros_like(face.patches), np.full(len(face.patches), -1.0)
    tries = np.zeros(len(face.patches), int)
    weight = np.ones(len(at))
    while True:
        gap = np.linalg.norm(face.patches[:, None] - at[None], axis=-1).min(1)
        next_ = np.flatnonzero((alike < ALIKE) & (tries < 3) & (gap < STEP))
        if not len(next_):
            next_ = np.flatnonzero((alike < ALIKE) & (tries < 1))[:40] if (tries == 0).any() else next_
            if not len(next_):
                return moved, alike
        expected = _expected(face.patches[next_], at, by, weight)
        tries[next_] += 1
        new = []
        for n, guess in zip(next_, expected, strict=True):
            shift, score = _match(whole, face, face.patches[n], guess, FAR)
            if score > alike[n]:
                moved[n], alike[n] = shift, score
            if score > ALIKE:
                new.append(n)
        at = np.vstack([at, face.patches[new]])
        by = np.vstack([by, moved[new]])
        weight = np.concatenate([weight, alike[new]])


def _all(whole: Grey, face: Face, reach: float) -> tuple[Points, Points]:
    found = [_match(whole, face, point, np.zeros(2), reach) for point in face.patches]
    return np.array([shift for shift, _ in found]), np.array([score for _, score in found])


def _expected(points: Points, at: Points, by: Points, weight: Points) -> Points:
    """How far points have moved, by a plane through what is known near each, held level where little is known."""
    found = np.zeros_like(points)
    for n, point in enumerate(points):
        away = at - point
        near = weight * np.exp(-(away**2).sum(1) / (2 * 30.0**2)) + 1e-6
        plane = np.hstack([np.ones((len(at), 1)), away / 30.0])
        square = plane.T @ (near[:, None] * plane) + np.diag([1e-6, 0.3, 0.3])
        found[n] = np.linalg.solve(square, plane.T @ (near[:, None] * by))[0]
    return found


def _match(whole: Grey, face: Face, point: Points, guess: Points, reach: float) -> tuple[Points, float]:
    """How far a patch has moved from its place, mm, and how alike it is."""
    half, more = round(PATCH / 2 * COARSE), round(reach * COARSE)
    x, y = (int(v) for v in np.round(point * COARSE))
    patch = face.coarse[y - half : y + half, x - half : x + half]
    shift = np.round(guess * COARSE).astype(int)
    left, top = np.array([x, y]) + shift + round(MARGIN * COARSE) - half - more
    size = 2 * (half + more)
    if left < 0 or top < 0 or left + size > whole.shape[1] or top + size > whole.shape[0]:
        return guess, -1.0
    scores = cv2.matchTemplate(whole[top : top + size, left : left + size], patch, cv2.TM_CCOEFF_NORMED)
    _, best, _, (bx, by) = cv2.minMaxLoc(scores)
    if not np.isfinite(best):
        return guess, -1.0
    fine = np.array([_peak(scores[by], bx), _peak(scores[:, bx], by)])
    return (shift + fine - more) / COARSE, float(best)


def _peak(values: Any, at: int) -> float:
    """The place of a peak to a fraction of a dot (a parabola through three)."""
    if not 0 < at < len(values) - 1:
        return float(at)
    a, b, c = (float(v) for v in values[at - 1 : at + 2])
    bend = a - 2 * b + c
    return at + (0.5 * (a - c) / bend if bend < 0 else 0.0)


def _bent(points: Points, moved: Points, size: tuple[float, float]) -> Points:
    """The polynomial that most of the patches follow."""
    basis = terms(points, size)
    weight = np.ones(len(points))
    hold = np.diag([1e-9 if n == 0 else 0.02 for n in range(basis.shape[1])])
    bent: Points = np.zeros((basis.shape[1], 2))
    for _ in range(8):
        bent = np.asarray(
            np.linalg.solve(basis.T @ (weight[:, None] * basis) + hold, basis.T @ (weight[:, None] * moved)), np.float64
        )
        left = np.linalg.norm(basis @ bent - moved, axis=1)
        spread = max(0.15, 1.5 * float(np.median(left)))
        weight = 1 / (1 + (left / spread) ** 2) ** 2
    return bent
