"""A day's pictures: which sheet each shows, what is missing, what is refused and why."""

from __future__ import annotations

import io
from collections.abc import Sequence
from itertools import product
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from docgen.camera.gather import Gathered, gather
from docgen.club.log import SHORT
from docgen.returns.sandbox import Reader
from docgen.trade.checkchar import check_character
from tests.camera.taken import DOTS, Printed, saved, tilted
from tests.returns.conftest import NUMBER, Club
from tests.shares import share

TICKED, FAINT = ("gap-seen_own", "looked-all"), ("closing-rotor-free",)
EMPTY = ("renew-plate-gasket_renewed", "after-run-no-noise")


def gathered(club: Club, reader: Reader, *files: bytes) -> Gathered:
    return gather([(Path(f"{n}.jpg"), data) for n, data in enumerate(files, 1)], club.folder, reader)


def said(found: Gathered) -> list[str]:
    return [f"{path} {one.weight} {one.name}: {one.message}" for path, one in found.said]


@pytest.mark.parametrize("quarters", range(4))
def test_a_photograph_is_read_whichever_way_up(club: Club, paper: Printed, reader: Reader, quarters: int) -> None:
    found = gathered(club, reader, saved(tilted(paper.face(1, TICKED, FAINT), quarters)))
    assert found.said == ()
    (one,) = found.sheets
    assert one.sheet.text == NUMBER
    assert dict(one.shots[1].shown.ticks) == {
        **dict.fromkeys(TICKED, "ticked"), **dict.fromkeys(FAINT, "unclear"), **dict.fromkeys(EMPTY, "empty"),
    }  # fmt: skip
    assert one.ticked == TICKED
    assert one.missing == (2,)
    assert one.unclear == (*FAINT, *paper.ticks(2))


@pytest.mark.parametrize("hidden", [(0, 1), (1, 2), (0, 3), (0, 2)], ids=["top", "right", "left", "across"])
def test_seventy_dots_to_the_inch_and_two_corners_covered(
    club: Club, paper: Printed, reader: Reader, hidden: tuple[int, int]
) -> None:
    import cv2

    face = paper.face(1, TICKED)
    height, width = face.shape
    side = round(22 * DOTS)
    for corner in hidden:
        x, y = ((0, 0), (width - side, 0), (width - side, height - side), (0, height - side))[corner]
        face[y : y + side, x : x + side] = 160
    coarse = cv2.resize(face, None, fx=70 / 150, fy=70 / 150, interpolation=cv2.INTER_AREA)
    found = gathered(club, reader, saved(coarse, "PNG"))
    assert found.said == ()
    assert found.sheets[0].ticked == TICKED
    assert [found.sheets[0].shots[1].shown.ticks[name] for name in EMPTY] == ["empty", "empty"]


PENS = {"ball pen": (40, 2), "felt pen": (40, 8), "pencil": (205, 3)}
STRUCK = [*product((TICKED[0], EMPTY[0]), PENS, (-3.5, 0.0, 2.0))][:: share(2, 1)]
"""Which box, with which pen, how far beside it: in an everyday run every second, so that each is among them."""


@pytest.mark.parametrize(("name", "pen", "high"), STRUCK)
def test_a_row_struck_through_is_for_a_person(
    club: Club, paper: Printed, reader: Reader, name: str, pen: str, high: float
) -> None:
    """Ticked or not, with whatever pen, even where the line passes beside the box."""
    line = [(-90, high + 0.5), (-30, high), (6, high - 0.3)]
    found = gathered(club, reader, saved(tilted(paper.inked(paper.face(1, TICKED), name, line, *PENS[pen]))))
    ticks = found.sheets[0].shots[1].shown.ticks
    assert ticks[name] == "unclear"
    assert [ticks[other] for other in (TICKED[1], EMPTY[1])] == ["ticked", "empty"], "the other rows are read as ever"


@pytest.mark.parametrize("name", [TICKED[0], EMPTY[0]])
def test_ink_that_runs_into_a_box_is_for_a_person(club: Club, paper: Printed, reader: Reader, name: str) -> None:
    tail = [(-16, -8), (-8, -2), (-3, 1), (0, 1.5), (3, 0), (8, -6)]
    found = gathered(club, reader, saved(paper.inked(paper.face(1, TICKED), name, tail)))
    assert found.sheets[0].shots[1].shown.ticks[name] == "unclear"


