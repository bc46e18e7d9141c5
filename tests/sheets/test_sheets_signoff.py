"""The sign-off sheet, measured on the finished PDF: fields with pikepdf, marks and codes in the pixels."""

from __future__ import annotations

import io

import numpy as np
import pikepdf
import pytest
import zxingcpp
from PIL import Image

from docgen.sheets.drawings.fiducials import DOT, DOTS, EDGE, SIZE
from tests.sheets.conftest import PT, Seen, seen

FIELDS = """\
after-run-by after-run-date after-run-leaks after-run-retorque after-run-time also-renewed-1 also-renewed-2
also-renewed-3 also-renewed-4 closing-outer-washer-worn done-by engine-hours findings hold-clearance_own
hold-clearance_second hold-clearance_time looked-all looked-except low-needle-found measure-clutch-clearance
measure-shoe-lining_1 measure-shoe-lining_2 next-due-date next-due-hours next-due-what open-finding-1_done
open-finding-1_how released-by released-on released-signature seal-fitted-cylinder seal-removed-cylinder
seal-removed-cylinder_permission second-by second-on second-signature struck tighten-clutch-nut_initials
tighten-clutch-nut_paint tighten-clutch-nut_wrench tighten-cylinder-nuts_initials tighten-cylinder-nuts_value
tighten-cylinder-nuts_wrench tighten-earth-strap-screw_initials tighten-earth-strap-screw_wrench wait-cure_finish
wait-cure_start work-completed work-started""".split()


def fields(made: Seen) -> list[tuple[str, str, int, tuple[float, float, float, float]]]:
    """Name, kind (Tx, Btn), page and rectangle (left, top, right, bottom in mm) of every field."""
    found = []
    with pikepdf.open(io.BytesIO(made.pdf)) as pdf:
        for number, page in enumerate(pdf.pages, 1):
            height = made.sizes[number - 1][1]
            for note in page.get("/Annots", []):
                if note.get("/Subtype") == "/Widget":
                    x0, y0, x1, y1 = (float(v) * PT for v in note["/Rect"])
                    rect = (min(x0, x1), height - max(y0, y1), max(x0, x1), height - min(y0, y1))
                    found.append((str(note["/T"]), str(note["/FT"])[1:], number, rect))
    return found


def test_every_blank_is_a_field_with_its_marks_key(signed: Seen) -> None:
    assert sorted(name for name, *_ in fields(signed)) == FIELDS


def test_tick_boxes_are_at_least_5_mm_and_keep_clear_of_one_another(signed: Seen) -> None:
    ticks = [(page, rect) for _, kind, page, rect in fields(signed) if kind == "Btn"]
    assert len(ticks) > 5
    for _, (left, top, right, bottom) in ticks:
        assert right - left >= 4.2  # inside its border of 0.45 mm: the box itself is 5.2 mm
        assert bottom - top >= 4.2
    for n, (page, a) in enumerate(ticks):
        for other, b in ticks[n + 1 :]:
            if page == other:
                apart = max(b[0] - a[2], a[0] - b[2], b[1] - a[3], a[1] - b[3])
                assert apart >= 2.0


def test_initials_stand_away_from_columns_of_ticks(signed: Seen) -> None:
    found = fields(signed)
    initials = [(page, rect) for name, _, page, rect in found if name.endswith("_initials")]
    assert initials
    for page, rect in initials:
        for _, kind, other, tick in found:
            if kind == "Btn" and other == page and tick[1] < rect[3] and rect[1] < tick[3]:
                assert rect[0] - tick[2] >= 10


def test_fields_stay_clear_of_holes_marks_and_codes(signed: Seen) -> None:
    for name, _, page, (left, top, right, bottom) in fields(signed):
        width, height = signed.sizes[page - 1]
        assert left >= 17, name  # two holes, ISO 838: 12 +/- 1 mm in, 6 +/- 0.5 mm wide
        assert right <= width - 11.9, name
        assert bottom <= height - 26.4, name
        assert top >= 26.4 or page == 1, name


