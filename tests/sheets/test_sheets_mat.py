"""The layout mat measured from its PDF by a tool that is not ours: outlines as large as stated, places that hold them.

Source of the sizes: the model's own shapes; a screw without one takes 2 by 5 diameters of its thread.
"""

from __future__ import annotations

from functools import cache

import pymupdf
import pytest

from docgen.job.figures import Figures
from docgen.job.resolve import resolve
from docgen.job.state import state_of
from docgen.plan.laydown import Laydown, laydown
from docgen.press.orders import plain_order
from docgen.press.workers import press
from docgen.sheets.box import BoxError, Compartments, box
from docgen.sheets.lying import CLEAR
from docgen.sheets.mat import mat, papers
from docgen.sheets.matpage import EDGE, JOIN
from docgen.sheets.page import Page
from tests.demo.conftest import ON, _club

MM = 25.4 / 72
JOBS = [("023", "clutch-service"), ("023", "carburettor-service"), ("042", "pre-season")]
PAPERS = {"A4": (210, 297), "A3": (420, 297), "A3-on-A4": (210, 297)}


def laid(engine: str, job: str) -> Laydown:
    folder = _club()
    assert folder.club is not None
    record = folder.engines[engine]
    figures = Figures(folder.club.value, folder.models[record.engine.model].value, state_of(record, ON))
    return laydown(folder, folder.procedures[job], figures)


def page_of(engine: str, job: str, paper: str = "", grid: Compartments | None = None) -> Page:
    folder = _club()
    assert folder.club is not None
    told = resolve(folder, folder.engines[engine], folder.procedures[job], ON).instructions
    club = folder.club.value
    if grid:
        return box(laid(engine, job), told, club, grid)
    return mat(laid(engine, job), told, club, *papers(club)[paper])


@cache
def pressed(engine: str, job: str, paper: str = "", grid: Compartments | None = None) -> bytes:
    outcome = press(plain_order("mat", page_of(engine, job, paper, grid), "Club", ON, (engine,)))
    assert outcome.pressed is not None, outcome.faults
    return outcome.pressed.pdf


def rectangles(page: pymupdf.Page) -> list[tuple[str, float, float, float, float]]:
    """Every closed path: how it is painted, then left, top, width and height in mm."""
    found = []
    for drawing in page.get_drawings():
        area = drawing["rect"]
        kind = "dashed" if drawing["dashes"] not in ("[] 0", "", None) else "whole"
        found.append((kind, area.x0 * MM, area.y0 * MM, area.width * MM, area.height * MM))
    return found


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize(("engine", "job"), JOBS)
def test_every_outline_is_as_large_as_its_piece_is_stated(engine: str, job: str, paper: str) -> None:
    document = pymupdf.open(stream=pressed(engine, job, paper))
    drawn = [one for page in document for one in rectangles(page)]
    outlined = beside = 0
    text = " ".join(" ".join(page.get_text().split()) for page in document)
    for piece in laid(engine, job).pieces:
        foot = piece.footprint
        assert foot is not None
        if f"{foot.width:g}" in text and text.count("Too large for this paper") and max(foot.width, foot.height) > 190:
            beside += 1
            continue
        sizes = [(foot.width, foot.height), (foot.height, foot.width)]
        if foot.kind == "screw":  # its head, a fifth of its length, over its whole width
            sizes = [(w, h / 5) for w, h in sizes] + [(w / 5, h) for w, h in sizes]
        # the path runs through the middle of a line that is drawn inside the stated size
        hits = [d for d in drawn if any(abs(d[3] - w) < 0.5 and abs(d[4] - h) < 0.5 for w, h in sizes)]
        near = [d for d in hits if any(abs(d[3] - w) <= 0.32 and abs(d[4] - h) <= 0.32 for w, h in sizes)]
        assert len(near) >= 1, (piece.mark, piece.name, foot)
        outlined += 1
    assert outlined >= 10
    assert beside + outlined == len(laid(engine, job).pieces)


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize(("engine", "job"), JOBS)
def test_each_piece_has_one_place_with_its_number_on_paper_of_the_size(engine: str, job: str, paper: str) -> None:
    document = pymupdf.open(stream=pressed(engine, job, paper))
    for page in document:
        size = (page.rect.width * MM, page.rect.height * MM)
        assert size == pytest.approx(PAPERS[paper], abs=0.1)
    big = [
        span["text"].strip()
        for page in document
        for block in page.get_text("dict")["blocks"]
        for line in block.get("lines", [])
        for span in line["spans"]
        if span["size"] > 21 and span["bbox"][1] * MM > 25
    ]
    assert sorted(big) == sorted(piece.mark for piece in laid(engine, job).pieces)


