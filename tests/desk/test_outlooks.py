"""What is kept of engines gives the lines that reading all gives: on every later day, whatever befell a file."""

from __future__ import annotations

import os
import random
import re
import shutil
from collections.abc import Callable, Collection
from concurrent.futures import ThreadPoolExecutor
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import pytest

from docgen.cli._stamps import Stamps
from docgen.club.cache import RecordCache
from docgen.club.folder import Folder
from docgen.club.read import read_club
from docgen.desk import outlooks
from docgen.plan.due import due_list, quiet_engines
from tests.conftest import ROOT
from tests.shares import share

DAY = date(2027, 2, 20)
KNOWN = RecordCache()
KNOWN.before = KNOWN.used


@pytest.fixture
def club(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The demo's club, of which all is kept that may be; a change within the clock's tick is not looked for."""
    for name in ("procedures", "models", "engines"):
        shutil.copytree(ROOT / name, tmp_path / name, ignore=shutil.ignore_patterns("issued"))
    shutil.copy(ROOT / "club.yaml", tmp_path)
    monkeypatch.setattr(outlooks, "WORTH", 1)
    monkeypatch.setattr(outlooks, "FEW", 1)
    monkeypatch.setattr("docgen.desk.fingerprint.YOUNG", 0)
    return tmp_path


def kept(root: Path, on: date = DAY) -> tuple[Any, set[str]]:
    """What is said with what is kept, and the engines whose records were left unread."""

    def read(engines: Collection[str] | None = None, unmoved: Collection[str] = ()) -> Folder:
        return read_club(root, KNOWN, engines=engines, unmoved=unmoved)

    stamps = Stamps(root, root / "out", ["due"])
    assert stamps.unchanged() is None
    folder, lines, quiet = outlooks.due_now(root, read, stamps.parts, on)
    return ([line.to_json() for line in lines], quiet, folder.problems), set(folder.unread)


def fresh(root: Path, on: date = DAY) -> Any:
    folder = read_club(root, KNOWN)
    return [line.to_json() for line in due_list(folder, on)], quiet_engines(folder, on), folder.problems


def test_every_later_day_is_as_if_all_were_read(club: Path) -> None:
    first, unread = kept(club)
    assert (first, unread) == (fresh(club), set())
    chance = random.Random(1)
    days = [DAY + timedelta(n) for n in (0, 1, *chance.sample(range(2, 1100), share(4, 10)))]
    for day in days:
        again, unread = kept(club, day)
        assert len(unread) >= 3
        assert again == fresh(club, day)
    again, unread = kept(club, DAY - timedelta(1))
    assert (again, unread) == (fresh(club, DAY - timedelta(1)), set())


def events(root: Path, number: str) -> list[Path]:
    return sorted((root / "engines" / number / "log").glob("*.yaml"))


def same_size(path: Path) -> None:
    """Another figure in as many bytes, and the old date of the file."""
    told, data = path.stat(), path.read_bytes()
    at = next(n for n, byte in enumerate(data) if chr(byte).isdigit() and n > data.find(b"by:"))
    path.write_bytes(data[:at] + (b"1" if data[at : at + 1] != b"1" else b"2") + data[at + 1 :])
    os.utime(path, ns=(told.st_atime_ns, told.st_mtime_ns))


def moved_to_another(path: Path) -> None:
    path.rename(path.parents[2] / "004" / "log" / path.name)


CHANGES: dict[str, Callable[[Path], object]] = {
    "edited": same_size,
    "cut short": lambda path: path.write_bytes(path.read_bytes()[:40]),
    "deleted": lambda path: path.unlink(),
    "copied": lambda path: shutil.copy(path, path.with_name(f"copy-of-{path.name}")),
    "renamed": lambda path: path.rename(path.with_name(path.name.replace("20", "21", 1))),
    "put into another's": moved_to_another,
    "engine": lambda path: same_size(path.parents[1] / "engine.yaml"),
    "no engine": lambda path: (path.parents[1] / "engine.yaml").unlink(),
    "gone": lambda path: shutil.rmtree(path.parents[1]),
    "twice": lambda path: shutil.copytree(path.parents[1], path.parents[2] / "999"),
    "a copy of it all": lambda path: shutil.copytree(path.parents[1], path.parents[2] / "017 copy"),
    "another model": lambda path: same_size(path.parents[3] / "models" / "alder-100r.yaml"),
}


@pytest.mark.parametrize("change", CHANGES)
def test_whatever_befalls_a_file_is_noticed(club: Path, change: str) -> None:
    kept(club)
    number = sorted(kept(club)[1])[0]
    CHANGES[change](events(club, number)[-1])
    after, _ = kept(club, DAY + timedelta(1))
    assert after == fresh(club, DAY + timedelta(1))
    assert kept(club, DAY + timedelta(2))[0] == fresh(club, DAY + timedelta(2))


def test_what_was_restored_is_as_it_was(club: Path) -> None:
    before, _ = kept(club)
    number = sorted(kept(club)[1])[0]
    path = events(club, number)[-1]
    data = path.read_bytes()
    path.unlink()
    assert kept(club)[0] == fresh(club) != before
    path.write_bytes(data)
    assert kept(club)[0] == fresh(club) == before


def test_a_component_on_two_engines_is_seen_when_one_of_them_changed(club: Path) -> None:
    kept(club)
    one, other = sorted(kept(club)[1])[:2]
    for number, unread in ((one, True), (other, False)):
        path = club / "engines" / number / "engine.yaml"
        text = re.sub("^components:\n(  .*\n)*", "", path.read_text("utf-8"), flags=re.M)
        path.write_text(f"{text}components:\n  carburettor: ZZ-1\n", "utf-8")
        kept(club)
        said, left = kept(club)
        assert (said, one in left) == (fresh(club), unread)
    assert [problem.name for problem in said[2]] == ["component-twice"] * 2


@pytest.mark.parametrize("damage", [b"", b"{", b"x\n{}", b'{"of": 1}'])
def test_what_is_damaged_is_as_if_it_were_not_there(club: Path, damage: bytes) -> None:
    kept(club)
    (club / outlooks.PLACE).write_bytes(damage)
    assert kept(club) == (fresh(club), set())


def test_two_at_once(club: Path) -> None:
    kept(club)
    same_size(events(club, sorted(kept(club)[1])[0])[-1])
    with ThreadPoolExecutor(2) as both:
        said = [one.result()[0] for one in [both.submit(kept, club), both.submit(kept, club)]]
    assert said == [fresh(club)] * 2


def test_what_may_change_unseen_is_not_kept(club: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("docgen.desk.fingerprint.YOUNG", 3600 * 10**9)
    kept(club)
    assert kept(club) == (fresh(club), set())
