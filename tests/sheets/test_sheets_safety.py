"""The safety sheet: what is on it is what the register says, by the standard's words, and it gives way to the label.

Source: Regulation (EC) No 1272/2008 (CLP). Statements whose table of Annex I is named were read in a copy of the
consolidated text; the others are from memory, and the sheet says so.
"""

from __future__ import annotations

import re
import subprocess
import sys
from datetime import date
from functools import cache
from pathlib import Path

import pymupdf
import pytest
from click.testing import CliRunner, Result

from docgen.cli.frame import docgen
from docgen.club.read import read_club
from docgen.club.schema.club import Material
from docgen.club.schema.prose import Said
from docgen.club.words import Words
from docgen.sheets.safety import entry
from docgen.sheets.signals import hazards
from docgen.trade.hazard_statements import split, statements
from tests.smallclub import texts, write

UNREAD = "not checked against the text"
ROOT = Path(__file__).resolve().parents[2]
DEMO = read_club(ROOT).club
READ_IN_A_COPY = {"H222", "H223", "H224", "H225", "H226", "H229", "H302", "H304", "H317", "H332", "H335", "H336"}
FIRST = "The safety data sheet and the label of the product in hand come first, then local rules."

LOOK_UP = (
    "copy it from section 2 of the product's data sheet, or write the words without a code: they are then printed "
    "as the club's own"
)


def say(*words: str) -> Result:
    return CliRunner().invoke(docgen, list(words), prog_name="docgen", catch_exceptions=False)


@cache
def pages(*names: str) -> tuple[str, ...]:
    import tempfile

    with tempfile.TemporaryDirectory() as out:
        result = say("--club", str(ROOT), "safety", *names, "--on", "2027-02-20", "--out", out)
        assert result.exit_code == 0, result.output
        (path,) = Path(out).glob("*.pdf")
        with pymupdf.open(path) as document:
            return tuple(" ".join(page.get_text().split()) for page in document)


def test_every_statement_has_its_parts_and_those_from_memory_say_so() -> None:
    found = statements()
    assert len(found) >= 20
    assert {code for code, one in found.items() if one.table} == READ_IN_A_COPY
    for code, one in found.items():
        assert re.fullmatch(r"H[234]\d\d", code)
        assert one.text
        assert one.signal in ("danger", "warning", "")
        assert one.symbol in hazards()


def test_the_register_writes_each_statement_in_the_standard_s_words() -> None:
    assert DEMO is not None
    coded = [split(line) for one in DEMO.value.materials.values() for line in one.classed if split(line)[0]]
    assert len(coded) >= 30
    for code, text in coded:
        assert text.casefold() == statements()[code].text.casefold()


def test_each_material_of_the_register_is_on_it_and_the_gravest_come_first() -> None:
    assert DEMO is not None
    text = " ".join(pages()).replace("\u00a0", " ")
    for material in DEMO.value.materials.values():
        assert material.name[1:] in text, material.name
    words = re.findall(r"\b(DANGER|WARNING)\b", text)
    assert len(words) >= 8
    assert words == sorted(words)
    for page in pages():
        assert FIRST in page
        assert "are not those of the label" in page


def test_each_code_of_the_register_is_printed_with_its_words_and_source() -> None:
    assert DEMO is not None
    text = " ".join(pages()).replace("\u00a0", " ")
    lines = [told for one in DEMO.value.materials.values() for told in entry(one, Words()).told]
    assert len(lines) >= 30
    for code, said, source in lines:
        assert f"{code} {said} ({source})".strip() in text


def test_what_burns_says_what_to_do_about_a_fire() -> None:
    (text,) = pages("petrol")
    assert "On fire: everybody out, call the fire brigade. Never water on burning fuel." in text


def test_one_material_word_for_word() -> None:
    (text,) = pages("threadlocker-medium")
    assert text == (
        "Safety sheet · Kestrel Mere Kart Club · as of 20 February 2027 What is used in this workshop "
        f"{FIRST} Where they differ from this sheet, this sheet is wrong: have it mended. "
        "Emergency number Poison centre Extinguisher hangs Eye wash stands "
        "WARNING Threadlocker, medium strength "
        "H317 May cause an allergic skin reaction (CLP Annex I, Table 3.4.7) Waste: Empty bottles go to hazardous "
        "waste. Product: Data sheet dated: Data sheet kept at: "
        "Skin. Gloves that stand up to it. Wash splashes off at once, change soaked clothes. A rash: to a doctor. "
        f"{FIRST} Where they differ from this sheet, this sheet is wrong: have it mended. "
        "Usual classification of such a product, as the club wrote it down. Standard words and signal words: "
        "Regulation (EC) No 1272/2008 (CLP), from the table named; what is not checked against the text says so. "
        "The symbols are this workshop’s own and are not those of the label. Page 1 of 1"
    )


def test_a_material_named_twice_is_there_once() -> None:
    assert pages("petrol", "petrol") == pages("petrol")


