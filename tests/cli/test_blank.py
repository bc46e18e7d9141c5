"""The blank set: an engine type's sheets for an engine that is not in the records, from the command to the PDF."""

from __future__ import annotations

import io
from pathlib import Path

import pypdf
import pytest

from docgen.club.problem import counted
from tests.cli.record_club import say
from tests.smallclub import write

DAY = ("--on", "2030-04-01")


def reader(root: Path, sheet: str) -> pypdf.PdfReader:
    return pypdf.PdfReader(io.BytesIO((root / f"out/blank/willow-80/willow-80-ROT-{sheet}.pdf").read_bytes()))


def text(root: Path, sheet: str) -> str:
    return " ".join(" ".join(page.extract_text() for page in reader(root, sheet).pages).replace("\xa0", " ").split())


@pytest.fixture(scope="module")
def root(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The small club with a blank set printed."""
    made = write(tmp_path_factory.mktemp("club"))
    result = say(made, "print", "--blank", "willow-80", *DAY)
    assert result.exit_code == 0, result.output
    pages = {sheet: len(reader(made, sheet).pages) for sheet in ("leaf", "sign-off")}
    place = f"{made}/out/blank/willow-80/willow-80-ROT"
    assert result.output == "".join(
        f"Blank {sheet} of ROT, {counted(count, 'page')}: {place}-{sheet}.pdf\n" for sheet, count in pages.items()
    )
    return made


@pytest.mark.parametrize(("sheet", "torque"), [("leaf", "34 N·m"), ("sign-off", "34 N·m ± 10 %")])
def test_the_model_s_figures_are_filled_and_the_engine_s_own_are_not(root: Path, sheet: str, torque: str) -> None:
    said = text(root, sheet)
    for wanted in (torque, "0.20 to 0.40 mm", "Willow 80 workshop book", "No record stands behind this sheet"):
        assert wanted in said, wanted
    for other in ("7A", "8B", "Ágnes", "Bo Lind", "W80-0007", "4.0 h"):
        assert other not in said, other
    assert "BLANK-ROT-03-000-" in said
    assert said.count("BLANK") == len(reader(root, sheet).pages)


def test_what_the_record_would_say_is_there_to_be_filled_in(root: Path) -> None:
    fields = reader(root, "sign-off").get_fields() or {}
    own = [name for name in fields if name.startswith("engine-") and name != "engine-hours"]
    assert own == ["engine-number", "engine-serial", "engine-keeper", "engine-hours-before"]
    assert all(not field.get("/V") for name, field in fields.items() if name.startswith("engine-"))


def test_nothing_is_written_into_the_records(root: Path) -> None:
    assert sorted(path.relative_to(root).as_posix() for path in (root / "engines").rglob("*") if path.is_file()) == [
        "engines/7A/engine.yaml", "engines/8B/engine.yaml",
    ]  # fmt: skip


def test_it_is_not_filed_as_it_is(root: Path) -> None:
    number = next(word for word in text(root, "sign-off").split() if word.startswith("BLANK-ROT-03-000-S1"))
    result = say(root, "enter", number)
    assert result.exit_code != 0
    assert (
        f"blank-sheet: {number} is of the blank set, for an engine that was not in the records" in result.output
    ), result.output
    assert "write its engine.yaml, print its own sheet (docgen print NNN --job ROT)" in result.output


@pytest.mark.parametrize(("words", "message"), [
    (["--blank", "willow-8"], 'there is no engine type "willow-8"; did you mean "willow-80"?'),
    (["--blank", "willow-80", "--job", "RTO"], 'there is no job "RTO"; known: rotor-service'),
    (["7A", "--blank", "willow-80"], "--blank goes with --job, --on, --out and --unproofed only: there is no engine"),
])  # fmt: skip
def test_words_that_are_not_understood(tmp_path: Path, words: list[str], message: str) -> None:
    result = say(write(tmp_path), "print", *words, *DAY)
    assert result.exit_code == 2
    assert result.stderr.splitlines()[-1] == f"Error: {message}"
    assert not (tmp_path / "out").exists()


def test_no_engine_may_be_called_blank(tmp_path: Path) -> None:
    engine = "engine: BLANK\nmodel: willow-80\nkeeper: A\nreceived: 2030-01-01\n"
    result = say(write(tmp_path, {"engines/BLANK/engine.yaml": engine}), "due", *DAY)
    assert "bad-engine-number: BLANK stands on the sheets of engines that have no number yet" in result.output
