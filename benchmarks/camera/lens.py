"""A page as a telephone sees it: bent paper in perspective, on a bench, in bad light."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import cv2
import numpy as np

from benchmarks.camera.printed import DOTS

Map = Callable[[Any], Any]
COARSE = 16


@dataclass(frozen=True)
class Shot:
    """What the camera gave: the picture, the dots to the inch at the page's middle, and millimetres to dots."""

    picture: Any
    dpi: float
    place: Map
    told: str = ""


def photograph(page: Any, chance: np.random.Generator, covered: int) -> Shot:
    """A photograph of a page (three colours, DOTS to the mm), `covered` of its corners under thumbs."""
    size = np.array([page.shape[1], page.shape[0]]) / DOTS
    dpi = float(np.exp(chance.uniform(np.log(70), np.log(280))))
    forward = _seen(size, dpi, chance)
    edge = np.concatenate([
        np.stack([np.linspace(0, size[0], 20), np.full(20, y)], 1) for y in np.linspace(0, size[1], 20)])  # fmt: skip
    around = forward(edge)
    low, high = around.min(0), around.max(0)
    room = (high - low) * chance.uniform(0.01, 0.16, 2)
    shift = low - room
    wide, tall = (int(v) for v in high - low + 2 * room)

    def place(points: Any) -> Any:
        return forward(points) - shift

    x, y = _inverse(place, size, wide, tall)
    near = _nearer(page, dpi)
    scale = near.shape[1] / size[0]
    at = np.float32(scale)
    lit = cv2.remap(near, x * at - 0.5, y * at - 0.5, cv2.INTER_LINEAR, borderMode=cv2.BORDER_REPLICATE)
    bench = _bench(tall, wide, dpi, chance)
    outside = np.clip(np.maximum.reduce([-x, x - size[0], -y, y - size[1]]) * dpi / 25.4 + 0.5, 0, 1)
    scene = lit * (1 - outside[..., None]) + bench * outside[..., None]
    _thumbs(scene, place, size, dpi, chance, covered)
    scene, told = _light(scene, x, y, size, chance)
    return Shot(_taken(scene, dpi, chance), dpi, place, told)


def _seen(size: Any, dpi: float, chance: np.random.Generator) -> Map:
    """Where each point of the paper (mm) falls on an endless picture (dots)."""
    bends = [_bend(chance) for _ in range(int(chance.choice([0, 1, 1, 2])))]
    tilt = min(abs(chance.normal(0, np.radians(9))), np.radians(24))
    way, roll = chance.uniform(0, 2 * np.pi), chance.normal(0, np.radians(6)) + chance.integers(0, 4) * np.pi / 2
    axis = np.array([np.cos(way), np.sin(way), 0]) * tilt
    turn = _spin(roll) @ cv2.Rodrigues(axis)[0]
    distance, rounding = chance.uniform(320, 650), chance.normal(0, 0.012)
    focus = dpi / 25.4 * distance

    def forward(points: Any) -> Any:
        flat = np.asarray(points, float) - size / 2
        solid = np.concatenate([flat, np.zeros((*flat.shape[:-1], 1))], -1)
        for bend in bends:
            solid = bend(solid, flat)
        turned = solid @ turn.T
        seen = turned[..., :2] / (distance - turned[..., 2:3])
        return focus * seen * (1 + rounding * (seen**2).sum(-1, keepdims=True) / 0.05)

    return forward


def _spin(angle: float) -> Any:
    return np.array([[np.cos(angle), -np.sin(angle), 0], [np.sin(angle), np.cos(angle), 0], [0, 0, 1]])


