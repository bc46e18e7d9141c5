"""What `python -m tools.house` prints is counted and measured, and a command imports what it says it does."""

from __future__ import annotations

from pathlib import Path

import pytest

from tools import house


def test_the_size_is_of_modules_alone(tmp_path: Path) -> None:
    for name, lines in {"a.py": 10, "b.py": 29, "in/c.py": 30, "in/d.py": 301, "table.csv": 4000}.items():
        path = tmp_path / name
        path.parent.mkdir(exist_ok=True)
        path.write_text("x = 1\n" * lines, encoding="utf-8")
    assert house.size(tmp_path) == house.Size(lines=370, files=4, median=29.5, short=2)


def test_the_packages_at_run_time_are_those_declared(tmp_path: Path) -> None:
    project = tmp_path / "pyproject.toml"
    project.write_text('[project]\ndependencies = ["a>=1", "b"]\n[dependency-groups]\ndev = ["c"]\n', encoding="utf-8")
    assert house.dependencies(project) == 2


def test_the_files_that_speak_of_a_verb_are_those_that_name_it(tmp_path: Path) -> None:
    texts = {
        "docgen/own.py": "class Packs: ...\n", "docgen/field.py": "packs: Packs\n",
        "docgen/read.py": "x = step.packs\n",
        "docgen/word.py": 'x = ("packs", 1)\n', "docgen/called.py": "parcel.packs()\n",
        "docgen/told.py": '"""What packs a parcel."""\n# packs\n', "docgen/verbs.csv": "close,packs,\n",
        "templates/leaf.j2": "{{ mark.packs }}", "templates/other.j2": "{{ unpacks }} {{ packs-left }}",
        "docgen/locale/de.po": "packs",
    }  # fmt: skip
    for name, text in texts.items():
        path = tmp_path / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
    assert house.touched(("packs", "Packs"), tmp_path) == [
        "docgen/field.py", "docgen/own.py", "docgen/read.py", "docgen/verbs.csv", "docgen/word.py", "templates/leaf.j2",
    ]  # fmt: skip
    assert house.touched(house.PAIR) == [
        "docgen/club/schema/procedure.py", "docgen/club/verbs/packs.py", "docgen/proof/tables/verbs.csv",
    ]  # fmt: skip


def test_what_a_command_imports_is_seen() -> None:
    seen = house.imported("--version")
    assert {"docgen.cli.frame", "click"} <= seen
    assert "tools.house" not in seen


def test_a_command_that_fails_is_no_measure() -> None:
    said = 'docgen nothing ended with 2: (?s:.*)there is no command "nothing"'
    with pytest.raises(RuntimeError, match=said):
        house.imported("nothing")
    with pytest.raises(RuntimeError, match=said):
        house.seconds("nothing", runs=1)


def test_every_figure_is_told() -> None:
    figures = dict(house.told(runs=1))
    assert list(figures) == [
        "lines under docgen/", "files under docgen/", "lines of the median module", "modules under 30 lines",
        "files run by one print", "packages at run time", "files touched by the new verb",
        "CPU seconds of docgen --help",
    ]  # fmt: skip
    modules = len(list((house.ROOT / "docgen").rglob("*.py")))
    assert figures["files under docgen/"] == str(modules)
    assert 20 < int(figures["files run by one print"]) < modules
    assert float(figures["CPU seconds of docgen --help"]) > 0
