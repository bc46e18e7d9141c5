"""The short card, measured and read on the finished PDF with poppler, Pillow, zxing-cpp and pymupdf.

Sources: NUREG-0700 rev. 3 (character height 0.004 and 0.006 of the distance), NASA CR-177605 (x-height 2.54 mm),
ISO 216 (A4). A card is read at 400 mm, box of 8 mm for a marker: common practice.
"""

from __future__ import annotations

import re
import subprocess
from datetime import date
from functools import cache
from pathlib import Path

import numpy as np
import pymupdf
import pytest
import zxingcpp
from PIL import Image

from docgen.club.read import read_club
from docgen.job.expand import applies
from docgen.job.number import parse_number
from docgen.job.resolve import resolve
from docgen.job.short import on_card
from docgen.press.orders import order
from docgen.press.workers import press
from docgen.sheets.scale import CAP_HEIGHT, X_HEIGHT
from docgen.sheets.short import short_card
from tests.sheets.conftest import Seen
from tests.smallclub import write

DEMO = read_club(Path(__file__).resolve().parents[2])
ON = date(2027, 2, 20)
CARDS = (("017", "between-rounds"), ("023", "clutch-service"), ("042", "top-end"), ("060", "pre-start"))
every_card = pytest.mark.parametrize(("engine", "job"), CARDS)
MM = 72 / 25.4


def job_of(engine: str, job: str):  # type: ignore[no-untyped-def]
    return resolve(DEMO, DEMO.engines[engine], DEMO.procedures[job], ON)


@cache
def seen(engine: str, job: str) -> Seen:
    assert DEMO.club is not None
    made = job_of(engine, job)
    outcome = press(order("card", short_card(made, DEMO.club.value), made, "Club"))
    assert outcome.faults == ()
    assert outcome.pressed is not None
    return Seen(outcome.pressed.pdf, outcome.pressed.pages, outcome.pressed.sizes)


def leaves(engine: str, job: str) -> list[str]:
    """The text of each leaf, two on a sheet, with single spaces."""
    return texts_of(seen(engine, job).pdf)


def texts_of(pdf: bytes) -> list[str]:
    """The same of any card."""
    out = []
    with pymupdf.open(stream=pdf) as document:
        for page in document:
            half = page.rect.width / 2
            for left in (0, half):
                text = page.get_text(clip=pymupdf.Rect(left, 0, left + half, page.rect.height), sort=False)
                if text.strip():
                    out.append(" ".join(text.split()))
    return out


SMALL = (
    "7A Short card · Willow 80 · serial W80-0007 Rotor - clean and regrease ROT revision 3, 15 January 2030 · "
    "Willow 80 workshop book For who knows this job: do, then stop and confirm. Numbers are those of the full "
    "checklist. STOP This job breaks a seal. Not without permission. Seal on the side plate: S-100. Open Do 1 "
    "to 4 2 Take the side plate and its gasket off. Seal on the side plate: Break the seal: S-100 Clean and "
    "check Do 5 to 8 WARNING Cleaning fluid vapour catches fire. Burns. Work in the open air, away from flame "
    "and spark. 5 Clean the rotor. 7 Let rotor and nut dry. 10 min Close Do 9 to 17 9 Slide the spacer on. "
    "Spacer: chamfered face towards the crankcase 12 Tighten the rotor nut. 34 N·m ± 10 % Threadlocker 13 "
    "Measure the rotor gap at the widest place. HOLD A rotor that rubs bends the crankshaft. Checked by: Accept "
    "0.25 to 0.40 mm 15 Put the side plate on. Seal on the side plate: Fit a seal 16 Start all screws of the "
    "side plate by hand. Start all 3 by hand: before you tighten any "
    "17 Tighten the screws of the side plate crosswise. Evenly and snug Then the closing checks, on the "
    "sign-off sheet. The engine maker’s manual, class rules, local codes and licensed practice come first. "
    "7A-ROT-03-001-B1-C Page 1 of 1",
)


def test_the_small_club_s_card_word_for_word(tmp_path: Path) -> None:
    folder = read_club(write(tmp_path))
    assert folder.club is not None
    made = resolve(folder, folder.engines["7A"], folder.procedures["rotor-service"], date(2030, 4, 1))
    pressed = press(order("card", short_card(made, folder.club.value), made, "Club")).pressed
    assert pressed is not None
    assert texts_of(pressed.pdf) == list(SMALL)


@pytest.mark.parametrize("engine", sorted(DEMO.engines))
def test_the_between_rounds_job_fits_one_card(engine: str) -> None:
    """One side of A5, also on an engine that is not as its model."""
    record = DEMO.engines[engine]
    assert applies(DEMO.procedures["between-rounds"].value, DEMO.models[record.engine.model].value)
    assert len(leaves(engine, "between-rounds")) == 1
    assert len(DEMO.engines) >= 9
    assert [number for number in DEMO.engines if job_of(number, "between-rounds").instructions.deviations]


@pytest.mark.parametrize(
    ("engine", "job"), [("004", "clutch-service"), ("042", "running-in"), ("023", "after-meeting")]
)
def test_no_card_ends_on_a_nearly_empty_leaf_and_each_front_but_the_last_says_turn_over(engine: str, job: str) -> None:
    """Each of these three did: set tighter, it saves the leaf, or else the leaf begins earlier."""
    made, found = seen(engine, job), leaves(engine, job)
    assert len(found) > 1
    for n, text in enumerate(found, 1):
        turn = " · turn over" if n % 2 and n < len(found) else ""
        assert text.endswith(f"Page {n} of {len(found)}{turn}")
    column = made.sizes[0][0] / 2 * ((len(found) - 1) % 2)
    words = [w for w in made.words(made.pages) if column < w.left < column + made.sizes[0][0] / 2]
    foot = next(w.top for n, w in enumerate(words) if [one.text for one in words[n : n + 2]] == ["The", "engine"])
    head = next(w.bottom for w in words if w.text == "Short")
    assert max(w.bottom for w in words if w.bottom < foot) - head > 0.35 * (foot - head)


