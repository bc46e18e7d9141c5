"""A picture of one face, read: where the page lies in it, what its tick boxes say, and whether it is good enough."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import cv2
import numpy as np

from docgen.camera.arrays import Feature, Grey
from docgen.camera.codes import Code
from docgen.camera.patches import Fitted, fit
from docgen.camera.reference import COARSE, PATCH, Face
from docgen.camera.shot import State
from docgen.camera.surface import perspectives
from docgen.camera.ticks import ink_of, judge
from docgen.returns.diagnostic import Refused

LEAST_DOTS = 2.1
"""Dots to the millimetre below which nothing is read: 53 to the inch, where the page is farthest away."""
LEAST_SHARE = 0.55
"""How much of a page's print must be found in the picture."""
SHARP = 0.62
"""How alike the print that was found is to what was issued, below which the picture is called blurred."""
FLAT = 6.0
"""Dots to the millimetre of the straightened page that a person is shown."""
AGAIN = "take the picture again"


@dataclass(frozen=True)
class FaceRead:
    """What one picture says of one face.

    ticks : each tick box's state, by its field's name
    share : how much of the page's print was found; ``alike`` how alike it is; ``dots`` to the millimetre
    flat  : the straightened page, at FLAT dots to the millimetre
    """

    page: int
    ticks: Mapping[str, State]
    share: float
    alike: float
    dots: float
    flat: Grey


def read_face(grey: Grey, marks: Sequence[Feature], codes: Sequence[Code], face: Face) -> FaceRead:
    """Read the face that a picture shows.

    marks, codes : those of the picture (:func:`find_marks`, :func:`find_codes`), codes of other pages left out
    Errors: Refused ``page-not-found``, ``picture-too-small``, ``black-and-white``, ``picture-blurred``,
    ``picture-glare``, ``page-covered``, each with what to do about it.
    """
    fitted = _fitted(grey, [*marks, *(one.feature for one in codes)], face)
    dots = fitted.surface.dots()
    if dots < LEAST_DOTS:
        raise Refused(
            "picture-too-small",
            f"the page is shown with {dots * 25.4:.0f} dots to the inch; at least {LEAST_DOTS * 25.4:.0f} are read",
            f"{AGAIN} from nearer, so that the page fills it, or scan with 150 to the inch",
        )
    alike = float(np.median(fitted.alike[fitted.found])) if fitted.found.any() else 0.0
    if fitted.share < LEAST_SHARE or alike < SHARP:
        raise _poor(grey, face, fitted, alike)
    two_level = _two_level(grey)
    ticks = {
        box.name: judge(ink_of(grey, face, fitted.surface, box, dots), two_level)
        for box in face.boxes
        if box.kind == "tick"
    }
    flat = fitted.surface.view(grey, 0, 0, *face.size, FLAT)
    return FaceRead(face.page, ticks, fitted.share, alike, dots, flat)


def _two_level(grey: Grey) -> bool:
    """Whether a picture is black and white, with hardly a grey between."""
    grades = np.bincount(grey[::3, ::3].ravel(), minlength=256)
    dark, light = grades[:128], grades[128:]
    return bool(dark[:12].sum() > 0.6 * dark.sum() and light[-12:].sum() > 0.9 * light.sum())


def _fitted(grey: Grey, seen: list[Feature], face: Face) -> Fitted:
    """The page as it lies in the picture: of the ways that marks and codes allow, the one on which most print is."""
    best: Fitted | None = None
    for surface in perspectives(seen, face.features, face.size)[:3]:
        fitted = fit(grey, face, surface)
        if best is None or fitted.share > best.share:
            best = fitted
        if best.share > 0.8:
            break
    if best is None or best.share < 0.15:
        raise _not_found()
    return best


def _not_found() -> Refused:
    return Refused(
        "page-not-found",
        "the page's corner marks and codes are seen, but not the page that was issued with them",
        f"{AGAIN} flat and whole; a sheet that another version of the program laid out is typed in",
    )


def _poor(grey: Grey, face: Face, fitted: Fitted, alike: float) -> Refused:
    """Why too little of the page is found."""
    if _two_level(grey):
        return Refused(
            "black-and-white",
            f"the scan is in black and white only, and {100 * (1 - fitted.share):.0f} % of the page's print is lost",
            "scan it in grey, with 150 dots to the inch",
        )
    lost = face.patches[~fitted.found]
    white = printed = 0
    for x, y in lost:
        seen = fitted.surface.view(grey, x - PATCH / 2, y - PATCH / 2, PATCH, PATCH, COARSE)
        dark, middle = np.quantile(seen, [0.02, 0.5])
        white += bool(middle > 240)
        printed += bool(middle - dark > 50)
    if white > 0.4 * len(lost) > 2 * printed:
        return Refused(
            "picture-glare",
            f"light shines back from {100 * white / len(face.patches):.0f} % of the page",
            f"{AGAIN} from another side, or out of the lamp's light",
        )
    if alike < SHARP or _soft(grey, fitted):
        return Refused("picture-blurred", "the picture is blurred", f"{AGAIN} with a steady hand")
    if printed > 0.5 * len(lost):
        return _not_found()
    return Refused(
        "page-covered",
        f"only {100 * fitted.share:.0f} % of the page's print is found",
        f"{AGAIN} with the whole page in it, flat, and nothing lying on it",
    )


def _soft(grey: Grey, fitted: Fitted) -> bool:
    """Whether the picture would lose hardly anything by being half as fine."""
    flat = fitted.surface.view(grey, 0, 0, *fitted.surface.size, COARSE).astype(np.float32)
    fine, coarse = cv2.Laplacian(flat, cv2.CV_32F), cv2.GaussianBlur(flat, (0, 0), 1.5)
    return bool(fine.std() < 1.5 * cv2.Laplacian(coarse, cv2.CV_32F).std())
