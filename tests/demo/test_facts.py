"""Facts of the trade, looked for in the printed reading, not in the files. All: common practice, no source.

Each fact is a row of patterns that stand on the sheet in this order.
"""

from __future__ import annotations

import re

import pytest

from tests.demo.conftest import Text

CLU, CAR, REE = "clutch-service", "carburettor-service", "reed-inspection"
STA, PLU, SPR = "starter-drive-service", "spark-plug-renewal", "sprocket-chain-inspection"

FACTS: dict[str, tuple[str, tuple[str, ...]]] = {
    "starter comes off as a unit": (STA, (r"Take the starter off as a unit",)),
    "plastic gear cover is loosened with the driver, done up gently by hand": (
        STA,
        (
            r"Loosen the screws of the gear cover with the power driver at its lightest setting",
            r"gently by hand",
            r"[Gg]ently, until the cover sits down",
        ),
    ),
    "starter drive gets a light film, wiped": (
        STA,
        (r"thin film of oil on the thread of the starter drive", r"Wipe the film off again"),
    ),
    "a wet starter drive holds dust": (STA, (r"dust",)),
    "old chain lubricant is cleaned off with degreaser": (
        CLU,
        (r"Clean the old chain lubricant off .* with degreaser",),
    ),
    "clutch drum is cleaned with brake cleaner": (CLU, (r"Clean the drum inside and outside with brake cleaner",)),
    "ignition lead is freed before the cover comes off": (
        CLU,
        (r"Free the ignition lead from the clutch cover", r"Take the clutch cover off"),
    ),
    "parts are laid out in order and go back in reverse": (
        CLU,
        (r"lay them down in that order", r"go back in the reverse order"),
    ),
    "washer chamfer first, O-ring, greased bearing, drum": (
        CLU,
        (
            r"Slide the inner thrust washer onto the shaft, chamfer first",
            r"chamfered side towards the crankcase",
            r"Film a new O-ring with grease, and roll it onto the shaft",
            r"Slide the greased bearing onto the shaft",
            r"Slide the drum over",
        ),
    ),
    "worn outer thrust washer is renewed": (
        CLU,
        (
            r"Look at the outer thrust washer",
            r"Renew it\. A worn outer thrust washer",
        ),
    ),
    "one small drop of threadlocker, spread; more gums the washers": (
        CLU,
        (r"More than one drop gums the washers", r"Put one small drop of threadlocker on the shaft end, and spread it"),
    ),
    "clutch nut takes a 17 mm socket and a crank-holding tool": (
        CLU,
        (r"undo the clutch nut", r"Socket 17 mm", r"Crank-holding tool"),
    ),
    "thread and nut are degreased just before threadlocker": (
        CLU,
        (r"Degrease both threads", r"Threadlocker does not cure on grease", r"Put one small drop of threadlocker"),
    ),
    "drum has end float before the locker is wet, and is free when the nut is tight": (
        CLU,
        (r"Measure the end float of the drum", r"tighten the clutch nut", r"Turns freely, drags nowhere"),
    ),
    "clutch clearance: diametral, wear widens, below new means wrong parts": (
        CLU,
        (r"Clutch clearance", r"Wear widens the clearance", r"Below the new range, wrong parts are in hand"),
    ),
    "earth strap screw goes into aluminium and strips": (
        CLU,
        (
            r"screw of the earth strap goes into aluminium",
            r"strips",
        ),
    ),
    "screws full of old threadlocker are replaced": (
        CLU,
        (r"Screws full of old threadlocker are replaced by new ones",),
    ),
    "negative lead off first, on last": (
        CLU,
        (
            r"Take the negative lead off the battery first, before any other lead",
            r"Put the negative lead on the battery last, after every other lead",
        ),
    ),
    "engine cold": (CLU, (r"Engine cold",)),
    "carburettor is cleaned outside before it is opened": (
        CAR,
        (r"Clean the carburettor outside", r"Undo the screw of the fuel inlet cover"),
    ),
    "small carburettor screws: size 20 hexalobular, lightest setting, heads break off": (
        CAR,
        (r"with the power driver at its lightest setting", r"[Hh]exalobular driver size 20", r"heads"),
    ),
    "carburettor screws are tightened by hand": (
        CAR,
        (r"Tighten the screws of the pump cover by hand", r"Tighten the screws of the metering cover by hand"),
    ),
    "strainer under the fuel inlet cover, flat blade, with its gasket": (
        CAR,
        (
            r"Undo the screw of the fuel inlet cover with the flat blade",
            r"Lift off the fuel inlet cover, its gasket, and the strainer that lies under it",
        ),
    ),
    "needle turns are counted in before removal": (
        CAR,
        (r"Turn each needle in until it just touches, and count its turns", r"Screw both needles out"),
    ),
    "metering lever slightly above the body is richer": (
        CAR,
        (
            r"Set the height of the metering lever",
            r"[Rr]icher",
        ),
    ),
    "pump: diaphragm on the body, gasket on it": (CAR, (r"new pump diaphragm on the body, then a new pump gasket",)),
    "metering: gasket on the body, diaphragm on it": (
        CAR,
        (r"new metering gasket on the body, then a new metering diaphragm",),
    ),
    "pop-off and leak tests have a pressure ceiling": (CAR, (r"pop-off", r"1\.2 bar")),
    "both carburettor nuts are started before either is tightened": (
        CAR,
        (
            r"Start both carburettor nuts by hand, before either is tightened",
            r"jams",
            r"Tighten the carburettor nuts, turn about",
        ),
    ),
    "reeds are checked for chipped edges and holes": (REE, (r"Look at the edges of every petal", r"chip", r"hole")),
    "every missing reed piece is found before closing": (
        REE,
        (r"Lay every broken piece together to a whole petal", r"Do not close"),
    ),
    "reed tip gap is measured": (
        REE,
        (r"Measure the gap under the tip of each petal", r"under the free end of each petal", r"at most 0\.20 mm"),
    ),
    "old plug is kept as a labelled spare, a condemned one is not": (
        PLU,
        (
            r"If it was good, put the old plug into a bag, label it, and keep it as a spare",
            r"If it was not, bend its side electrode over, and scrap it",
        ),
    ),
    "new plug's gasket is squashed, backed off, then tightened firm; the model governs": (
        PLU,
        (
            r"Squash the new gasket with the plug socket, then back off a little",
            r"Tighten the plug firm, to the model's figure",
            r"25 to 29 N·m",
        ),
    ),
    "plug type, reach and gap": (
        PLU,
        (r"Read the type on the new plug", r"Measure the reach of the new plug", r"Measure the electrode gap"),
    ),
    "chain elongation over pitches, slack at the tight spot": (
        SPR,
        (
            r"measure the length over 20 pitches",
            r"mark the tyre where the chain is tightest",
            r"Measure the slack at the tight spot again",
        ),
    ),
    "spring clip: closed end leads": (CLU, (r"closed end towards the way the chain runs",)),
    "function check at the end": (CAR, (r"Picks up cleanly, falls back to idle", r"The engine stops at once")),
}