def test_what_is_from_memory_or_the_club_s_own_says_so() -> None:
    assert DEMO is not None
    found = entry(DEMO.value.materials["battery-lead-acid"], Words())
    assert found.word == "danger"
    assert [(at, source) for at, _, source in found.told] == [
        ("H314", UNREAD),
        ("H360", UNREAD),
        ("H302", "CLP Annex I, Table 3.1.3"),
        ("H332", "CLP Annex I, Table 3.1.3"),
        ("", "the club’s words"),
    ]


@pytest.mark.parametrize(
    ("line", "code", "word", "signs", "source"),
    [
        ("H360FD May damage it", "H360FD", "danger", ("long",), UNREAD),
        ("H350i May cause cancer by inhalation", "H350i", "danger", ("long",), UNREAD),
        ("H302 + H332 Harmful both ways", "H302 + H332", "warning", ("mouth", "breath"), UNREAD),
        ("H222: Extremely flammable aerosol", "H222", "danger", ("flame",), "CLP Annex I, Table 2.3.1"),
        ("EUH066 Dry skin", "", "", (), "the club’s words"),
        ("H2O and soap", "", "", (), "the club’s words"),
    ],
)
def test_codes_as_labels_write_them(line: str, code: str, word: str, signs: tuple[str, ...], source: str) -> None:
    found = entry(Material(name=Said("thing"), kind="solvent", classed=(Said(line),)), Words())
    assert (found.word, found.signs) == (word, signs)
    assert [(at, source) for at, _, source in found.told] == [(code, source)]


@pytest.mark.parametrize(
    ("line", "code", "hint"),
    [
        ("H226x Flammable liquid and vapour", "H226x", 'did you mean "H226"? '),
        ("h222 Extremely flammable aerosol", "h222", 'did you mean "H222"? '),
        ("H302 + H999 Harmful", "H999", ""),
        ("H22 Flammable", "H22", ""),
    ],
)
def test_a_code_that_stands_for_nothing_stops_the_sheet(tmp_path: Path, line: str, code: str, hint: str) -> None:
    """Printed as mere words it would have neither signal word nor picture; and no hazard is guessed at."""
    club = texts()["club.yaml"] + f"  thinner:\n    name: Thinner\n    kind: solvent\n    classed: [{line}]\n"
    root = write(tmp_path / "club", {"club.yaml": club})
    result = say("--club", str(root), "safety", "--on", "2030-04-01")
    assert result.exit_code == 1
    number = len(club.splitlines())
    assert (
        result.output
        == f"""\
club.yaml:{number}:15 unknown-hazard-code: "{code}" is no hazard statement that docgen knows
  {number} |     classed: [{line}]
     |               ^
       to mend: {hint}{LOOK_UP}

1 fault, 0 notes
"""
    )
    assert not (root / "out").exists()
    others = [name for name in read_club(root).club.value.materials if name != "thinner"]  # type: ignore[union-attr]
    assert say("--club", str(root), "safety", *others, "--on", "2030-04-01").exit_code == 0


@pytest.mark.parametrize("language", ["en", "de"])
def test_others_find_no_fault_in_its_pages(tmp_path: Path, language: str) -> None:
    """qpdf and a judge of PDF/UA; and no tag of a text in another language is printed as text."""
    out = ("--language", language, "--on", "2027-02-20", "--out", str(tmp_path))
    assert say("--club", str(ROOT), "safety", *out).exit_code == 0
    file = tmp_path / "safety.pdf"
    checked = subprocess.run(["qpdf", "--check", file], capture_output=True, text=True, check=False)
    assert checked.returncode == 0, checked.stdout + checked.stderr
    command = [Path(sys.executable).with_name("pdfua"), "check", "--format", "json", file]
    judged = subprocess.run(command, capture_output=True, text=True, check=False)
    assert '"errors": 0' in judged.stdout, judged.stdout
    with pymupdf.open(file) as document:
        text = " ".join(page.get_text() for page in document)
        assert len(document) <= 5
    assert "Brake cleaner, free of chlorine, aerosol" in text
    assert not set("<>") & set(text)


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        ("petrl", 'there is no material "petrl" in club.yaml; did you mean "petrol"?'),
        ("xyzzy", 'there is no material "xyzzy" in club.yaml; known: '),
    ],
)
def test_a_material_that_is_not_there_names_the_close_one(typed: str, says: str) -> None:
    result = say("--club", str(ROOT), "safety", typed)
    assert result.exit_code == 2
    assert says in result.output


def test_a_club_with_hardly_anything_on_record(tmp_path: Path) -> None:
    """The small club's materials have neither codes nor waste."""
    assert "classed" not in texts()["club.yaml"]
    root = write(tmp_path / "club")
    result = say("--club", str(root), "safety", "--on", date(2030, 4, 1).isoformat())
    assert result.exit_code == 0, result.output
    with pymupdf.open(root / "out/safety.pdf") as document:
        text = " ".join(" ".join(page.get_text().split()) for page in document)
    assert FIRST in text
    assert "No hazard statement is on record here; the label may say more." in text
