"""The layout mat measured from its PDF by a tool that is not ours: outlines as large as stated, places that hold them.

Source of the sizes: the model's own shapes; a screw without one takes 2 by 5 diameters of its thread.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache

import pymupdf
import pytest

from docgen.club.schema.club import Club
from docgen.job.figures import Figures
from docgen.job.job import Instructions
from docgen.job.resolve import resolve
from docgen.job.state import state_of
from docgen.plan.laydown import Footprint, Laydown, laydown, stage_of
from docgen.press.orders import plain_order
from docgen.press.workers import press
from docgen.sheets.mat import FACTORS, HAND, Mat, mat
from docgen.sheets.matpage import EDGE, BoxError, Compartments, box
from docgen.sheets.matpiece import CLEAR
from docgen.sheets.page import Page
from tests.demo.conftest import ON, _club

MM = 25.4 / 72
JOBS = [
    ("023", "spark-plug-renewal", ""),
    ("023", "ignition-electrics", "A4"),
    ("023", "clutch-service", ""),
    ("023", "clutch-service", "A4"),
    ("023", "carburettor-service", ""),
    ("042", "bottom-end-check", "A3"),
]
SIZES = {"A4": (210, 297), "A3": (297, 420)}


def laid(engine: str, job: str) -> Laydown:
    folder = _club()
    record = folder.engines[engine]
    figures = Figures(folder.club.value, folder.models[record.engine.model].value, state_of(record, ON))
    return laydown(folder, folder.procedures[job], figures)


def told_of(engine: str, job: str) -> tuple[Instructions, Club]:
    folder = _club()
    return resolve(folder, folder.engines[engine], folder.procedures[job], ON).instructions, folder.club.value


@cache
def mat_of(engine: str, job: str, paper: str = "") -> Mat:
    return mat(laid(engine, job), *told_of(engine, job), paper)


def box_of(engine: str, job: str, grid: Compartments) -> Page:
    return box(laid(engine, job), *told_of(engine, job), grid)


@cache
def pressed(engine: str, job: str, paper: str = "", grid: Compartments | None = None) -> pymupdf.Document:
    page = box_of(engine, job, grid) if grid else mat_of(engine, job, paper).page
    outcome = press(plain_order("mat", page, "Club", ON, (engine,)))
    assert outcome.pressed is not None, outcome.faults
    return pymupdf.open(stream=outcome.pressed.pdf)


def words_of(document: pymupdf.Document) -> str:
    return " ".join(" ".join(page.get_text().replace("\xa0", " ").split()) for page in document)


def rectangles(page: pymupdf.Page) -> list[tuple[str, float, float, float, float]]:
    """Every closed path: how it is painted, then left, top, width and height in mm."""
    found = []
    for drawing in page.get_drawings():
        area = drawing["rect"]
        kind = "dashed" if drawing["dashes"] not in ("[] 0", "", None) else "whole"
        found.append((kind, area.x0 * MM, area.y0 * MM, area.width * MM, area.height * MM))
    return found


@pytest.mark.parametrize(("engine", "job", "paper"), JOBS)
def test_every_outline_is_as_large_as_its_piece_is_stated_by_one_factor(engine: str, job: str, paper: str) -> None:
    made, document = mat_of(engine, job, paper), pressed(engine, job, paper)
    drawn = [one for page in document for one in rectangles(page)]
    found = places(document)
    for piece in laid(engine, job).pieces:
        foot = piece.footprint
        assert foot is not None
        wide, high = foot.width * made.factor, foot.height * made.factor
        sizes = [(wide, high), (high, wide)]
        if foot.kind == "screw":  # its head, a fifth of its length, over its whole width
            sizes = [(w, h / 5) for w, h in sizes] + [(w / 5, h) for w, h in sizes]
        # the path runs through the middle of a line that is drawn inside the stated size
        near = [d for d in drawn if any(abs(d[3] - w) <= 0.32 and abs(d[4] - h) <= 0.32 for w, h in sizes)]
        aside = "Lies beside the mat" in found[piece.mark][1]
        assert near or (aside and max(foot.width, foot.height) > HAND), (piece.mark, piece.name, foot)
    said = words_of(document)
    assert made.beside == said.count("Lies beside the mat") <= len(laid(engine, job).pieces) / 2
    scale = "Outlines at full size." if made.factor == 1 else f"Outlines at {100 * made.factor:.0f} %."
    assert said.count(scale) == document.page_count == made.sheets


@pytest.mark.parametrize(("engine", "job", "paper"), JOBS)
def test_each_piece_has_one_place_with_its_rows_on_paper_of_the_size(engine: str, job: str, paper: str) -> None:
    made, document = mat_of(engine, job, paper), pressed(engine, job, paper)
    for page in document:
        size = sorted((page.rect.width * MM, page.rect.height * MM))
        assert size == pytest.approx(SIZES[made.paper.name], abs=0.1)
        assert paper in ("", made.paper.name)
    found, pieces = places(document), laid(engine, job).pieces
    assert list(found) == [piece.mark for piece in pieces]
    for piece in pieces:
        said = found[piece.mark][1]
        assert (f"back in row {piece.back}" if piece.back else "stays off") in said, said
        assert piece.name.casefold() in said.casefold(), said


@pytest.mark.parametrize(("engine", "job", "paper"), JOBS)
def test_outlines_have_clear_space_and_no_place_is_smaller_than_its_piece(engine: str, job: str, paper: str) -> None:
    document = pressed(engine, job, paper)
    for page in document:
        grey = [d["rect"] for d in page.get_drawings() if d["fill"] and 0.8 < d["fill"][0] < 0.95]
        for outline in grey:
            held = [cell for cell in cells(page) if cell.intersects(outline)]
            assert len(held) == 1
            edges = (outline.x0 - held[0].x0, held[0].x1 - outline.x1, held[0].y1 - outline.y1)
            assert min(edges) * MM > CLEAR - 0.5, (page.number, outline)
    on_it, found = 0, places(document)
    for piece in laid(engine, job).pieces:
        foot, (place, said) = piece.footprint, found[piece.mark]
        assert foot is not None
        low, high = sorted((foot.width, foot.height))
        if "Lies beside the mat" in said:
            assert high > HAND, piece.name
            continue
        wide, tall = sorted((place.width * MM, place.height * MM))
        assert wide >= low - 0.7, piece.name
        assert tall >= high - 0.7, piece.name
        assert wide * tall >= piece.count * low * high - 0.7 * (wide + tall), piece.name
        on_it += 1
    assert on_it >= len(found) / 2


def cells(page: pymupdf.Page) -> list[pymupdf.Rect]:
    """The frames of a page's places, in reading order."""
    black = [d["rect"] for d in page.get_drawings() if d["type"] == "f" and d["fill"] == (0, 0, 0)]
    return [area for area in black if area.y0 * MM > 27 and area.height * MM > 10]


