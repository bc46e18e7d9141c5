"""One seed, one face: printed, written on, dirtied, seen; with what is true of each box."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import Any, Literal

import cv2
import numpy as np

from benchmarks.camera import dirt, pens
from benchmarks.camera.lens import Shot, photograph
from benchmarks.camera.printed import DOTS, Face, random_of
from benchmarks.camera.scanner import scan
from docgen.press.fields import FieldBox

Truth = Literal["ticked", "empty", "struck", "scribbled", "touched"]
"""The last three are for a person to judge: a row struck through, a tick taken back, a box that other ink runs into."""


@dataclass
class Made:
    """A face before the camera: the file that the camera wrote, and what is true."""

    seed: int
    face: Face
    data: bytes
    shot: Shot
    covered: int
    truth: dict[str, Truth] = field(default_factory=dict)
    told: str = ""


def made(seed: int, faces: list[Face], struck: bool = False) -> Made:
    """The face of a seed. struck: one with several rows struck through, by any pen, and other ink in a box."""
    chance = random_of(seed, "face")
    faces = [face for face in faces if any(box.kind == "tick" for box in face.boxes)] if struck else faces
    face = faces[int(chance.integers(len(faces)))]
    grey, boxes = _printed(face, random_of(seed, "printer"))
    page = dirt.paper_and_toner(grey, random_of(seed, "paper"))
    truth = _written(page, boxes, random_of(seed, "pen"), struck)
    told = _dirtied(page, random_of(seed, "dirt"))
    covered = int(chance.choice([0, 1, 2], p=[0.7, 0.18, 0.12]))
    camera = chance.random() < 0.6
    shot = (photograph if camera else scan)(page, random_of(seed, "camera"), covered)
    kind = "photograph" if camera else "scan"
    data, how = _file(shot.picture, camera, shot.told, random_of(seed, "file"))
    return Made(seed, face, data, shot, covered, truth, f"{kind} {shot.dpi:.0f} dpi {shot.told} {told} {how}")


def _printed(face: Face, chance: np.random.Generator) -> tuple[Any, list[FieldBox]]:
    """What the printer made of it, and where the boxes lie then.

    A little larger or smaller, shifted; one in five times fitted to the page.
    """
    scale = chance.normal(1, 0.0015, 2) * (chance.uniform(0.94, 1.0) if chance.random() < 0.2 else 1.0)
    pixels = face.pixels()
    height, width = pixels.shape
    middle = np.array([width, height]) / 2
    move = middle - scale * middle + chance.normal(0, 0.8, 2) * DOTS
    matrix = np.array([[scale[0], 0, move[0]], [0, scale[1], move[1]]])
    boxes = []
    for box in face.boxes:
        left, top = box.mm[:2] * scale + move / DOTS
        wide, tall = box.mm[2:] * scale
        boxes.append(replace(box, mm=(float(left), float(top), float(wide), float(tall))))
    return cv2.warpAffine(pixels, matrix, (width, height), flags=cv2.INTER_AREA, borderValue=255.0), boxes


def _written(page: Any, boxes: list[FieldBox], chance: np.random.Generator, struck: bool) -> dict[str, Truth]:
    """Fill the face in with one pen, and say what became of each box."""
    pen, often = pens.any_pen(chance), chance.uniform(0.25, 0.95)
    ticks = [box for box in boxes if box.kind == "tick"]
    truth: dict[str, Truth] = {box.name: "empty" for box in ticks}
    for box in ticks:
        left, top, width, height = box.mm
        middle = np.array([left + width / 2, top + height / 2])
        if chance.random() < often:
            truth[box.name] = "ticked"
            if chance.random() < 0.02:
                truth[box.name] = "scribbled"
                pens.scribble(page, middle, width, pen, chance)
            else:
                pens.tick(page, middle, width, pen, chance)
    for box in boxes:
        if box.kind != "tick" and chance.random() < 0.65:
            sign = "signature" in box.name
            (pens.signature if sign else pens.words)(page, box.mm, pen, chance)
    if not ticks:
        return truth
    for _ in range(4 if struck else int(chance.random() < 0.12)):
        _struck(page, ticks, truth, pens.any_pen(chance) if chance.random() < 0.5 else pen, chance)
    if struck or chance.random() < 0.05:
        box = ticks[int(chance.integers(len(ticks)))]
        if truth[box.name] != "struck":
            _run_into(page, box, pen, chance)
            truth[box.name] = "touched"
    return truth


def _run_into(page: Any, box: FieldBox, pen: pens.Pen, chance: np.random.Generator) -> None:
    """Ink that belongs elsewhere: the tail of a word or signature."""
    left, top, width, height = box.mm
    x = left + width * chance.uniform(0.2, 0.8)
    y = top + height / 2
    pens.stroke(page, [(x - 18, y - 9), (x - 6, y + 2), (x, y + 1), (x + 9, y - 7)], pen, chance)


def _struck(
    page: Any, ticks: list[FieldBox], truth: dict[str, Truth], pen: pens.Pen, chance: np.random.Generator
) -> None:
    """One row struck through, from its left end to its right; what stands beside it in the way is touched."""
    left, top, _, height = ticks[int(chance.integers(len(ticks)))].mm
    paper = page.shape[1] / DOTS
    start, end = (20.0, paper - 14) if chance.random() < 0.7 else (max(18.0, left - 45), min(paper - 14, left + 40))
    lines = pens.strike(page, start, end, top + height / 2 + chance.normal(0, 0.6), pen, chance)
    for other in ticks:
        left, above, wide, tall = other.mm
        if not start < left < end:
            continue
        away = min(abs(float(np.interp(left + wide / 2, *line.T)) - above - tall / 2) for line in lines)
        if abs(above - top) < 3:
            truth[other.name] = "struck"
        elif away < tall / 2 + 1 and truth[other.name] != "struck":
            truth[other.name] = "touched"


def _dirtied(page: Any, chance: np.random.Generator) -> str:
    told = []
    if chance.random() < 0.3:
        dirt.grease(page, chance)
        told.append("grease")
    if chance.random() < 0.2:
        dirt.fingerprint(page, chance)
        told.append("fingerprint")
    if chance.random() < 0.2:
        dirt.crease(page, chance)
        told.append("crease")
    if chance.random() < 0.15:
        dirt.hole(page)
    dirt.specks(page, chance, int(chance.integers(0, 40)))
    return " ".join(told)


def _file(picture: Any, camera: bool, kind: str, chance: np.random.Generator) -> tuple[bytes, str]:
    """The file: JPEG for photographs, and for scans PNG or JPEG."""
    if not camera and (kind == "two-level" or chance.random() < 0.4):
        return cv2.imencode(".png", picture)[1].tobytes(), "PNG"
    quality = int(chance.uniform(45, 95))
    return cv2.imencode(".jpg", picture, [cv2.IMWRITE_JPEG_QUALITY, quality])[1].tobytes(), f"JPEG {quality}"