def _bend(chance: np.random.Generator) -> Callable[[Any, Any], Any]:
    """Paper bent one way: a wave, a lifted end, or a fold; it keeps its length along the bend."""
    kind = chance.choice(["wave", "end", "fold"], p=[0.5, 0.3, 0.2])
    way = chance.choice([0, np.pi / 2, chance.uniform(0, np.pi)], p=[0.35, 0.35, 0.3])
    high, phase, start = chance.uniform(1, 14), chance.uniform(0, 2 * np.pi), chance.uniform(-40, 60)
    length = chance.uniform(160, 330)
    u = np.linspace(-400, 400, 1601)
    if kind == "wave":
        z = high * np.sin(2 * np.pi * u / length / 1.3 + phase) * 0.6
    elif kind == "end":
        z = high * np.clip((u - start) / 100, 0, 3) ** 2
    else:
        z = high * 0.8 * (np.sqrt((u - start * 0.5) ** 2 + 9) / 110)
    slope = np.gradient(z, u)
    along = np.cumsum(np.sqrt(np.clip(1 - slope**2, 0.2, 1))) * (u[1] - u[0])
    along -= np.interp(0, u, along)
    direction = np.array([np.cos(way), np.sin(way)])

    def bend(solid: Any, flat: Any) -> Any:
        at = flat @ direction
        moved = solid.copy()
        moved[..., :2] += (np.interp(at, u, along) - at)[..., None] * direction
        moved[..., 2] += np.interp(at, u, z)
        return moved

    return bend


def _inverse(place: Map, size: Any, wide: int, tall: int) -> tuple[Any, Any]:
    """For each dot of the picture its place on the paper, mm: Newton's method on a coarse grid."""
    grid = np.stack(np.meshgrid(np.linspace(0, size[0], 9), np.linspace(0, size[1], 9)), -1).reshape(-1, 2)
    flat, _ = cv2.findHomography(place(grid), grid)
    columns, rows = wide // COARSE + 2, tall // COARSE + 2
    goal = np.stack(np.meshgrid(np.arange(columns), np.arange(rows)), -1).reshape(-1, 2) * float(COARSE)
    at = cv2.perspectiveTransform(goal[None], flat)[0]
    for _ in range(6):
        here = place(at)
        dx, dy = (place(at + step) - here for step in ([1.0, 0.0], [0.0, 1.0]))
        jacobian = np.stack([dx, dy], -1) + np.eye(2) * 1e-6  # far beyond the page nothing moves
        at = at - np.clip(np.linalg.solve(jacobian, (here - goal)[..., None])[..., 0], -20, 20)
    maps = at.reshape(rows, columns, 2).astype(np.float32)
    shown = np.stack(np.meshgrid(np.arange(wide), np.arange(tall)), -1).astype(np.float32) / COARSE
    full = cv2.remap(maps, shown[..., 0], shown[..., 1], cv2.INTER_LINEAR)
    return full[..., 0], full[..., 1]


def _nearer(page: Any, dpi: float) -> Any:
    """The page with no more dots than the camera resolves."""
    factor = min(1.0, dpi / 25.4 / DOTS * 1.2)
    return cv2.resize(page, None, fx=factor, fy=factor, interpolation=cv2.INTER_AREA) if factor < 1 else page