def places(document: pymupdf.Document) -> dict[str, tuple[pymupdf.Rect, str]]:
    """By its mark, the frame of each place and what is said in it."""
    return {mark: where for page in document for mark, where in places_of(page)}


def places_of(page: pymupdf.Page) -> Iterator[tuple[str, tuple[pymupdf.Rect, str]]]:
    """The same of one page."""
    for cell in cells(page):
        words = [word for word in page.get_text("words") if cell.contains(pymupdf.Point(word[0] + 1, word[1] + 3))]
        mark = max(words, key=lambda word: word[3] - word[1])[4]
        yield mark, (cell, " ".join(word[4] for word in words).replace("\xa0", " "))


def test_the_larger_paper_is_taken_where_full_size_needs_it_and_a_smaller_one_only_if_asked() -> None:
    found = {
        (job, asked): (made.paper.name, made.factor, made.sheets)
        for engine, job, asked in JOBS
        if (made := mat_of(engine, job, asked)) and engine == "023"
    }
    assert found["spark-plug-renewal", ""] == ("A4", 1.0, 1)
    assert found["clutch-service", ""][::2] == ("A3", 1)
    assert found["carburettor-service", ""][::2] == ("A3", 1)
    assert found["ignition-electrics", "A4"][::2] == ("A4", 1)
    assert all(factor in FACTORS for _, factor, _ in found.values())
    assert min(factor for _, factor, _ in found.values()) < 1.0


