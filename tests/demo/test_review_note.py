"""The note of the reading names each procedure, and holds to what it says of figures."""

from __future__ import annotations

import re

from docgen.club.folder import Folder
from tests.demo.conftest import ROOT

FIGURE = re.compile(r"\d(?:\.\d+)? ?(?:N\.m|mm|bar|degC|k?ohm|V)\b")
RULES_OF_WORK = ("until: Three readings one after the other lie within 0.05 bar.",)


def test_each_shipped_procedure_and_sequence_is_named() -> None:
    note = (ROOT / "docs" / "content-review.md").read_text()
    shipped = sorted(path.stem for path in (ROOT / "procedures").glob("*.yaml"))
    assert len(shipped) > 70
    assert [name for name in shipped if f"`{name}`" not in note] == []


def test_the_note_names_nothing_that_is_not_there(demo: Folder) -> None:
    note = (ROOT / "docs" / "content-review.md").read_text()
    named = set(re.findall(r"`([a-z]+(?:-[a-z]+)*)`", note))
    other = {"critical", "waste", "external-pulse", "sealed-drum-bearing", "head-retorque", "plug-torque-off-chart"}
    assert named - other == set(demo.procedures) | {path.stem for path in (ROOT / "procedures").glob("*.yaml")}


def test_no_figure_of_an_engine_stands_in_a_procedure() -> None:
    """Torques, lengths, pressures, temperatures, resistances and voltages live in the models."""
    seen, found = 0, []
    for path in sorted((ROOT / "procedures").glob("*.yaml")):
        for number, line in enumerate(path.read_text().splitlines(), start=1):
            seen += 1
            if FIGURE.search(line) and not any(rule in line for rule in RULES_OF_WORK) and "<" not in line:
                found.append(f"{path.name}:{number}: {line.strip()}")
    assert seen > 4000
    assert found == []
