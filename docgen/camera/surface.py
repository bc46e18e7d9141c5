"""Where each point of the paper lies in a picture: a perspective, and on top of it how the paper is bent."""

from dataclasses import dataclass

import cv2
import numpy as np

from docgen.camera.arrays import Feature, Grey, Points

LOOSE = 5.0
"""How far bent paper may lift a mark or code from where a flat page would have it, mm."""
DEGREE = 5
"""Of the polynomial that bent paper follows."""
_GRID = 4.0


@dataclass(frozen=True)
class Surface:
    """The paper in a picture.

    flat  : perspective from mm on the paper to dots of the picture (3 by 3)
    bent  : coefficients of the polynomial by which each point moves on the flat page first, in mm (terms by 2)
    knots : places (mm) that still lie elsewhere, and by how much (mm): x, y, dx, dy
    """

    flat: Points
    size: tuple[float, float]
    bent: Points | None = None
    knots: Points | None = None

    def place(self, points: Points) -> Points:
        """The dots of the picture where points of the paper (mm) lie."""
        moved = np.asarray(points, np.float64)
        if self.bent is not None:
            moved = moved + terms(points, self.size) @ self.bent
        if self.knots is not None and len(self.knots):
            moved = moved + near_by(points, self.knots[:, :2], self.knots[:, 2:], 9.0)
        found = cv2.perspectiveTransform(moved.reshape(1, -1, 2), self.flat)[0]
        return np.asarray(found, np.float64)

    def dots(self) -> float:
        """Dots of the picture to the millimetre of paper, where they are fewest (of nine places, either way)."""
        width, height = self.size
        at = np.stack(np.meshgrid([0.1, 0.5, 0.9], [0.1, 0.5, 0.9]), -1).reshape(-1, 2) * (width, height)
        steps = [np.linalg.norm(self.place(at + step) - self.place(at), axis=1) for step in ((1, 0), (0, 1))]
        return float(np.min(steps))

    def view(self, grey: Grey, left: float, top: float, width: float, height: float, dots: float) -> Grey:
        """A part of the paper (mm), straightened, with so many dots to the millimetre; what lies outside is white.

        Where the picture has more dots than that they are averaged.
        """
        columns, rows = round(width * dots), round(height * dots)
        across = np.arange(0, width + _GRID, min(_GRID, width))
        down = np.arange(0, height + _GRID, min(_GRID, height))
        grid = np.stack(np.meshgrid(across + left, down + top), -1).reshape(-1, 2)
        places = self.place(grid).reshape(len(down), len(across), 2).astype(np.float32)
        step = across[1] - across[0], down[1] - down[0]
        x = ((np.arange(columns, dtype=np.float32) + 0.5) / dots / np.float32(step[0]))[None].repeat(rows, 0)
        y = ((np.arange(rows, dtype=np.float32) + 0.5) / dots / np.float32(step[1]))[:, None].repeat(columns, 1)
        at = cv2.split(cv2.remap(places, x, y, cv2.INTER_LINEAR))  # apart: numpy is slow over the last two of many
        low = np.floor([one.min() for one in at]).astype(int) - 3
        high = np.ceil([one.max() for one in at]).astype(int) + 4
        low = np.clip(low, 0, np.array(grey.shape[::-1]) - 1)
        high = np.clip(high, low + 1, grey.shape[::-1])
        part = grey[low[1] : high[1], low[0] : high[0]]
        finer = float(np.linalg.norm(places[0, 1] - places[0, 0]) / step[0] / dots)
        if finer > 1.3:
            part = np.asarray(cv2.GaussianBlur(part, (0, 0), 0.45 * float(np.sqrt(finer**2 - 1))), np.uint8)
        x, y = (one - np.float32(start) for one, start in zip(at, low, strict=True))
        seen = cv2.remap(part, x, y, cv2.INTER_LINEAR, borderMode=cv2.BORDER_CONSTANT, borderValue=255)
        return np.asarray(seen, np.uint8)


def terms(points: Points, size: tuple[float, float], degree: int = DEGREE) -> Points:
    """The terms of a polynomial in x and y at points (mm), each from -1 to 1 over the page."""
    u = 2 * points[:, 0] / size[0] - 1
    v = 2 * points[:, 1] / size[1] - 1
    return np.stack([u**i * v**j for i in range(degree + 1) for j in range(degree + 1 - i)], 1)


def near_by(points: Points, known: Points, values: Points, reach: float) -> Points:
    """The mean of what is known near each point; nothing where nothing is known within about `reach` mm."""
    away = (points[:, :1] - known[:, 0]) ** 2 + (points[:, 1:] - known[:, 1]) ** 2
    weight = np.exp(-away / (2 * reach**2))
    return np.asarray(weight @ values / (weight.sum(1, keepdims=True) + 0.3))


def perspectives(seen: list[Feature], issued: tuple[Feature, ...], size: tuple[float, float]) -> list[Surface]:
    """The flat surfaces that marks and codes allow, the likeliest first.

    seen   : of the picture, in dots; a mark may be there several times, and not be one
    issued : of the page, in mm; its codes look the same, so that each may be either
    """
    found: list[tuple[int, float, Surface]] = []
    codes = [one for one in issued if one.name == "code"]
    for order in [codes, codes[::-1]] if len(codes) > 1 else [codes]:
        pairs = [(one, other) for one in seen for other in issued if one.name == other.name != "code"]
        pairs += list(zip([one for one in seen if one.name == "code"], order, strict=False))
        pairs += [(Feature(a.name, np.roll(a.points, 2, 0)), b) for a, b in pairs if a.turned]
        surface = _agreed(pairs, size)
        if surface is not None:
            found.append(surface)
    found.sort(key=lambda one: (-one[0], one[1]))
    return [surface for _, _, surface in found]


def _agreed(pairs: list[tuple[Feature, Feature]], size: tuple[float, float]) -> tuple[int, float, Surface] | None:
    """The perspective on which most pairs agree: their number, and how well."""
    if not pairs:
        return None
    dots = np.concatenate([a.points for a, _ in pairs])
    mm = np.concatenate([b.points for _, b in pairs])
    if len(pairs) == 1:
        affine, _ = cv2.estimateAffine2D(dots, mm)
        back = None if affine is None else np.vstack([affine, [0, 0, 1]])
    else:
        back, _ = cv2.findHomography(dots, mm, cv2.RANSAC, LOOSE, maxIters=3000)
    if back is None or not np.isfinite(back).all() or np.linalg.det(back[:2, :2]) <= 0:
        return None
    away = np.linalg.norm(cv2.perspectiveTransform(dots[None], back)[0] - mm, axis=1).reshape(-1, 4)
    agree = away.max(1) < LOOSE
    if not agree.any():
        return None
    kept = np.repeat(agree, 4)
    if agree.sum() > 1:
        better, _ = cv2.findHomography(dots[kept], mm[kept], 0)
        back = back if better is None else better
    try:
        flat = np.linalg.inv(back)
    except np.linalg.LinAlgError:
        return None
    if not np.isfinite(flat).all():
        return None
    return int(agree.sum()), float(away[agree].mean()), Surface(flat / flat[2, 2], size)