def test_a_mat_that_no_sheet_holds_is_split_by_stages_in_order() -> None:
    made, document = mat_of("042", "bottom-end-check", "A3"), pressed("042", "bottom-end-check", "A3")
    assert 2 <= made.sheets <= 4
    told, pieces = told_of("042", "bottom-end-check")[0], laid("042", "bottom-end-check").pieces
    stages = {piece.mark: stage_of(piece, told) for piece in pieces}
    order = [piece.mark for piece in pieces]
    last = -1
    for n, page in enumerate(document, 1):
        marks = [mark for mark, _ in places_of(page)]
        assert marks == order[: len(marks)]
        order = order[len(marks) :]
        assert f"{n} of {made.sheets}: {marks[0]} to {marks[-1]}" in words_of(document)
        assert stages[marks[0]] > last, "a stage begins the sheet"
        last = stages[marks[-1]]
    assert order == []


def test_compartments_of_a_box_are_as_large_as_asked() -> None:
    document = pressed("023", "clutch-service", "", Compartments(4, 4, 45, 40))
    marks = [w for page in document for w in page.get_text("words") if w[3] - w[1] > 20 and w[0] * MM < 190]
    named = [w for w in marks if w[4][0].isdigit() and len(w[4]) < 6 and w[1] * MM > 30]
    small = [one for one in laid("023", "clutch-service").pieces if one.footprint and holds(one.footprint, 45, 40)]
    assert sorted(w[4] for w in named) == sorted(piece.mark for piece in small)
    assert len(small) > 8
    assert len({round((w[0] * MM - EDGE) // 45) for w in named}) == 4
    for word in named:
        across, down = (word[0] * MM - EDGE) % 45, (word[1] * MM - named[0][1] * MM) % 40
        assert 1.0 < across < 3.0, word
        assert min(down, 40 - down) < 0.2, word


def holds(foot: Footprint, width: float, height: float) -> bool:
    """Whether a piece lies in a compartment, whose walls take 3 mm."""
    wide, high = sorted((foot.width, foot.height))
    return wide + 3 <= min(width, height) and high + 3 <= max(width, height)


def test_a_box_larger_than_the_paper_is_refused() -> None:
    with pytest.raises(BoxError) as refused:
        box_of("023", "clutch-service", Compartments(4, 4, 60, 40))
    assert re.fullmatch(
        r"4 by 4 compartments of 60 by 40 mm are larger than the 194 by 2\d\d mm that A4 leaves them: write fewer, or"
        r" smaller ones",
        str(refused.value),
    )


def test_a_compartment_too_small_for_its_words_is_refused() -> None:
    with pytest.raises(BoxError) as refused:
        box_of("023", "clutch-service", Compartments(10, 10))
    assert "and a compartment has" in str(refused.value)
    assert str(refused.value).endswith("write fewer compartments")


def test_the_engine_s_plate_has_the_club_s_colour() -> None:
    told, club = told_of("023", "clutch-service")
    green = club.model_copy(update={"style": club.style.model_copy(update={"plate": "#1a4d2e"})})
    assert filled(mat(laid("023", "clutch-service"), told, club, "A4").page) == {(0, 0, 0)}
    assert filled(mat(laid("023", "clutch-service"), told, green, "A4").page) == {(0x1A, 0x4D, 0x2E)}


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
