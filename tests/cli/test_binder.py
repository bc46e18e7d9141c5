"""``docgen binder``: one file for the printer, read back by a tool that is not ours."""

from __future__ import annotations

import io
import re
from pathlib import Path

import pypdf
import pytest

from docgen.desk.binder import Binder
from docgen.job.number import parse_number
from tests.cli.record_club import say
from tests.cli.test_kit_and_mat import MODEL, sized
from tests.smallclub import texts, write

DAY = ("--on", "2030-04-01")
PROCEDURE = "procedures/rotor-service.yaml"
LINE = re.compile(r"(Engine card|Kit list|Bench leaf|Sign-off sheet|Layout mat) (.+?) (A\d) (\d+) (\d+)(?= |$)")


def read(path: Path) -> pypdf.PdfReader:
    return pypdf.PdfReader(io.BytesIO(path.read_bytes()))


def flat(page: pypdf.PageObject) -> str:
    return " ".join(page.extract_text().replace("\xa0", " ").split())


def listed(reader: pypdf.PdfReader) -> list[tuple[str, str, str, int, int]]:
    """The contents: kind, job and number, paper, pages, first page."""
    rows = LINE.findall(flat(reader.pages[0]))
    return [(kind, what, paper, int(pages), int(first)) for kind, what, paper, pages, first in rows]


def test_everything_for_one_engine(tmp_path: Path) -> None:
    root = write(tmp_path, {MODEL: sized()})
    result = say(root, "binder", "7A", "--job", "ROT", "--mat-paper", "A3", *DAY)
    assert result.exit_code == 0, result.output
    reader = read(root / "out/7A/7A-binder.pdf")
    said = f"5 sheets on {len(reader.pages)} pages, to print on both sides: {root}/out/7A/7A-binder.pdf\n"
    assert result.output == said
    rows = listed(reader)
    assert [(kind, paper) for kind, _, paper, _, _ in rows] == [
        ("Engine card", "A4"), ("Kit list", "A4"), ("Bench leaf", "A4"), ("Sign-off sheet", "A4"),
        ("Layout mat", "A3"),
    ]  # fmt: skip
    texts = [flat(page) for page in reader.pages]
    for kind, what, paper, pages, first in rows:
        assert first % 2 == 1, kind
        assert kind == "Bench leaf" or kind in texts[first - 1]
        assert kind == "Kit list" or not any(kind in text for text in texts[2 : first - 1]), kind
        width = min(map(float, reader.pages[first - 1].mediabox[2:])) * 25.4 / 72
        assert width == pytest.approx({"A4": 210, "A3": 297}[paper], abs=0.1)
        after = first - 1 + pages
        if pages % 2:
            assert texts[after] == "Blank on purpose: the next sheet begins on a front page."
        if kind not in ("Engine card", "Kit list"):
            number = what.split()[-1]
            assert parse_number(number).text == number
            assert sum(number in text for text in texts[2:]) == 1, number
            assert number in texts[first - 1]
            assert reader.page_labels[first - 1] == number.rpartition("-")[0]
    assert rows[-1][4] + rows[-1][3] - 1 + rows[-1][3] % 2 == len(reader.pages)
    top = [one for one in reader.outline if not isinstance(one, list)]
    assert [(one.title, reader.get_destination_page_number(one) + 1) for one in top] == [
        ("Contents", 1),
        ("Engine card: Willow 80", rows[0][4]),
        ("Kit list: ROT", rows[1][4]),
        ("7A ROT Bench leaf", rows[2][4]),
        ("7A ROT Sign-off sheet", rows[3][4]),
        ("7A ROT Layout mat", rows[4][4]),
    ]
    assert list(reader.attachments) == ["7a-rot-03-001-s-job.yaml"]
    assert [path.name[:13] for path in (root / "engines/7A/issued").iterdir()] == ["7A-ROT-03-001"]


def test_a_day_s_work_on_several(tmp_path: Path) -> None:
    root = write(tmp_path)
    result = say(root, "binder", "--due", "--no-mats", *DAY)
    assert result.exit_code == 0, result.output
    reader = read(root / "out/binder.pdf")
    text = flat(reader.pages[0])
    assert "Work of 1 April 2030" in text
    assert [kind for kind, *_ in listed(reader)] == ["Kit list", *["Bench leaf", "Sign-off sheet"] * 2]
    assert text.index("For all") < text.index("Engine 7A") < text.index("Engine 8B")


def test_the_same_print_as_docgen_print(tmp_path: Path) -> None:
    root = write(tmp_path)
    assert say(root, "print", "7A", "--job", "ROT", *DAY).exit_code == 0
    assert say(root, "binder", "7A", "--job", "ROT", "--no-mats", *DAY).exit_code == 0
    assert [path.name[:13] for path in (root / "engines/7A/issued").iterdir()] == ["7A-ROT-03-001"]


