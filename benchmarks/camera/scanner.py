"""A page as a scanner or copier sees it: flat, a little askew, in grey, colour or two levels."""

from __future__ import annotations

from typing import Any

import cv2
import numpy as np

from benchmarks.camera.lens import Shot
from benchmarks.camera.printed import DOTS


def scan(page: Any, chance: np.random.Generator, covered: int) -> Shot:
    """A scan of a page (three colours, DOTS to the mm); corners are "covered" by folded edges."""
    size = np.array([page.shape[1], page.shape[0]]) / DOTS
    dpi = float(chance.choice([70, 75, 100, 150, 200, 300], p=[0.08, 0.1, 0.2, 0.25, 0.25, 0.12]))
    dots = dpi / 25.4
    skew = np.radians(chance.normal(0, 0.9))
    wide, tall = (int(v) for v in (size + chance.uniform(-3, 12, 2)) * dots)
    turn = np.array([[np.cos(skew), -np.sin(skew)], [np.sin(skew), np.cos(skew)]]) * dots
    turn[:, 1] *= chance.normal(1, 0.002)
    shift = np.array([wide, tall]) / 2 - turn @ (size / 2) + chance.normal(0, 1.5, 2) * dots
    quarter = int(chance.integers(0, 4)) if chance.random() < 0.5 else 0
    factor = min(1.0, dots / DOTS * 1.2)
    near = cv2.resize(page, None, fx=factor, fy=factor, interpolation=cv2.INTER_AREA) if factor < 1 else page
    scale = near.shape[1] / size[0]
    matrix = np.hstack([turn / scale, shift[:, None]])
    lid = chance.choice([255, 235, 20], p=[0.4, 0.35, 0.25])
    picture = cv2.warpAffine(near, matrix, (wide, tall), flags=cv2.INTER_LINEAR, borderValue=(float(lid),) * 3)
    _folded(picture, turn, shift, size, chance, covered)
    picture = _scanned(picture.astype(np.float32), chance)

    def place(points: Any) -> Any:
        at = np.asarray(points) @ turn.T + shift
        for _ in range(quarter):
            at = np.stack([at[..., 1], -at[..., 0]], -1)
        return at + {0: (0, 0), 1: (0, wide), 2: (wide, tall), 3: (tall, 0)}[quarter]

    picture = np.ascontiguousarray(np.rot90(picture, quarter))
    kind = str(chance.choice(["grey", "colour", "two-level"], p=[0.45, 0.25, 0.3]))
    if kind == "grey":
        picture = cv2.cvtColor(picture, cv2.COLOR_BGR2GRAY)
    elif kind == "two-level":
        grey = cv2.GaussianBlur(cv2.cvtColor(picture, cv2.COLOR_BGR2GRAY), (0, 0), 0.4)
        picture = np.where(grey > chance.uniform(125, 195), 255, 0).astype(np.uint8)
    return Shot(picture, dpi, place, kind)


def _folded(picture: Any, turn: Any, shift: Any, size: Any, chance: np.random.Generator, covered: int) -> None:
    """Corners folded over: white behind, a grey edge."""
    corners = np.array([[0, 0], [size[0], 0], [size[0], size[1]], [0, size[1]]])
    for which in chance.permutation(4)[:covered]:
        inward = np.sign(size / 2 - corners[which])
        reach = chance.uniform(22, 34, 2)
        flap = corners[which] + np.array([[-2, -2], [reach[0], -2], [-2, reach[1]]]) * inward
        at = (flap @ turn.T + shift).astype(int)
        cv2.fillPoly(picture, [at], (238, 238, 238), cv2.LINE_AA)
        cv2.line(picture, at[1].tolist(), at[2].tolist(), (150, 150, 150), 2, cv2.LINE_AA)


def _scanned(picture: Any, chance: np.random.Generator) -> Any:
    """The scanner's own sharpness, noise and tone."""
    picture = cv2.GaussianBlur(picture, (0, 0), chance.uniform(0.3, 0.8))
    picture += chance.standard_normal(picture.shape, np.float32) * chance.uniform(0.5, 4)
    picture = 255 * np.clip(picture / chance.uniform(235, 262), 0, 1) ** chance.uniform(0.8, 1.25)
    if chance.random() < 0.4:
        picture += (picture - cv2.GaussianBlur(picture, (0, 0), 1.2)) * chance.uniform(0.2, 0.8)
    return np.clip(picture, 0, 255).astype(np.uint8)
