"""Jobs side by side, whole in processes of their own: all of them come, and a bad one is named and stops none."""

from __future__ import annotations

import re
from datetime import date
from pathlib import Path

import pytest

from docgen.club.read import read_club
from docgen.desk.jobsheets import Asked, Maker, Sheet
from docgen.desk.pressing import press_sheets, ready
from docgen.job.job import Job
from docgen.job.resolve import resolve
from tests.smallclub import texts, write

DAY = date(2030, 4, 1)
ENGINES = ("10", "11", "12", "7A", "8B")


@pytest.fixture
def root(tmp_path: Path) -> Path:
    engine = texts()["engines/8B/engine.yaml"]
    others = {n: re.sub("^engine: .*", f'engine: "{n}"', engine, flags=re.M) for n in ENGINES[:3]}
    return write(tmp_path / "club", {f"engines/{number}/engine.yaml": text for number, text in others.items()})


def made(root: Path, processes: int, bad: str = "") -> list[Sheet]:
    folder = read_club(root)
    out = root / "out"
    for number in ENGINES:
        ready(out / number)
    read = folder.procedures["rotor-service"]
    asked: list[Asked | Job] = [Asked(folder.engines[n], "rotor-service", DAY) for n in ENGINES[:4]]
    asked.append(resolve(folder, folder.engines["8B"], read, DAY))
    if bad:
        one = folder.engines[bad]
        engine = one.engine.model_copy(update={"model": "no-such-model"})
        asked[ENGINES.index(bad)] = Asked(type(one)(engine, one.document, one.log), "rotor-service", DAY)
    return press_sheets(folder, asked, out, many=len(asked), processes=processes)


def test_the_same_sheets_come_from_one_process_and_from_several(root: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("docgen.desk.pressing.ALONE", 0)
    names = [(engine, kind) for engine in ENGINES for kind in ("leaf", "sign-off")]
    found: list[list[bytes]] = []
    for processes in (1, 2):
        sheets = made(root, processes)
        assert [(sheet.engine, sheet.kind) for sheet in sheets] == names
        assert all(sheet.pages and not sheet.faults for sheet in sheets)
        assert {sheet.number[3:13] for sheet in sheets if sheet.engine == "7A"} == {"ROT-03-001"}
        found.append([sheet.path.read_bytes() for sheet in sheets])
        assert len(list(root.glob("engines/*/issued/*.yaml"))) == len(ENGINES)
        for sheet in sheets:
            sheet.path.unlink()
    assert found[0] == found[1]


@pytest.mark.parametrize("processes", [1, 2])
def test_a_job_that_the_program_fails_on_is_named_and_stops_no_other(root: Path, processes: int) -> None:
    sheets = made(root, processes, bad="11")
    assert [sheet.engine for sheet in sheets if not sheet.faults] == [n for n in ENGINES if n != "11" for _ in "ab"]
    assert [(sheet.kind, sheet.unmade, sheet.faults) for sheet in sheets if sheet.faults] == [
        (kind, True, ("11 ROT: the program failed on this job: KeyError: 'no-such-model'",))
        for kind in ("leaf", "sign-off")
    ]
    assert [path.name[:13] for path in root.glob("engines/11/issued/*.yaml")] == []


def test_what_was_laid_out_before_is_made_without_another_process(root: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    made(root, 1)
    for path in root.glob("out/*/*.pdf"):
        path.unlink()
    monkeypatch.setattr(Maker, "__reduce__", lambda maker: pytest.fail("it was sent to a process"))
    assert all(sheet.pages for sheet in made(root, 2))