def test_a_mat_without_sizes_is_left_out(tmp_path: Path) -> None:
    root = write(tmp_path)
    result = say(root, "binder", "7A", "--job", "ROT", *DAY)
    assert result.exit_code == 1
    assert result.stderr == (
        "Left out: 7A ROT mat: no size is stated of 3 pieces; docgen mat 7A --job ROT names them\n"
    )
    reader = read(root / "out/7A/7A-binder.pdf")
    assert [kind for kind, *_ in listed(reader)] == ["Engine card", "Kit list", "Bench leaf", "Sign-off sheet"]
    pages = len(reader.pages)
    assert result.stdout == f"4 sheets on {pages} pages, to print on both sides: {root}/out/7A/7A-binder.pdf\n"


def test_a_job_with_faults_and_a_list_from_a_wrong_file_are_left_out(tmp_path: Path) -> None:
    other = texts()[PROCEDURE].replace("procedure: rotor-service", "procedure: rotor-again").replace("ROT", "RAG")
    loose = other.replace("        tightens: [rotor-nut]\n", "        cleans: {rotor-nut: fluid}\n")
    assert loose != other
    root = write(tmp_path, {"procedures/rotor-again.yaml": loose, "stock.yaml": "parts: {W-99: {on_hand: 1}}\n"})
    result = say(root, "binder", "7A", "--job", "ROT", "--job", "RAG", "--no-mats", *DAY)
    assert result.exit_code == 1
    lines = result.stderr.splitlines()
    assert re.fullmatch(
        r"Left out: 7A RAG: proofing finds \d+ faults?; docgen print 7A --job RAG names them", lines[0]
    ), lines
    assert lines[1:] == ["Left out: kit list: stock.yaml has 1 fault; docgen kit names them"]
    assert [kind for kind, *_ in listed(read(root / "out/7A/7A-binder.pdf"))] == [
        "Engine card", "Bench leaf", "Sign-off sheet",
    ]  # fmt: skip
    assert [path.name[:13] for path in (root / "engines/7A/issued").iterdir()] == ["7A-ROT-03-001"]
    alone = say(root, "binder", "7A", "--job", "RAG", *DAY)
    assert (alone.exit_code, alone.stdout) == (1, "")
    assert alone.stderr.splitlines() == [lines[0], "Nothing was printed."]


def test_a_sheet_that_does_not_fit_its_paper_is_left_out(tmp_path: Path) -> None:
    club = texts()["club.yaml"].replace("bench_distance: 600 mm", "bench_distance: 1500 mm")
    root = write(tmp_path, {"club.yaml": club})
    result = say(root, "binder", "7A", "--job", "ROT", "--no-mats", *DAY)
    assert result.exit_code == 1
    assert re.fullmatch(
        r'Left out: 7A ROT Bench leaf: page 1: "1 of \d" sticks out by [0-9.]+ mm at the right of the running foot, '
        r"and \d+ more\n",
        result.stderr,
    ), result.stderr
    assert [kind for kind, *_ in listed(read(root / "out/7A/7A-binder.pdf"))] == [
        "Engine card", "Kit list", "Sign-off sheet",
    ]  # fmt: skip


@pytest.mark.parametrize(("words", "message"), [
    ([], "say what to bind: an engine, a --job, or --due for all that is due"),
    (["7A", "--mat-paper", "A5"], 'a mat is not printed on "A5"; this club can print it on A4 or A3'),
    (["7A", "--mat-paper", "A3", "--no-mats"], "--mat-paper and --no-mats do not go together"),
    (["7B"], 'there is no engine "7B"; known: 7A, 8B'),
])  # fmt: skip
def test_words_that_are_not_understood(tmp_path: Path, words: list[str], message: str) -> None:
    root = write(tmp_path, {MODEL: sized()})
    result = say(root, "binder", *words, *DAY)
    assert result.exit_code == 2
    assert result.stderr.splitlines()[-1] == f"Error: {message}"
    assert not (root / "out").exists()
    assert not (root / "engines/7A/issued").exists()



def test_a_number_that_somebody_else_took_meanwhile_stops_the_binder(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    root = write(tmp_path, {MODEL: sized()})
    bound = Binder._bind

    def meanwhile(*given: object) -> object:
        made = bound(*given)
        assert say(root, "print", "7A", "--job", "ROT", "--on", "2030-04-02").exit_code == 0
        return made

    monkeypatch.setattr(Binder, "_bind", meanwhile)
    result = say(root, "binder", "7A", "--job", "ROT", *DAY)
    assert (result.exit_code, result.stderr) == (
        1, "number-taken: 7A ROT was printed by somebody else meanwhile: nothing was printed\n"
        "  to mend: give the same command again\n",
    )  # fmt: skip
    assert not (root / "out/7A/7A-binder.pdf").exists()
    monkeypatch.undo()
    assert say(root, "binder", "7A", "--job", "ROT", *DAY).exit_code == 0
