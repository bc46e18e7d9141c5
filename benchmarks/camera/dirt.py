"""What a workshop does to a printed page: toner and paper, grease, fingerprints, creases, dust."""

from __future__ import annotations

from typing import Any

import cv2
import numpy as np

from benchmarks.camera.printed import DOTS


def _soft(shape: tuple[int, int], cell: float, chance: np.random.Generator) -> Any:
    """Smooth noise from 0 to 1 whose hills are `cell` mm wide."""
    rows, columns = (max(2, int(side / DOTS / cell) + 2) for side in shape)
    return cv2.resize(chance.random((rows, columns), np.float32), shape[::-1], interpolation=cv2.INTER_CUBIC)


def paper_and_toner(grey: Any, chance: np.random.Generator) -> Any:
    """The page in colour: toner that is not quite black, paper that is not quite white."""
    spread = chance.uniform(0.2, 0.7)
    toner = cv2.GaussianBlur(grey, (0, 0), spread)
    dark = chance.uniform(15, 70)
    level = dark + toner.astype(np.float32) * ((255 - dark) / 255)
    fibre = chance.standard_normal(grey.shape, np.float32)
    level += cv2.GaussianBlur(fibre, (0, 0), 1.2) * chance.uniform(2, 6)
    tint = np.float32([chance.uniform(0.93, 1.0), chance.uniform(0.97, 1.0), 1.0])
    return np.clip(level[..., None] * tint * chance.uniform(0.94, 1.0), 0, 255).astype(np.uint8)


def grease(page: Any, chance: np.random.Generator) -> None:
    """Smears that the paper drinks: wide, soft, seldom dark."""
    height, width = page.shape[:2]
    for _ in range(int(chance.integers(1, 5))):
        middle = chance.uniform(0, 1, 2) * (width, height)
        radii = chance.uniform(3, 18, 2) * DOTS
        mask = np.zeros((height, width), np.uint8)
        cv2.ellipse(mask, tuple(map(int, middle)), tuple(map(int, radii)), chance.uniform(0, 180), 0, 360, 255, -1)
        soft = cv2.GaussianBlur(mask, (0, 0), chance.uniform(0.5, 3) * DOTS).astype(np.float32) / 255
        soft *= chance.uniform(0.06, 0.3) * (0.6 + 0.4 * _soft(mask.shape, 4, chance))
        page[:] = np.clip(page * (1 - soft[..., None] * np.float32([1.0, 0.8, 0.65])), 0, 255).astype(np.uint8)


def fingerprint(page: Any, chance: np.random.Generator) -> None:
    """A dirty finger: ridges in an oval, half a millimetre apart."""
    side = int(22 * DOTS)
    left, top = (int(chance.uniform(0, edge - side)) for edge in (page.shape[1], page.shape[0]))
    y, x = np.mgrid[0:side, 0:side].astype(np.float32) / DOTS - 11
    oval = np.clip(1.2 - (x / 7) ** 2 - (y / 10) ** 2, 0, 1)
    bent = np.hypot(x - chance.uniform(-3, 3), y * 0.7 + chance.uniform(-2, 6))
    ridges = 0.5 + 0.5 * np.sin(2 * np.pi * bent / 0.5 + 3 * _soft((side, side), 5, chance))
    cover = oval * ridges * np.clip(_soft((side, side), 3, chance) * 1.6 - 0.3, 0, 1) * chance.uniform(0.15, 0.5)
    part = page[top : top + side, left : left + side]
    part[:] = np.clip(part * (1 - cover[..., None]), 0, 255).astype(np.uint8)


def specks(page: Any, chance: np.random.Generator, count: int) -> None:
    """Swarf, dust and ink flecks, none wider than half a millimetre."""
    for _ in range(count):
        at = chance.uniform(0, 1, 2) * (page.shape[1], page.shape[0])
        radius = chance.uniform(0.05, 0.25) * DOTS
        shade = int(chance.uniform(20, 150))
        cv2.circle(page, tuple(np.round(at * 16).astype(int)), int(radius * 16), (shade,) * 3, -1, cv2.LINE_AA, 4)


def crease(page: Any, chance: np.random.Generator) -> None:
    """A fold: a thin line where the paper has broken, lighter through print, darker through white."""
    height, width = page.shape[:2]
    upright = chance.random() < 0.5
    at = chance.uniform(0.3, 0.7) * (width if upright else height)
    ends = ((at, 0), (at + chance.normal(0, 20), height)) if upright else ((0, at), (width, at + chance.normal(0, 20)))
    mask = np.zeros((height, width), np.uint8)
    cv2.line(mask, tuple(map(int, ends[0])), tuple(map(int, ends[1])), 255, max(1, int(0.3 * DOTS)), cv2.LINE_AA)
    cover = cv2.GaussianBlur(mask, (0, 0), 1.0).astype(np.float32)[..., None] / 255 * chance.uniform(0.1, 0.4)
    page[:] = np.clip(page * (1 - cover) + 190 * cover, 0, 255).astype(np.uint8)


def hole(page: Any) -> None:
    """Two punched holes on the left (ISO 838), dark behind."""
    for y in (page.shape[0] / 2 / DOTS - 40, page.shape[0] / 2 / DOTS + 40):
        cv2.circle(page, (int(12 * DOTS), int(y * DOTS)), int(3 * DOTS), (40, 40, 40), -1, cv2.LINE_AA)
