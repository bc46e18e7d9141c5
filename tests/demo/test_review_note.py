"""The note of the reading names each procedure and what a builder asked for, and holds to what it says of figures."""

from __future__ import annotations

import re

import pytest

from docgen.club.folder import Folder
from tests.demo.conftest import ROOT

FIGURE = re.compile(r"\d(?:\.\d+)? ?(?:N\.m|mm|bar|degC|k?ohm|V)\b")
RULES_OF_WORK = ("until: Three readings one after the other lie within 0.05 bar.",)


ASKED = {
    "the program": (
        "guard band.*one-sided",
        "Hours and months count from the day",
        "comes out .*before crank, rod or valve turns",
        "STOP stands before the first act.*seal is the last thing fitted",
        "before the full cure of every locker.*DO NOT START",
        "No time in words",
        "directly before its row, once; gas and .outdoors.",
    ),
    "clutch": (
        "threads are brushed bare and degreased before",
        "dry trial fit, then one small drop",
        "Behind the hub",
        "Oil on the linings has a cause",
        "dust caution stands before the cover",
        "new O-ring with a film of grease",
        "On wet locker the crank is turned by its holding tool",
        "speed at which it takes hold is read",
        r"0\.2 V lost while cranking, or 0\.05 ohm",
        "annex of the reading",
    ),
    "carburettor": (
        "Needle turns.*before any brush",
        "Lever height by straight edge and feeler, at the end",
        "Leak test: starting pressure and time large.*in a glass",
        "Non-return valve.*core plug",
        "Nuts at the maker's torque where the model has one",
        "Straight edge at least as long as the body",
        "blips only, never held revving",
        "Vacuum at the pulse inlet: a gauge",
        "dots",
    ),
    "plug, chain, exhaust": (
        "Only a good plug is bagged",
        "squashed and eased first.*by angle",
        "cut at full throttle",
        "aim at.*10 to 14 mm",
        "socket that turns the engine",
        "where they are hooked in",
    ),
    "reeds, ends, ignition, running-in, starter": (
        "comes off both faces, with plastic",
        "No crack, no light under the straight edge",
        "Material and thickness of the petals",
        "magnetic base stands on a steel plate",
        "bubbles only in soapy water",
        "pressure test comes after closing",
        "lowest figure is that of new parts",
        "Battery: 12.5 V",
        "Gap from rotor to stator",
        "Standing, an air-cooled engine runs one minute",
        "plastic cover is wiped with a dry cloth, no cleaner",
        "driver only loosens.*said plainly",
    ),
    "drawings": (
        "Gasket tab.*top above; strainer",
        "Needle bearing with needles, drum as a cup",
        "tightening order stands on the part's own outline",
        "nut is a hexagon, a lead stays",
        "Clutch in true section",
        "Chamfer against the shaft's radius at 4:1",
        "Carburettor apart",
        "Lever under a straight edge",
        "Test rig",
        "Petal edges.*plug tan, white, beaded",
        "Circlip in the piston",
        "Timing by dial and marks",
        "drop of locker at life size",
        "Blue drum, hooked tooth",
    ),
}
"""What a builder who read the sheets asked for, each by words of its row."""


def _rows() -> list[tuple[str, str]]:
    """The first cell of each row of the note, and the whole row."""
    lines = [line for line in (ROOT / "docs" / "content-review.md").read_text().splitlines() if line.startswith("|")]
    rows = [(line.split("|")[1], line) for line in lines if not line.startswith(("|--", "| where"))]
    assert len(rows) > 100
    return rows


@pytest.mark.parametrize(("words"), [words for asked in ASKED.values() for words in asked])
def test_what_was_asked_for_has_a_row(words: str) -> None:
    assert len([row for _, row in _rows() if re.search(words, row)]) == 1


def test_each_row_names_files_that_are_there() -> None:
    missing = []
    for where, row in _rows():
        names = re.findall(r"`([^`]+)`", where)
        assert names, f"a row that names no file: {row[:60]}"
        missing += [
            name for name in names if not ((ROOT / name).is_file() or (ROOT / "procedures" / f"{name}.yaml").is_file())
        ]
    assert missing == []


def test_each_row_says_how_it_was_settled() -> None:
    settled = ("practice", "published", "model", "mended", "left out", "invented", "wanted", "this program's own")
    silent = [row[:60] for _, row in _rows() if not any(word in row.rsplit("|", 2)[1].lower() for word in settled)]
    assert silent == []


def test_each_shipped_procedure_and_sequence_is_named() -> None:
    note = (ROOT / "docs" / "content-review.md").read_text()
    shipped = sorted(path.stem for path in (ROOT / "procedures").glob("*.yaml"))
    assert len(shipped) > 70
    assert [name for name in shipped if f"`{name}`" not in note] == []


def test_the_note_names_nothing_that_is_not_there(demo: Folder) -> None:
    note = (ROOT / "docs" / "content-review.md").read_text()
    named = set(re.findall(r"`([a-z]+(?:-[a-z]+)*)`", note))
    keys = {"packs", "clears", "turns", "critical"}
    other = keys | {"sealed-drum-bearing", "head-retorque", "plug-torque-off-chart"}
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
