"""What a club can write must print: an engine's number of any digits, parts without numbers that one check renews."""

from __future__ import annotations

import io
from pathlib import Path

import pypdf
import pytest

from tests.cli.record_club import say
from tests.shares import share
from tests.smallclub import texts, write

PROCEDURE, MODEL = "procedures/rotor-service.yaml", "models/willow-80.yaml"
DAY = ("--on", "2030-04-01")


def text(path: Path) -> str:
    pages = pypdf.PdfReader(io.BytesIO(path.read_bytes())).pages
    return " ".join(" ".join(page.extract_text().split()) for page in pages)


NUMBERS = ["1", "1111", "000", "WWW", "11", "111", "77", "888", "W1"]
"""The narrowest and the widest first."""


@pytest.mark.parametrize("number", NUMBERS[: share(4, 9)])
def test_an_engine_of_any_number_has_its_tag_and_its_sheets(tmp_path: Path, number: str) -> None:
    engine = texts()["engines/7A/engine.yaml"].replace("engine: 7A", f'engine: "{number}"')
    root = write(tmp_path, {"engines/7A/engine.yaml": None, f"engines/{number}/engine.yaml": engine})
    for after in ([], ["--job", "ROT", "--after", "9"]):
        result = say(root, "labels", "tag", number, *after, *DAY)
        assert result.exit_code == 0, result.output
        assert f" {number} " in text(root / f"out/{number}/{number}-labels-tag.pdf")
    for command in (["labels", "parts", number, "--job", "ROT"], ["print", number, "--job", "ROT"], ["card", number]):
        result = say(root, *command, *DAY)
        assert (result.exit_code, result.stderr) == (0, ""), result.output


def test_two_parts_without_numbers_are_renewed_by_one_check(tmp_path: Path) -> None:
    model = texts()[MODEL].replace("    number: W-15\n", "").replace("number: W-12, ", "")
    look = texts()[PROCEDURE].replace("fail: {renews: [spacer]}", "fail: {renews: [rotor, spacer]}")
    assert (model.count("number:"), look == texts()[PROCEDURE]) == (0, False)
    root = write(tmp_path, {MODEL: model, PROCEDURE: look})
    for words in (["print", "7A"], ["kit"], ["reading"], ["labels", "parts", "7A"], ["binder", "7A", "--no-mats"]):
        job = ["ROT", "--engine", "7A"] if words == ["reading"] else ["--job", "ROT"]
        result = say(root, *words, *job, *DAY)
        assert (result.exit_code, result.stderr) == (0, ""), result.output
    leaf, kit = text(root / "out/7A/7A-ROT-leaf.pdf"), text(root / "out/kit-ROT.pdf")
    assert " Parts Plate gasket (needed) · Spacer · Rotor Open " in leaf
    assert " Short Spacer 1 2 every job Rotor 1 2 every job Materials " in kit
