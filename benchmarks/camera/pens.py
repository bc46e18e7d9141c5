"""What a hand writes on a printed page: strokes of a pen, in millimetres, laid over the page's colours."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import cv2
import numpy as np

from benchmarks.camera.printed import DOTS

FINER = 2
Points = Any


@dataclass(frozen=True)
class Pen:
    """width mm; how much of the light it takes; its colour (blue, green, red); how broken its line is."""

    name: str
    width: float
    density: float
    colour: tuple[int, int, int]
    broken: float


def any_pen(chance: np.random.Generator) -> Pen:
    """A pen as lies about in a workshop: ball pens mostly, a pencil one time in eight."""
    kind = chance.choice(
        ["black ball", "blue ball", "gel", "pencil", "felt", "red", "dry ball"],
        p=[0.3, 0.28, 0.1, 0.12, 0.08, 0.05, 0.07],
    )
    width = chance.uniform
    blue = (int(width(120, 190)), int(width(40, 80)), int(width(20, 60)))
    return {
        "black ball": Pen(kind, width(0.35, 0.6), width(0.75, 0.95), (45, 40, 40), 0.12),
        "blue ball": Pen(kind, width(0.35, 0.6), width(0.75, 0.95), blue, 0.12),
        "gel": Pen(kind, width(0.4, 0.7), width(0.9, 1.0), (30, 25, 25), 0.02),
        "pencil": Pen(kind, width(0.4, 0.8), width(0.35, 0.75), (95, 92, 90), 0.3),
        "felt": Pen(kind, width(1.0, 1.8), width(0.9, 1.0), (40, 35, 35), 0.0),
        "red": Pen(kind, width(0.4, 0.7), width(0.8, 0.95), (50, 40, 190), 0.1),
        "dry ball": Pen(kind, width(0.35, 0.5), width(0.6, 0.85), blue, 0.45),
    }[str(kind)]


def stroke(page: Any, points: Points, pen: Pen, chance: np.random.Generator) -> None:
    """Draw one line of the pen through points (mm) onto the page (uint8, three colours)."""
    points = smooth(np.asarray(points, float))
    pad = pen.width * 2 + 0.5
    low = np.floor((points.min(0) - pad) * DOTS).astype(int)
    high = np.ceil((points.max(0) + pad) * DOTS).astype(int)
    low, high = np.maximum(low, 0), np.minimum(high, (page.shape[1], page.shape[0]))
    if (high <= low).any():
        return
    wide, tall = (high - low) * FINER
    mask = np.zeros((tall, wide), np.uint8)
    at = (points * DOTS - low) * FINER
    press = np.clip(1 + 0.25 * np.cumsum(chance.normal(0, 0.18, len(at))), 0.65, 1.3)
    for a, b, width in zip(at[:-1], at[1:], press[:-1] * pen.width * DOTS * FINER, strict=True):
        thick = max(1, round(float(width)))
        cv2.line(mask, tuple(np.round(a * 8).astype(int)), tuple(np.round(b * 8).astype(int)), 255, thick, 8, 3)
    cover = cv2.resize(mask, (wide // FINER, tall // FINER), interpolation=cv2.INTER_AREA).astype(np.float32) / 255
    cover *= pen.density * _grain(cover.shape, pen.broken, chance)
    part = page[low[1] : high[1], low[0] : high[0]]
    ink = np.float32(pen.colour) / 255
    part[:] = np.clip(part * (1 - cover[..., None] * (1 - ink)), 0, 255).astype(np.uint8)


def _grain(shape: tuple[int, ...], broken: float, chance: np.random.Generator) -> Any:
    """How the paper takes the ink: here and there not at all."""
    if not broken:
        return np.float32(1)
    fine = chance.random(shape, np.float32)
    coarse = cv2.resize(chance.random((shape[0] // 5 + 2, shape[1] // 5 + 2), np.float32), shape[::-1])
    return np.float32(1) - np.clip((fine * 0.5 + coarse * 0.9 - 1.1 + broken) * 2, 0, 1) * min(1.0, broken * 2.2)


def smooth(points: Any, each: int = 6) -> Any:
    """A curve through the points (Catmull-Rom)."""
    if len(points) < 3:
        t = np.linspace(0, 1, 12)[:, None]
        return points[0] * (1 - t) + points[-1] * t
    p = np.vstack([2 * points[0] - points[1], points, 2 * points[-1] - points[-2]])
    t = np.linspace(0, 1, each, endpoint=False)[:, None]
    parts = [
        0.5 * (2 * b + (c - a) * t + (2 * a - 5 * b + 4 * c - d) * t**2 + (3 * b - a - 3 * c + d) * t**3)
        for a, b, c, d in zip(p[:-3], p[1:-2], p[2:-1], p[3:], strict=True)
    ]
    return np.vstack([*parts, points[-1:]])


def tick(page: Any, middle: Any, side: float, pen: Pen, chance: np.random.Generator) -> str:
    """A mark that says yes in a box of a side; what kind it was."""
    kind = str(chance.choice(["tick", "long tick", "cross", "slash", "filled"], p=[0.56, 0.14, 0.21, 0.06, 0.03]))
    size = side * float(np.clip(chance.normal(1.0, 0.2), 0.6, 1.6))
    middle = middle + chance.normal(0, 0.07 * side, 2)
    turn = chance.normal(0, 0.15)
    turned = np.array([[np.cos(turn), -np.sin(turn)], [np.sin(turn), np.cos(turn)]])

    def line(*points: tuple[float, float]) -> None:
        shaken = np.array(points) + chance.normal(0, 0.04, (len(points), 2))
        stroke(page, middle + shaken @ turned.T * size, pen, chance)

    if kind == "tick":
        line((-0.36, 0.0), (-0.2, 0.18), (-0.08, 0.36), (0.1, 0.02), (0.42, -0.42))
    elif kind == "long tick":
        line((-0.34, 0.02), (-0.1, 0.36), (0.2, -0.25), (0.75, -0.85), (1.15, -1.1))
    elif kind == "cross":
        line((-0.42, -0.42), (0.0, 0.02), (0.42, 0.42))
        line((0.42, -0.42), (0.02, 0.0), (-0.42, 0.42))
    elif kind == "slash":
        line((-0.4, 0.42), (0.0, 0.0), (0.4, -0.42))
    else:
        _zigzag(page, middle, 0.4 * size, 0.4 * size, 7, pen, chance)
    return kind


def _zigzag(page: Any, middle: Any, across: float, down: float, turns: int, pen: Pen, chance: Any) -> None:
    y = np.linspace(-down, down, turns * 2)
    x = np.where(np.arange(turns * 2) % 2, across, -across) * chance.uniform(0.8, 1.1, turns * 2)
    stroke(page, middle + np.stack([x, y], 1), pen, chance)


def scribble(page: Any, middle: Any, side: float, pen: Pen, chance: np.random.Generator) -> None:
    """A tick that somebody took back: scribbled over."""
    tick(page, middle, side, pen, chance)
    _zigzag(page, middle, side * chance.uniform(0.5, 0.8), side * chance.uniform(0.4, 0.7), 6, pen, chance)


def words(page: Any, rect: tuple[float, float, float, float], pen: Pen, chance: np.random.Generator) -> None:
    """Something written into a field (left, top, width, height): loops and figures, now and then larger than it."""
    left, top, width, height = rect
    tall = min(height, 7.0) * chance.uniform(0.4, 0.75)
    x, y = left + chance.uniform(0.3, 2), top + height * chance.uniform(0.5, 0.8)
    end = left + width * chance.uniform(0.3, 1.0)
    slant = chance.uniform(-0.05, 0.5)
    while x < end:
        letters = int(chance.integers(2, 8))
        pitch = tall * chance.uniform(0.45, 0.75)
        letters = min(letters, int((end - x) / pitch))
        if letters < 1:
            break
        t = np.arange(0, letters, 0.22)
        rise = np.repeat(chance.choice([0.45, 0.5, 0.95, 0.9], letters), len(t) // letters + 1)[: len(t)]
        up = (0.5 - 0.5 * np.cos(2 * np.pi * t)) * rise * tall
        along = x + t * pitch + 0.3 * pitch * np.sin(2 * np.pi * t) + slant * up
        stroke(page, np.stack([along, y - up + chance.normal(0, 0.05, len(t))], 1), pen, chance)
        x += letters * pitch + tall * chance.uniform(0.3, 0.8)


def signature(page: Any, rect: tuple[float, float, float, float], pen: Pen, chance: np.random.Generator) -> None:
    """A flourish that keeps to its field no better than a signature does."""
    left, top, width, height = rect
    count = int(chance.integers(6, 14))
    x = left + np.linspace(0.5, min(width, 55) * chance.uniform(0.5, 0.95), count) + chance.normal(0, 1.5, count)
    y = top + height * 0.55 + chance.normal(0, height * 0.3, count)
    stroke(page, np.stack([x, y], 1), pen, chance)


def strike(page: Any, start: float, end: float, y: float, pen: Pen, chance: np.random.Generator) -> list[Points]:
    """A line through a row, from one x to another, once or twice; where each went."""
    lines = []
    for _ in range(int(chance.choice([1, 1, 1, 2]))):
        x = np.linspace(start, end, 7)
        bend = y + chance.normal(0, 0.5) + np.linspace(0, chance.normal(0, 1.0), 7) + chance.normal(0, 0.15, 7)
        lines.append(np.stack([x, bend], 1))
        stroke(page, lines[-1], pen, chance)
    return lines