@every_card
def test_a_card_bears_its_steps_by_the_checklist_s_numbers_and_no_reasons(engine: str, job: str) -> None:
    told = job_of(engine, job).instructions
    text = " ".join(leaves(engine, job))
    wanted = [f"{step.number} {step.text}" for step in told.steps if on_card(step)]
    assert len(wanted) >= 6
    plain = re.sub(r"\s+", " ", text.replace("\u00a0", " "))
    for step in told.steps:
        shown = step.text.replace("\u00a0", " ") in plain
        assert shown or not on_card(step), step.text
        assert not step.why or step.why not in plain, step.why
    for message in (m for step in told.steps for m in step.messages if on_card(step)):
        assert f"{message.hazard} {message.consequence} {message.avoid}" in plain


@every_card
def test_every_leaf_tells_its_number_and_whose_figures_come_first(engine: str, job: str) -> None:
    made, found = seen(engine, job), leaves(engine, job)
    numbers = [re.findall(r"\b\d{3}-[A-Z]{3}-\d\d-001-B\d+-[0-9A-Z]\b", text) for text in found]
    assert [len(one) for one in numbers] == [1] * len(found)
    assert [parse_number(one[0]).page for one in numbers] == list(range(1, len(found) + 1))
    for n, text in enumerate(found, 1):
        assert f"Page {n} of {len(found)}" in text
        assert "The engine maker’s manual, class rules, local codes and licensed practice come first." in text
    codes = [
        code.text
        for page in range(1, made.pages + 1)
        for code in sorted(
            zxingcpp.read_barcodes(Image.fromarray(made.pixels(page, 150))), key=lambda one: one.position.top_left.x
        )
    ]
    assert codes == [one[0] for one in numbers]


@every_card
def test_type_is_as_large_as_a_card_in_the_hand_asks(engine: str, job: str) -> None:
    made = seen(engine, job)
    sizes, said = [], []
    for page in range(1, made.pages + 1):
        for word in made.words(page):
            sizes.append(word.size)
            if word.text in ("Tighten", "Press", "Measure", "Open", "Start"):
                said.append(word.size)
    assert min(sizes) * CAP_HEIGHT >= 0.005 * 400 - 0.02
    assert len(said) >= 3
    assert max(said) * X_HEIGHT >= 2.54 - 0.01


@every_card
def test_the_top_and_the_rim_for_the_pouch_stay_blank_but_for_the_cut_marks(engine: str, job: str) -> None:
    made = seen(engine, job)
    for page in range(1, made.pages + 1):
        pixels = made.pixels(page, 150).copy()
        middle = pixels.shape[1] // 2
        pixels[:, middle - 3 : middle + 4] = 255
        per_mm = 150 / 25.4
        rim = int(6 * per_mm)
        for strip in (pixels[: int(12 * per_mm) - 1], pixels[-rim:], pixels[:, :rim], pixels[:, -rim:],
                      pixels[:, middle - rim : middle + rim]):  # fmt: skip
            assert np.all(strip == 255), f"page {page}"


def test_an_engine_that_is_not_as_its_model_says_so_with_its_figures() -> None:
    first = leaves("023", "clutch-service")[0]
    assert "This engine is not as its model Screw of the earth strap: Earth strap screw re-tapped" in first
    rest = " ".join(leaves("023", "clutch-service"))
    assert "6.5 N·m ± 10 % estimate this engine" in rest.replace("\u00a0", " ")


def test_a_seal_stops_the_work_on_the_card_too() -> None:
    text = " ".join(leaves("017", "top-end"))
    assert "STOP This job breaks a seal. Not without permission. Seal on the cylinder: KM-30101" in text
    assert "Seal on the cylinder: Break the seal: KM-30101" in text


def test_the_same_job_gives_the_same_bytes() -> None:
    made = job_of("060", "pre-start")
    assert DEMO.club is not None
    again = press(order("card", short_card(made, DEMO.club.value), made, "Club")).pressed
    assert again is not None
    assert again.pdf == seen("060", "pre-start").pdf


def test_print_short_puts_the_card_in_place_of_the_checklist(tmp_path: Path) -> None:
    """Through the command, on the small club: the card bears the print's number, the sign-off sheet goes with it."""
    from click.testing import CliRunner

    from docgen.cli.frame import docgen
    root = write(tmp_path / "club")
    result = CliRunner().invoke(
        docgen, ["--club", str(root), "print", "7A", "--job", "ROT", "--short", "--on", "2030-04-01"],
        catch_exceptions=False,
    )  # fmt: skip
    assert result.exit_code == 0, result.output
    assert sorted(path.name for path in (root / "out/7A").glob("*.pdf")) == ["7A-ROT-short.pdf", "7A-ROT-sign-off.pdf"]
    text = subprocess.run(
        ["pdftotext", "-layout", str(root / "out/7A/7A-ROT-short.pdf"), "-"], capture_output=True, text=True, check=True
    ).stdout
    assert len(re.findall(r"7A-ROT-03-001-B\d-\w", text)) == text.count("Page ")
    assert re.sub(r"\d+ pages?", "N pages", result.stdout).replace(f"{root}/", "").splitlines()[1:4] == [
        "  Rotor - clean and regrease (due: no record that it was ever done; before First (2030-05-05))",
        "    short        N pages  out/7A/7A-ROT-short.pdf",
        "    sign-off    N pages  out/7A/7A-ROT-sign-off.pdf",
    ]