def _bench(tall: int, wide: int, dpi: float, chance: np.random.Generator) -> Any:
    """What lies under and round the page: a bench with things on it, of any tone."""
    base = chance.uniform(20, 215) * chance.uniform(0.75, 1.0, 3)
    rough = cv2.resize(chance.random((tall // 6 + 2, wide // 40 + 2), np.float32), (wide, tall))
    scene = np.clip(base + (rough[..., None] - 0.5) * chance.uniform(5, 70), 0, 255).astype(np.float32)
    for _ in range(int(chance.integers(0, 9))):
        middle = chance.uniform(0, 1, 2) * (wide, tall)
        sides = np.exp(chance.uniform(np.log(4), np.log(90), 2)) * dpi / 25.4
        corners = cv2.boxPoints((tuple(middle), tuple(sides), chance.uniform(0, 180)))
        cv2.fillPoly(scene, [corners.astype(int)], tuple(chance.uniform(0, 255, 3)), cv2.LINE_AA)
    return scene


def _thumbs(scene: Any, place: Map, size: Any, dpi: float, chance: np.random.Generator, covered: int) -> None:
    """Thumbs (or a clip) over corners of the page."""
    corners = np.array([[0, 0], [size[0], 0], [size[0], size[1]], [0, size[1]]])
    for which in chance.permutation(4)[:covered]:
        inward = np.sign(size / 2 - corners[which])
        middle = place((corners[which] + inward * chance.uniform(9, 14, 2))[None])[0]
        radii = np.array([chance.uniform(11, 14), chance.uniform(18, 26)]) * dpi / 25.4
        away = np.degrees(np.arctan2(*(middle - place((size / 2)[None])[0])[::-1])) - 90
        skin = tuple(np.float64([0.62, 0.72, 1.0]) * chance.uniform(60, 235))
        outline = cv2.ellipse2Poly(tuple(map(int, middle)), tuple(map(int, radii)), int(away), 0, 360, 5)
        end = middle + (middle - place((size / 2)[None])[0]) * 0.5
        cv2.fillPoly(scene, [outline], skin, cv2.LINE_AA)
        cv2.line(scene, tuple(map(int, middle)), tuple(map(int, end)), skin, int(radii[0] * 2), cv2.LINE_AA)


def _light(scene: Any, x: Any, y: Any, size: Any, chance: np.random.Generator) -> tuple[Any, str]:
    """Uneven light, the shadow of whoever holds the camera, and what shines."""
    tall, wide = scene.shape[:2]
    across, down = np.meshgrid(np.linspace(-1, 1, wide, dtype=np.float32), np.linspace(-1, 1, tall, dtype=np.float32))
    way = chance.uniform(0, 2 * np.pi)
    light = 1 + chance.uniform(0, 0.35) * (across * np.cos(way) + down * np.sin(way))
    light *= 1 - chance.uniform(0, 0.2) * (across**2 + down**2) / 2
    told = []
    if chance.random() < 0.45:
        told.append("shadow")
        way, edge = chance.uniform(0, 2 * np.pi), chance.uniform(-0.6, 0.6)
        soft = np.exp(chance.uniform(np.log(0.004), np.log(0.3)))
        far = (across * np.cos(way) + down * np.sin(way) + 0.15 * np.sin(3 * down + way) - edge) / soft
        light *= 1 - chance.uniform(0.2, 0.65) / (1 + np.exp(-np.clip(far, -30, 30)))
    exposed = scene * (light * chance.uniform(0.75, 1.15))[..., None] * chance.uniform(0.9, 1.08, 3)
    if chance.random() < 0.12:
        told.append("glare")
        at = chance.uniform(-0.7, 0.7, 2)
        wide_, tall_ = chance.uniform(0.05, 0.22, 2)
        spot = np.exp(-(((across - at[0]) / wide_) ** 2) - ((down - at[1]) / tall_) ** 2)
        exposed += (spot * chance.uniform(60, 260))[..., None]
    return exposed, " ".join(told)


def _taken(scene: Any, dpi: float, chance: np.random.Generator) -> Any:
    """Focus, movement, noise, the maker's sharpening."""
    picture = np.float32(scene)
    picture = cv2.GaussianBlur(picture, (0, 0), np.hypot(0.45, abs(chance.normal(0, 0.05)) * dpi / 25.4))
    if chance.random() < 0.25:
        length = chance.uniform(0, 0.3) * dpi / 25.4
        reach = int(np.ceil(length)) | 1
        kernel = np.zeros((reach + 2, reach + 2), np.float32)
        way, middle = chance.uniform(0, np.pi), (reach + 1) / 2
        half = np.array([np.cos(way), np.sin(way)]) * length / 2
        ends = [tuple(np.round((middle + sign * half) * 16).astype(int)) for sign in (-1, 1)]
        cv2.line(kernel, ends[0], ends[1], 1.0, 1, cv2.LINE_8, 4)
        picture = cv2.filter2D(picture, -1, kernel / kernel.sum())
    noise = chance.standard_normal(picture.shape[:2], np.float32)[..., None]
    grain = chance.standard_normal(picture.shape, np.float32)
    picture += (noise + 0.5 * grain) * (chance.uniform(0.5, 5) * np.sqrt(np.clip(picture, 8, 255) / 128))
    if chance.random() < 0.5:
        picture += (picture - cv2.GaussianBlur(picture, (0, 0), 1.5)) * chance.uniform(0.2, 0.9)
    return np.clip(picture, 0, 255).astype(np.uint8)
