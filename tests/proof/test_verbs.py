"""What a step's text promises: verb by verb, behind a condition, and nothing where the words say less."""

from __future__ import annotations

from pathlib import Path

import pytest

from docgen.proof.verbs import promised
from tests.proof.pages import PAGES, club_with, findings, read_page


@pytest.mark.parametrize(
    ("text", "needs"),
    [
        ("Let the engine grow cold.", [("wait",)]),
        ("Let go of the switch.", []),
        ("Fill the tank through the funnel with its strainer.", [("applies", "fills")]),
        ("Fill a syringe with oil.", []),
        ("Press the stop switch.", [("look", "measure")]),
        ("Press the seal into its bore.", []),
        ("Push, pull and rock the drum by its sprocket.", [("look", "measure")]),
        ("Drive ten minutes at race speed.", [("runs",)]),
        ("Drive the pin out with a drift.", []),
        ("Turn the wheel through three turns.", [("look", "measure")]),
        ("Turn the crank until the piston is at its lowest.", [("turns", "runs")]),
        ("Pack clean cloths round the rod, and count them.", [("packs",)]),
        ("Take the cloths out of the crankcase, and count them.", [("clears",)]),
        ("Turn the main switch on.", []),
        ("Start all screws by hand.", [("starts", "tightens")]),
        ("Start again, and warm the engine gently.", [("runs",)]),
        ("Unless the sheet before says done, tighten the head nuts again.", [("tightens",)]),
        ("If the plug is wet, black or oily, renew it.", [("renews",)]),
        ("Count each needle in until it just touches.", [("finds", "sets", "measure")]),
        ("Count the rags.", []),
        ("Let taper, bore and nut dry.", [("wait",)]),
        ("Let the charger run until it shows full.", [("wait",)]),
        ("Pour petrol into the can up to its mark.", [("applies",)]),
        ("Pour the catch pan into the closed can.", []),
        ("Put a thin film of oil on the thread.", [("applies",)]),
        ("Put the cloth into the metal bin.", []),
        ("Lay the straight edge across the flange.", [("look", "measure")]),
        ("Lay the gasket on.", []),
        ("Squeeze and bend the fuel line.", [("look", "measure")]),
        ("Squeeze the ring with the fingers.", []),
        # Words that are things and states as well, and what lies about in a workshop: nothing is promised.
        ("Oil runs out of the pipe for a while.", []),
        ("Oil and paste attack the skin.", []),
        ("Wet threads do not lock.", []),
        ("Clean parts go into the left tray.", []),
        ("Clean the tray before the parts go into it.", []),
        ("Wet the cloth.", []),
        ("Oil the stone lightly, then draw the blade over it.", [("applies",)]),
        ("Oil the old brush.", []),
        ("Fill up the tank.", [("applies", "fills")]),
        ("Fill in the sheet.", []),
        ("Remove the tools from the bench.", []),
        ("Wet the thread with test fluid.", [("applies",)]),
        ("Clean body and covers with cleaner.", [("cleans",)]),
        # In a list of three as well, and with what is sprayed said first.
        ("Open the filler cap, fill up to the mark, and close it.", [("applies", "fills")]),
        ("Lift the cloth, look into the crankcase, and lay the cloth back.", [("look", "measure")]),
        ("Roll it out, start the engine, and let it idle.", [("runs",)]),
        ("Outside its range, loosen the clamps.", []),
        ("Spray preserving oil into the open throat.", [("applies", "cleans")]),
        ("Spray of oil on the lens hides it.", []),
        ("Pump up again, and spray soapy water on joints.", [("applies", "cleans"), ("look", "measure")]),
        ("Push air into the tank through its vent.", [("look", "measure", "cleans")]),
    ],
)
def test_a_text_promises_the_work_that_it_tells_of(text: str, needs: list[tuple[str, ...]]) -> None:
    assert [row.needs for row in promised(text) if row.needs] == needs


@pytest.mark.parametrize(
    ("text", "key", "told"),
    [
        ("Now the clamp goes on.", "tightens", []),
        ("The outer half of the clamp goes back on.", "tightens", []),
        ("Then the clamp comes off.", "undoes", []),
        # Nothing that moves this way is in the step, or nothing moves.
        ("Now the clamp goes on.", "undoes", ["text-without-verb"]),
        ("Then the clamp comes off.", "tightens", ["text-without-verb"]),
        ("The clamp is undone.", "undoes", ["text-without-verb"]),
        ("Now the clamp.", "tightens", ["text-without-verb"]),
    ],
)
def test_a_step_may_tell_of_what_it_moves(tmp_path: Path, text: str, key: str, told: list[str]) -> None:
    words = {"undoes": "Undo the clamp.", "tightens": "Tighten the clamp.", key: text}
    steps = "".join(f"      - do: {do}\n        {verb}: [clamp]\n" for verb, do in words.items())
    job = read_page(PAGES / "text-without-verb.md").passing["procedures/job.yaml"]
    root = club_with(tmp_path / "club", {"procedures/job.yaml": job.partition("      - do:")[0] + steps})
    assert [problem.name for problem in findings(root, None, None)] == told