@pytest.mark.parametrize("fact", FACTS)
def test_fact_is_on_the_sheet(text: Text, fact: str) -> None:
    procedure, patterns = FACTS[fact]
    sheet, at = text("004", procedure, "reading"), 0
    for pattern in patterns:
        found = re.search(pattern, sheet[at:])
        assert found, f"{fact}: /{pattern}/ is not in the reading of {procedure} behind character {at}"
        at += found.end()


def test_half_yearly_kit_is_said_on_the_sheet(text: Text) -> None:
    assert "every 6 months" in text("004", CAR, "reading")


def test_sensor_ring_takes_the_place_of_the_gasket(text: Text) -> None:
    sheet = text("038", PLU, "reading")
    assert re.search(r"Turn the gasket of the new plug off.*Lay the sensor ring on the seat", sheet)
    assert "sensor ring" not in text("004", PLU, "reading")


def test_retapped_earth_strap_shows_on_its_engine_only(text: Text) -> None:
    with_it = text("023", CLU, "reading")
    assert re.search(r"M6.1 instead of M5.0\.8", with_it)
    for engine in ("004", "017"):
        assert "instead of M5" not in text(engine, CLU, "reading")


def test_both_sheets_say_whose_figures_come_first(paper: Text) -> None:
    for sheet in ("leaf", "reading", "sign-off"):
        words = r"maker.s manual, (the )?class rules, local codes and licensed practice come first"
        assert re.search(words, paper("004", CLU, sheet))
