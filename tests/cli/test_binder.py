"""``docgen binder``: one file for the printer, read back by a tool that is not ours."""

from __future__ import annotations

import io
import re
from pathlib import Path

import pypdf
import pytest

from docgen.job.number import parse_number
from tests.cli.record_club import say
from tests.cli.test_kit_and_mat import MODEL, sized
from tests.smallclub import write

DAY = ("--on", "2030-04-01")
LINE = re.compile(r"(Engine card|Kit list|Bench checklist|Sign-off sheet|Layout mat) (.+?) (A\d) (\d+) (\d+)(?= |$)")


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
        ("Engine card", "A4"), ("Kit list", "A4"), ("Bench checklist", "A4"), ("Sign-off sheet", "A4"),
        ("Layout mat", "A3"),
    ]  # fmt: skip
    texts = [flat(page) for page in reader.pages]
    for kind, what, paper, pages, first in rows:
        assert first % 2 == 1, kind
        assert kind in texts[first - 1]
        assert kind == "Kit list" or not any(kind in text for text in texts[2 : first - 1]), kind
        width = float(reader.pages[first - 1].mediabox.width) * 25.4 / 72
        assert width == pytest.approx({"A4": 210, "A3": 420}[paper], abs=0.1)
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
        ("7A ROT Bench checklist", rows[2][4]),
        ("7A ROT Sign-off sheet", rows[3][4]),
        ("7A ROT Layout mat", rows[4][4]),
    ]
    assert list(reader.attachments) == ["7a-rot-03-001-s-job.yaml"]
    assert [path.name for path in (root / "engines/7A/issued").iterdir()] == ["7A-ROT-03-001.yaml"]


def test_a_day_s_work_on_several(tmp_path: Path) -> None:
    root = write(tmp_path)
    result = say(root, "binder", "--due", "--no-mats", *DAY)
    assert result.exit_code == 0, result.output
    reader = read(root / "out/binder.pdf")
    text = flat(reader.pages[0])
    assert "Work of 1 April 2030" in text
    assert [kind for kind, *_ in listed(reader)] == ["Kit list", *["Bench checklist", "Sign-off sheet"] * 2]
    assert text.index("For all") < text.index("Engine 7A") < text.index("Engine 8B")


def test_the_same_print_as_docgen_print(tmp_path: Path) -> None:
    root = write(tmp_path)
    assert say(root, "print", "7A", "--job", "ROT", *DAY).exit_code == 0
    assert say(root, "binder", "7A", "--job", "ROT", "--no-mats", *DAY).exit_code == 0
    assert [path.name for path in (root / "engines/7A/issued").iterdir()] == ["7A-ROT-03-001.yaml"]


def test_a_piece_without_a_size(tmp_path: Path) -> None:
    root = write(tmp_path)
    result = say(root, "binder", "7A", "--job", "ROT", *DAY)
    assert result.exit_code == 1
    assert result.stderr.startswith("models/willow-80.yaml:6:3 part-without-size: side-plate comes off in this job")
    assert result.stderr.endswith("Nothing was printed. State the sizes, or leave the mats out with --no-mats.\n")
    assert not (root / "out").exists()
    assert not (root / "engines/7A/issued").exists()


@pytest.mark.parametrize(("words", "message"), [
    ([], "say what to bind: an engine, a --job, or --due for all that is due"),
    (["7A", "--mat-paper", "A5"], 'a mat is not printed on "A5"; this club can print it on A4, A3, A3-on-A4'),
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