def file_of(kind: str, pages: Sequence[np.ndarray]) -> bytes:
    """The pages in one file of a kind."""
    first, *more = (Image.fromarray(page) for page in pages)
    out = io.BytesIO()
    many = {"save_all": True, "append_images": more, "resolution": 150} if kind in ("TIFF", "PDF") else {}
    first.save(out, kind, **many)
    return out.getvalue()


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP", "HEIF", "TIFF", "PDF"])
def test_every_kind_of_file(club: Club, paper: Printed, reader: Reader, kind: str) -> None:
    pages = [paper.face(1, TICKED), paper.face(2)]
    found = gathered(club, reader, *([file_of(kind, pages)] if kind in ("TIFF", "PDF") else
                                     [file_of(kind, [page]) for page in pages]))  # fmt: skip
    assert found.said == ()
    (one,) = found.sheets
    assert (one.ticked, one.unclear, one.missing) == (TICKED, (), ())


def test_a_picture_says_itself_how_the_camera_was_held(club: Club, paper: Printed, reader: Reader) -> None:
    turned = Image.fromarray(np.ascontiguousarray(np.rot90(paper.face(1, TICKED))))
    exif = turned.getexif()
    exif[0x0112] = 6
    out = io.BytesIO()
    turned.save(out, "JPEG", exif=exif)
    assert gathered(club, reader, out.getvalue()).sheets[0].ticked == TICKED