@pytest.mark.parametrize(("engine", "job"), JOBS[:2])
def test_places_hold_their_pieces_with_clear_space(engine: str, job: str) -> None:
    document = pymupdf.open(stream=pressed(engine, job, "A4"))
    seen = 0
    for page in document:
        grey = [d["rect"] for d in page.get_drawings() if d["fill"] and 0.8 < d["fill"][0] < 0.95]
        rules = [d["rect"] for d in page.get_drawings() if min(d["rect"].width, d["rect"].height) * MM < 0.4
                 and max(d["rect"].width, d["rect"].height) * MM > 12]  # fmt: skip
        for piece in grey:
            room = CLEAR - 0.5
            grown = pymupdf.Rect(piece.x0 - room, piece.y0 - room, piece.x1 + room, piece.y1 + room)
            assert not any(grown.intersects(rule) for rule in rules), (page.number, piece)
            seen += 1
    assert seen >= 10


def test_the_two_halves_of_a_joined_mat_meet_mark_on_mark() -> None:
    document = pymupdf.open(stream=pressed("023", "clutch-service", "A3-on-A4"))
    assert document.page_count % 2 == 0
    for left, right in zip(document.pages(0, None, 2), document.pages(1, None, 2), strict=True):
        seam_left, seam_right = _crosses(left), _crosses(right)
        assert [y for _, y in seam_left] == pytest.approx([y for _, y in seam_right], abs=0.1)
        assert len(seam_left) == 2
        # laid with the marks on one another, the printed areas of 192 mm each meet at the seam
        assert [x for x, _ in seam_left] == pytest.approx([210 - JOIN] * 2, abs=0.1)
        assert [x for x, _ in seam_right] == pytest.approx([JOIN] * 2, abs=0.1)
        assert seam_left[0][0] - EDGE == pytest.approx(192, abs=0.1)


def _crosses(page: pymupdf.Page) -> list[tuple[float, float]]:
    """Middles of the circles of the joining marks, from the top."""
    found = {
        (round((d["rect"].x0 + d["rect"].x1) / 2 * MM, 2), round((d["rect"].y0 + d["rect"].y1) / 2 * MM, 2))
        for d in page.get_drawings()
        if abs(d["rect"].width * MM - 3.6) < 0.4 and abs(d["rect"].height * MM - 3.6) < 0.4 and not d["fill"]
    }
    return sorted(found, key=lambda at: at[1])


def test_compartments_of_a_box_are_as_large_as_asked() -> None:
    document = pymupdf.open(stream=pressed("023", "clutch-service", "", Compartments(4, 4, 45, 40)))
    marks = [w for page in document for w in page.get_text("words") if w[3] - w[1] > 14 and w[0] * MM < 190]
    named = [w for w in marks if w[4][0].isdigit() and len(w[4]) < 4 and w[1] * MM > 30]
    assert [w[4] for w in named][:6] == ["2", "6a", "8", "9a", "11", "12a"]
    assert len({round((w[0] * MM - EDGE) // 45) for w in named}) == 4
    for word in named:
        across, down = (word[0] * MM - EDGE) % 45, (word[1] * MM - named[0][1] * MM) % 40
        assert 1.0 < across < 3.0, word
        assert min(down, 40 - down) < 0.2, word


def test_a_box_larger_than_the_paper_is_refused() -> None:
    with pytest.raises(BoxError) as refused:
        page_of("023", "clutch-service", grid=Compartments(4, 4, 60, 40))
    assert str(refused.value) == (
        "4 by 4 compartments of 60 by 40 mm are larger than the 194 by 231 mm that A4 leaves them: write fewer, or"
        " smaller ones"
    )


def test_a_compartment_too_small_for_its_words_is_refused() -> None:
    with pytest.raises(BoxError) as refused:
        page_of("023", "clutch-service", grid=Compartments(10, 10))
    assert "and a compartment has" in str(refused.value)
    assert str(refused.value).endswith("write fewer compartments")


def test_the_engine_s_plate_has_the_club_s_colour() -> None:
    folder = _club()
    assert folder.club is not None
    told = resolve(folder, folder.engines["023"], folder.procedures["clutch-service"], ON).instructions
    club = folder.club.value
    green = club.model_copy(update={"style": club.style.model_copy(update={"plate": "#1a4d2e"})})
    assert filled(mat(laid("023", "clutch-service"), told, club, *papers(club)["A4"])) == {(0, 0, 0)}
    assert filled(mat(laid("023", "clutch-service"), told, green, *papers(club)["A4"])) == {(0x1A, 0x4D, 0x2E)}


def filled(page: Page) -> set[tuple[int, ...]]:
    """The colours of what is filled behind white words on the first page."""
    outcome = press(plain_order("mat", page, "Club", ON, ("023",)))
    assert outcome.pressed is not None, outcome.faults
    with pymupdf.open(stream=outcome.pressed.pdf) as document:
        (engine,) = document[0].search_for("023", clip=pymupdf.Rect(0, 0, 150, 100))[:1]
        return {
            tuple(round(255 * part) for part in drawing["fill"])
            for drawing in document[0].get_drawings()
            if drawing["fill"] and drawing["rect"].contains(engine)
        }
