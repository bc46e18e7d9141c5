"""Oil, reach, crank, cloths and shims on an engine of another trade: what goes wrong there is told, each cause once."""

from __future__ import annotations

from pathlib import Path

import pytest

from docgen.club.read import read_club
from docgen.proof import proof_all
from tests.proof.slips import after, names
from tests.secondtrade import FILES

OIL, VALVES, JETS = (f"procedures/{name}.yaml" for name in ("oil-change", "valve-clearance", "float-carburettor"))
TIGHTEN = "      - do: Tighten the drain plug.\n        tightens: [drain-plug]\n        takes: 1 min\n"
FILL = ("      - do: Fill the oil in through the funnel, slowly, as much as the cell says.\n        fills: [sump-oil]\n"
        "        tools: [oil-funnel]\n        takes: 2 min\n")  # fmt: skip
AGAIN = "        turns: [flywheel]\n        crank: tdc-firing\n        why: A shim that lies askew"
CLEANED = ("      - do: Spray both jets and the bowl with carburettor cleaner.\n"
           "        cleans: {main-jet: jet-cleaner, idle-jet: jet-cleaner, float-bowl: jet-cleaner}\n"
           "        takes: 2 min\n")  # fmt: skip
PACKED = "      - do: Stop the inlet with a counted rag.\n        packs: {carburettor-gasket: clean-rag}\n"

FAULTS = [
    (OIL, TIGHTEN + FILL, FILL + TIGHTEN, ["filled-open"]),
    (OIL, FILL, "", ["run-dry"]),
    (OIL, FILL, FILL + FILL, ["fluid-as-it-was"]),
    (OIL, "        undoes: [drain-plug]\n        drains: [sump-oil]\n", "        undoes: [drain-plug]\n",
     ["fluid-runs-out"]),
    (OIL, "        undoes: [dipstick]\n", "", ["no-way-for-fluid", "tightened-twice"]),
    (VALVES, AGAIN, AGAIN.replace("tdc-firing", "tdc-overlap"), ["crank-elsewhere"]),
    (VALVES, AGAIN, AGAIN.replace("        crank: tdc-firing\n", ""), ["crank-elsewhere"]),
    (JETS, CLEANED, "", ["fitted-dirty"]),
    (JETS, PACKED, "      - do: Go on to the bench.\n", ["nothing-to-clear"]),
    (JETS, "        measure: {of: float-height", "        measure: {of: plug-gap",
     ["measured-covered", "text-names-another"]),
    (JETS, "of: [main-jet, idle-jet], accept", "of: [inlet-shim], accept", ["measured-covered"]),
]  # fmt: skip


def test_the_club_of_another_trade_proofs_clean() -> None:
    folder = read_club(FILES)
    assert sorted(folder.procedures) == ["float-carburettor", "oil-change", "valve-clearance"]
    assert [*folder.problems, *proof_all(folder)] == []


@pytest.mark.parametrize(("file", "old", "new", "rules"), FAULTS)
def test_what_goes_wrong_is_told_once(tmp_path: Path, file: str, old: str, new: str, rules: list[str]) -> None:
    assert sorted(set(names(after(tmp_path, file, old, new)))) == sorted(rules)


def test_the_fault_says_what_led_there(tmp_path: Path) -> None:
    (dry,) = after(tmp_path, OIL, FILL, "")
    assert (dry.message, dry.trail) == ("the engine runs here without sump-oil", ("sump-oil was let out at line 41",))


def test_a_hot_engine_is_not_sprayed(tmp_path: Path) -> None:
    ran = "      - do: Listen to the idle, and open the throttle quickly.\n"
    spray = ("      - do: Spray the carburettor with carburettor cleaner.\n        cleans: {carburettor: jet-cleaner}\n"
             "        takes: 1 min\n")  # fmt: skip
    found = [one for one in after(tmp_path, JETS, ran, spray + ran) if one.name == "hot-work"]
    said = "jet-cleaner goes onto the hot engine here: the engine ran at line 158, and no wait to cool follows"
    assert [one.message for one in found] == [said]
    cooled = "      - do: Let the engine cool.\n        wait: {for: 45 min, cools: true}\n"
    assert "hot-work" not in names(after(tmp_path, JETS, ran, cooled + spray + ran))


def test_a_plug_forgotten_before_the_run_is_to_be_tightened_not_the_run_put_off(tmp_path: Path) -> None:
    (found,) = (one for one in after(tmp_path, OIL, TIGHTEN, "") if one.name == "run-unfinished")
    assert found.hint == "add a step before with  tightens: [drain-plug]"
    cap = "      - do: Push the spark plug cap on.\n        tightens: [spark-plug-cap]\n"
    run = "      - do: Start the engine outdoors, and let it warm up.\n        runs: true\n"
    second = after(tmp_path, JETS, cap + "        takes: 30 s\n" + run, run + "        takes: 3 min\n" + cap)
    (late,) = (one for one in second if one.name == "run-unfinished")
    assert late.hint == "do it after the last fastener is tight"


def test_what_only_another_type_has_is_not_done_on_this_one(tmp_path: Path) -> None:
    other = (FILES / "models" / "wren-210t.yaml").read_text("utf-8")
    other = other.replace("model: wren-210t", "model: wren-300w").replace("  sump: {", "  header-tank: {}\n  sump: {")
    other = other.replace("shim-valves,", "shim-valves, water-cooling,")
    step = "      - do: Carry the old oil and the oily rags away, and wipe the tiller dry.\n"
    tank = "      - do: Top the header tank up.\n        takes: 1 min\n"
    (tmp_path / "models").mkdir()
    (tmp_path / "models" / "wren-300w.yaml").write_text(other, "utf-8")
    (found,) = after(tmp_path, OIL, step, tank + step)
    assert (found.name, found.message, found.hint, found.trail) == (
        "not-on-this-type", "wren-210t has no header-tank, and the step is done on it too",
        "write  only_with: [water-cooling]", ("only on wren-210t",))  # fmt: skip
    assert after(tmp_path, OIL, step, tank.replace("takes", "only_with: [water-cooling]\n        takes") + step) == []