def test_two_codes_diagonally_opposite_name_the_page(signed: Seen) -> None:
    for page in range(1, signed.pages + 1):
        width, height = signed.sizes[page - 1]
        pixels = signed.pixels(page, 100)
        codes = zxingcpp.read_barcodes(Image.fromarray(pixels))
        assert len(codes) == 2
        assert len({code.text for code in codes}) == 1
        number, issue = codes[0].text.split()
        assert number in signed.text(page)
        assert number.split("-")[4] == f"S{page}"
        assert len(issue) == 8
        assert f"{issue.lower()}" in signed.text(page)
        mm = 25.4 / 100
        corners = sorted(
            (c.position.top_left.y * mm, c.position.top_left.x * mm, c.position.top_right.x * mm) for c in codes
        )
        assert abs(corners[0][0] - 7) < 0.6
        assert abs(corners[0][2] - (width - 30)) < 0.6
        assert abs(corners[1][0] - (height - 25)) < 0.6
        assert abs(corners[1][1] - 30) < 0.6
        assert all(abs(right - left - 18) < 0.6 for _, left, right in corners)


def test_corner_marks_have_their_dots(signed: Seen) -> None:
    assert list(DOTS) == ["top-left", "top-right", "bottom-right", "bottom-left"]
    dot = 150 / 25.4
    for page in range(1, signed.pages + 1):
        pixels, (width, height) = signed.pixels(page), signed.sizes[page - 1]
        for corner, dots in DOTS.items():
            x = EDGE if corner.endswith("left") else width - EDGE - SIZE
            y = EDGE if corner.startswith("top") else height - EDGE - SIZE
            mark = pixels[int(y * dot) + 2 : int((y + SIZE) * dot) - 2, int(x * dot) + 2 : int((x + SIZE) * dot) - 2]
            white = np.argwhere(mark > 128) / dot - SIZE / 2
            assert len(white) / dot**2 == pytest.approx(sum(dots) * np.pi * (DOT / 2) ** 2, rel=0.05), corner
            places = [(np.hypot(*(white - (dy, dx)).T) < DOT / 2).sum() for dy in (-2, 2) for dx in (-2, 2)]
            assert [int(count > 0.5 * max(places)) for count in places] == list(dots), corner


def test_no_mark_looks_like_another_one_turned() -> None:
    turned = {corner: {tuple(np.rot90(np.reshape(dots, (2, 2)), n).ravel()) for n in range(4)}
              for corner, dots in DOTS.items()}  # fmt: skip
    assert [len(ways) for ways in turned.values()] == [4, 4, 2, 4]
    assert len(set().union(*turned.values())) == 14


def test_the_marks_have_white_round_them(signed: Seen) -> None:
    dot = 150 / 25.4
    for page in range(1, signed.pages + 1):
        pixels, (width, height) = signed.pixels(page), signed.sizes[page - 1]
        for left in (EDGE, width - EDGE - SIZE):
            for top in (EDGE, height - EDGE - SIZE):
                region = pixels[
                    int((top - 1.7) * dot) : int((top + SIZE + 1.7) * dot),
                    int((left - 1.7) * dot) : int((left + SIZE + 1.7) * dot),
                ].copy()
                edge = int(1.5 * dot)
                region[edge:-edge, edge:-edge] = 255
                assert np.all(region == 255)


def test_text_holds_the_entry_elements() -> None:
    """The elements of 14 CFR 43.9(a) and 91.417(a), as a model of a good entry."""
    made = seen("sign-off")
    text = " ".join(made.text(page) for page in range(1, made.pages + 1))
    for told in (
        "Clutch: clean, inspect and regrease",  # the work
        "Work as CLU revision 4, 18 January 2026",  # the data it was done by
        "Work completed on",
        "Work done by (name)",
        "Engine hours at this work",
        "Hours on record",
        "23.4 h",
        "Findings and remarks",
        "The work named here, and only that, was done as its rows say, but for what stands under findings;",
        "every part, cloth and tool is accounted for.",
        "The signature approves this work only, not the rest of the engine.",
        "Released by (name) Signature Date",
        "Next due: what Due at engine hours",
        "This engine is not as its model: Earth strap screw: re-tapped M6×1, was M5×0.8.",
    ):
        assert told in text, told


def test_smallest_print_is_7_points(signed: Seen) -> None:
    sizes = [word.size / PT for page in range(1, signed.pages + 1) for word in signed.words(page)]
    assert min(sizes) > 6.9
    assert sorted(sizes)[len(sizes) // 2] > 8.4
