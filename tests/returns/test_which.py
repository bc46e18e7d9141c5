"""Which sheet a paper is, and every paper that is none: whole messages."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from docgen.job.issue import frozen
from docgen.returns.diagnostic import Refused
from docgen.returns.form import Form, read_form
from docgen.returns.identity import IssuedSheet, sheet_numbered, sheet_of, typed_number
from docgen.returns.layout import field_names
from docgen.returns.sandbox import Paper
from tests.returns.conftest import GOOD, NUMBER, Club, club_at
from tests.returns.papers import form_of

BODY = NUMBER[:-2]


@pytest.fixture(scope="module")
def paper(club: Club) -> Paper:
    """The sheet as a viewer saves it: one page, its number visible on it."""
    return Paper(read_form(form_of(club.sheet, GOOD)), (NUMBER,))


def refused(paper: Paper, club: Club, engine: str = "") -> tuple[str, str, str]:
    with pytest.raises(Refused) as caught:
        sheet_of(paper, club.folder, engine)
    return caught.value.said.name, caught.value.said.message, caught.value.said.hint


def test_hidden_field_subject_attachment_and_pages_agree(paper: Paper, club: Club) -> None:
    assert sheet_of(paper, club.folder).text == NUMBER
    assert {where: name for where, name in paper.form.names.items() if where != "its file identifier"} == {
        "its hidden field": BODY,
        "its subject": BODY,
    }
    assert sheet_of(paper, club.folder, "7A").job == club.sheet.job


def test_any_one_of_them_is_enough(paper: Paper, club: Club) -> None:
    for names, numbers in (({"its subject": BODY}, ()), ({"its hidden field": BODY}, ("",)), ({}, ("", NUMBER))):
        form = replace(paper.form, names=names)
        assert sheet_of(Paper(form, numbers), club.folder).text == NUMBER


def test_wrong_engine(paper: Paper, club: Club) -> None:
    assert refused(paper, club, "8B") == (
        "wrong-engine",
        "7A-ROT-03-001-S1-I is a sheet of engine 7A, not of 8B",
        "leave --engine out to file it for 7A, or look for the right sheet",
    )


def test_an_engine_that_is_not_in_the_club(club: Club) -> None:
    number = replace(club.sheet.number, engine="9Z")
    with pytest.raises(Refused) as caught:
        sheet_numbered(number, club.folder)
    assert str(caught.value) == (
        f"unknown-engine: {number.text} is a sheet of engine 9Z, which this club's record does not hold\n"
        "  to mend: known: 7A, 8B; go to the folder of the club that printed it"
    )


def test_a_number_whose_check_character_fails(paper: Paper, club: Club) -> None:
    assert refused(replace(paper, numbers=("7A-ROT-03-001-S1-J",)), club) == (
        "wrong-check-character",
        "7A-ROT-03-001-S1-J has a letter or digit wrong: its check character does not fit",
        "type it again from the sheet; 0 and O, 1 and I are easily taken for one another",
    )
    for wrong in ("7A-ROT-03-002-S1-I", "7A-ROT-04-001-S1-I", "A7-ROT-03-001-S1-I"):
        with pytest.raises(Refused, match="its check character does not fit"):
            typed_number(wrong)
    with pytest.raises(Refused) as caught:
        typed_number("rotor")
    assert caught.value.said.message == '"rotor" is not a sheet number: it looks like 017-CLU-04-003-S1-2'
    assert typed_number(f" {NUMBER.lower()} ").text == NUMBER


def test_pages_of_two_sheets(paper: Paper, club: Club) -> None:
    other = replace(club.sheet.number, print=2, page=2).text
    assert refused(replace(paper, numbers=(NUMBER, other)), club) == (
        "two-sheets",
        f"its hidden field says {NUMBER}, and page 2 says {other}",
        "file one sheet at a time, as it was printed",
    )


def test_a_sheet_printed_to_a_new_pdf_has_lost_its_fields(club: Club) -> None:
    assert refused(Paper(Form({}), (NUMBER,)), club) == (
        "no-fields",
        "the file shows sheet 7A-ROT-03-001-S1-I but has lost its fields: it was printed to a new PDF, or scanned",
        "type it in:  docgen enter 7A-ROT-03-001-S1-I",
    )


def test_some_other_pdf(club: Club) -> None:
    assert refused(Paper(Form({"name": "x"}), ("",)), club) == (
        "not-our-sheet",
        "nothing in this file says which sheet it is",
        "give the sign-off sheet that docgen printed, filled and saved; a scan or photograph is typed in by the number "
        "at its foot:  docgen enter NUMBER",
    )


def test_the_bench_checklist_is_not_filed(club: Club) -> None:
    number = replace(club.sheet.number, sheet="C")
    assert refused(Paper(Form({}), (number.text,)), club) == (
        "not-a-sign-off",
        f"{number.text} is a bench checklist, which stays at the bench",
        f"file the sign-off sheet of the same job, {NUMBER}",
    )


def test_a_file_that_lost_some_fields(paper: Paper, club: Club) -> None:
    names = field_names(club.sheet.job)
    kept = {name: text for name, text in paper.form.fields.items() if name not in names[-2:]}
    assert refused(replace(paper, form=replace(paper.form, fields=kept)), club) == (
        "fields-missing",
        "2 of the sheet's fields are not in the file, the first is next-due-hours",
        "save it again from the viewer, or type it in:  docgen enter 7A-ROT-03-001-S1-I",
    )


def test_a_sheet_that_this_folder_did_not_print(club: Club) -> None:
    number = replace(club.sheet.number, print=2)
    with pytest.raises(Refused) as caught:
        sheet_numbered(number, club.folder)
    assert str(caught.value) == (
        "not-issued: engines/7A/issued holds no 7A-ROT-03-002: this folder does not know that "
        f"{number.text} was printed\n"
        "  to mend: it was printed from another copy of the club's folder: bring its file here"
    )


def test_the_same_number_printed_twice_in_two_copies_of_the_folder(paper: Paper, club: Club) -> None:
    elsewhere = club.sheet.job.model_copy(
        update={"issue": club.sheet.job.issue.model_copy(update={"keeper": "Bo Lind"})}
    )
    assert refused(replace(paper, form=replace(paper.form, job=frozen(elsewhere))), club) == (
        "other-print",
        "the job inside the file is not the one that was issued here as 7A-ROT-03-001-S1-I",
        "it was printed from another copy of the club's folder: file it there, or bring its file of issued/ here",
    )


def test_a_frozen_job_that_was_edited(tmp_path: Path) -> None:
    club = club_at(tmp_path)
    (path,) = (tmp_path / "engines/7A/issued").iterdir()
    text = path.read_text("utf-8")
    assert "0.20..0.45 mm" in text
    path.write_text(text.replace("0.20..0.45 mm", "0.20..0.95 mm"), "utf-8")
    with pytest.raises(Refused) as caught:
        sheet_numbered(club.sheet.number, club.folder)
    assert str(caught.value) == (
        f"issued-changed: engines/7A/issued/{path.name} is not as it was when 7A-ROT-03-001-S1-I was printed\n"
        "  to mend: restore that file: the sheet is judged by what it says"
    )
    assert isinstance(club.sheet, IssuedSheet)