def test_of_two_pictures_of_a_face_the_better_one_is_used(club: Club, paper: Printed, reader: Reader) -> None:
    poor = tilted(paper.face(1))
    poor[: poor.shape[0] // 4] = 70
    found = gathered(club, reader, saved(poor), saved(paper.face(1, TICKED)))
    assert said(found) == [
        f"2.jpg note face-twice: page 1 of {NUMBER} is shown twice: 2.jpg shows it better and is used"
    ]
    assert found.sheets[0].ticked == TICKED


def blurred(paper: np.ndarray) -> np.ndarray:
    """Out of focus, while the codes can still be read."""
    import cv2

    soft = cv2.GaussianBlur(paper, (0, 0), 9)
    side = round(18 * DOTS)
    for y, x in ((0, paper.shape[1] - side - round(32 * DOTS)), (paper.shape[0] - round(27 * DOTS), 0)):
        part = slice(y, y + round(28 * DOTS)), slice(x, x + side + round(32 * DOTS))
        soft[part] = paper[part]
    return soft


def shining(paper: np.ndarray) -> np.ndarray:
    """A lamp's light over most of it."""
    bright = (paper * 0.8).astype(np.uint8)
    bright[round(30 * DOTS) : round(250 * DOTS)] = 255
    return bright


def covered(paper: np.ndarray) -> np.ndarray:
    """A cloth over most of it."""
    dark = paper.copy()
    dark[round(30 * DOTS) : round(250 * DOTS)] = 120
    return dark


def small(paper: np.ndarray) -> np.ndarray:
    """Taken from far away."""
    import cv2

    return np.asarray(cv2.resize(paper, None, fx=0.34, fy=0.34, interpolation=cv2.INTER_AREA))


def laid_out_otherwise(paper: np.ndarray) -> np.ndarray:
    """The codes and corner marks of the page round another one."""
    other = paper.copy()
    rows, columns = slice(round(40 * DOTS), round(255 * DOTS)), slice(round(18 * DOTS), round(192 * DOTS))
    other[rows, columns] = other[rows, columns][::-1, ::-1]
    return other


def test_a_scan_that_lost_the_print_is_asked_for_in_grey(club: Club, paper: Printed, reader: Reader) -> None:
    import cv2

    soft = cv2.GaussianBlur(paper.face(1), (0, 0), 1.2)
    found = gathered(club, reader, saved(np.where(soft > 45, 255, 0).astype(np.uint8), "PNG"))
    ((_, one),) = found.said
    assert (one.name, one.hint) == ("black-and-white", "scan it in grey, with 150 dots to the inch")


@pytest.mark.parametrize(
    ("spoil", "name"),
    [(blurred, "picture-blurred"), (shining, "picture-glare"), (covered, "page-covered"), (small, "picture-too-small"),
     (laid_out_otherwise, "page-not-found")],
)  # fmt: skip
def test_what_must_be_taken_again_and_why(club: Club, paper: Printed, reader: Reader, spoil: object, name: str) -> None:
    found = gathered(club, reader, saved(spoil(paper.face(1))))  # type: ignore[operator]
    assert [(one.weight, one.name) for _, one in found.said] == [("refused", name)]
    assert found.said[0][1].hint.startswith("take the picture again")
    assert found.sheets == ()


def with_code(paper: Printed, text: str) -> bytes:
    """The first page with another text in both of its codes."""
    import segno

    face = paper.face(1)
    size = round(18 * DOTS)
    code = np.array(list(segno.make_qr(text, error="m").matrix_iter(scale=8, border=0)), np.uint8)
    drawn = np.asarray(Image.fromarray(np.where(code > 0, 0, 255).astype(np.uint8)).resize((size, size)))
    height, width = face.shape
    for x, y in ((width - round(48 * DOTS), round(7 * DOTS)), (round(30 * DOTS), height - round(25 * DOTS))):
        face[y - 20 : y + size + 20, x - 20 : x + size + 20] = 255
        face[y : y + size, x : x + size] = drawn
    return saved(face)


def test_what_is_none_of_this_clubs_sheets_is_refused_with_the_reason(
    club: Club, paper: Printed, reader: Reader
) -> None:
    told = club.sheet.job.issue_digest[:8].upper()
    whole = club.sheet.job.issue_digest
    codes = {
        f"{NUMBER} 12345678": f"other-print: the issue 12345678 is not the one that was issued here as {NUMBER}: "
        f"that is {whole[:SHORT]}",
        NUMBER: f"other-print: the code of {NUMBER} does not say which print it is: the sheet is older than that",
        f"7A-ROT-03-001-S1-X {told}": f'not-our-sheet: the code in the picture says "7A-ROT-03-001-S1-X {told}", '
        "which is no number of a sheet",
        f"{numbered('7A-ROT-04-001-S1')} {told}": "not-issued: engines/7A/issued holds no 7A-ROT-04-001: this folder "
        f"does not know that {numbered('7A-ROT-04-001-S1')} was printed",
        f"{numbered('9Z-ROT-03-001-S1')} {told}": "unknown-engine: "
        f"{numbered('9Z-ROT-03-001-S1')} is a sheet of engine 9Z, which this club's record does not hold",
        f"{numbered('7A-ROT-03-001-L1')} {told}": f"not-a-sign-off: {numbered('7A-ROT-03-001-L1')} is a bench leaf, "
        "which stays at the bench",
        f"{numbered('7A-ROT-03-001-S9')} {told}": f"no-such-page: {numbered('7A-ROT-03-001-S9')} is no page of "
        "that sheet, which has 2",
        "HTTPS://EXAMPLE.INVALID/": 'not-our-sheet: the code in the picture says "HTTPS://EXAMPLE.INVALID/", '
        "which is no number of a sheet",
    }
    found = gathered(club, reader, *(with_code(paper, text) for text in codes))
    assert said(found) == [f"{n}.jpg refused {message}" for n, message in enumerate(codes.values(), 1)]
    assert found.sheets == ()


def numbered(body: str) -> str:
    """A number with the check character that it should have."""
    return f"{body}-{check_character(body.replace('-', ''))}"


def test_two_pages_in_one_picture_are_refused(club: Club, paper: Printed, reader: Reader) -> None:
    both = np.hstack([paper.face(1), paper.face(2)])
    second = club.sheet.number.on_page(2).text
    assert said(gathered(club, reader, saved(both))) == [
        f"1.jpg refused two-faces: the picture shows {NUMBER} and {second}"
    ]


def test_a_picture_without_a_sheet(club: Club, paper: Printed, reader: Reader) -> None:
    bench = np.full((900, 700), 120, np.uint8)
    marks = paper.face(1)
    for y in (0, round(260 * DOTS)):
        marks[y : y + round(37 * DOTS), round(20 * DOTS) : round(190 * DOTS)] = 255
    found = gathered(club, reader, saved(bench), saved(marks))
    assert [one.hint.partition(" sharp")[0] for _, one in found.said] == ["take the picture again"] * 2
    assert said(found) == [
        "1.jpg refused no-code: neither corner marks nor a code of a sheet are seen",
        "2.jpg refused no-code: corner marks of a sheet are seen in the picture, but no code",
    ]
