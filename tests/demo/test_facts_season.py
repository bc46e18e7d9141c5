"""Facts of the trade in the readings of the jobs round a season: running, storing, selling, the whole strip-down.

Rows as in `test_facts_engine.py`.
"""

from __future__ import annotations

import pytest

from tests.demo.conftest import Text
from tests.demo.facts import ALDER, HAZEL, LARCH, MODEL, PRACTICE, Fact, absent, stands

BTW, RUN, PRS, AFT, WIN = "between-rounds", "running-in", "pre-start", "after-meeting", "winter-storage"
OWN, INC, PRE = "change-of-owner", "incoming-inspection", "pre-season"
RECORD = "14 CFR 91.417(a)(2), as a model: total time, life-limited parts, inspection status go along"
LEAD = "public procedure-writers' guides, from memory: a leading condition stands before the action"

FACTS: dict[str, Fact] = {
    # Between rounds
    "the junior engine is felt by its rope, cap off": (
        HAZEL,
        BTW,
        PRACTICE,
        (
            r"Pull the spark plug cap off",
            r"Pull the starter rope slowly through four compressions",
            r"Drum and axle turn without the engine",
        ),
    ),
    "the others by the clutch nut, never against its thread": (
        ALDER,
        BTW,
        PRACTICE,
        (r"through four compressions by its clutch nut, in the tightening direction",),
    ),
    "a drum that tips calls for the clutch job": (
        LARCH,
        BTW,
        PRACTICE,
        (r"rock the drum by its sprocket", r"The clutch is opened before the next round"),
    ),
    # Running-in
    "signed sheet, maker's table and no storage cap come first": (
        ALDER,
        RUN,
        PRACTICE,
        (
            r"The sheet of the work before this is signed",
            r"no cap left in intake or exhaust",
            r"maker.s own running-in table",
            r"Tighten the nuts of the engine clamps",
        ),
    ),
    "rich end of this engine's starting values, shown in the step": (
        LARCH,
        RUN,
        MODEL,
        (
            r"Set low-speed needle and high-\s?speed needle to the rich end",
            r"Further out is richer",
            r"1\.25 to 1\.50 turns",
            r"0\.50 to 1\.00 turns",
        ),
    ),
    "two heats with cooling between, then half throttle, bursts, race speed": (
        HAZEL,
        RUN,
        PRACTICE,
        (
            r"a third of its speed",
            r"grow cold",
            r"half its speed in short waves",
            r"grow cold",
            r"up to half throttle",
            r"full throttle for two seconds at a time",
            r"except the longest straight",
        ),
    ),
    "stop switch is tried in the first heat": (
        ALDER,
        RUN,
        PRACTICE,
        (r"a third of its speed", r"Press the stop switch", r"The engine stops at once", r"Second warmth"),
    ),
    "the condition of the retorque stands first": (
        ALDER,
        RUN,
        LEAD,
        (r"Unless the sheet before says done, tighten the head nuts again",),
    ),
    "never on the overrun with the throttle shut": (
        ALDER,
        RUN,
        PRACTICE,
        (r"never on the overrun with the throttle shut", r"no fuel is no oil"),
    ),
    "water filled up cold between the heats": (
        LARCH,
        RUN,
        PRACTICE,
        (
            r"measure the water temperature",
            r"45 to 58",
            r"grow cold",
            r"Open the filler cap, fill up to the mark",
            r"half its speed",
        ),
    ),
    # Pre-start
    "the label of the can is read before the tank is filled": (
        ALDER,
        PRS,
        PRACTICE,
        (r"mixed within the last four weeks", r"Shake the can, and fill the tank"),
    ),
    "throttle, fuel joints, start, axle, stop switch, then warm-up": (
        HAZEL,
        PRS,
        PRACTICE,
        (
            r"Press the pedal down and let go, three times",
            r"Dry at every joint",
            r"Start the engine on the stand",
            r"Watch the axle while the engine idles",
            r"Press the stop switch",
            r"warm the engine gently for one minute",
        ),
    ),
    "battery is read before the first crank": (
        LARCH,
        PRS,
        PRACTICE,
        (
            r"Measure the resting voltage of the battery",
            r"Read before the first crank",
            r"Start the engine on the stand",
        ),
    ),
    "water temperature against the model's range": (LARCH, PRS, MODEL, (r"measure the water temperature", r"45 to 58")),
    # After the meeting
    "hours are written the same day, cold before the wash, fuel out before water": (
        ALDER,
        AFT,
        PRACTICE,
        (
            r"Write running time",
            r"Let the engine grow cold",
            r"Draw the fuel out of the tank",
            r"label it with mixture and date",
            r"Close intake, exhaust, vents",
            r"degreaser and the stiff brush",
        ),
    ),
    "leaks are looked for before the wash, hose not pressure washer, tray emptied, caps counted": (
        HAZEL,
        AFT,
        PRACTICE,
        (
            r"Look over the dirty engine",
            r"never from a pressure washer",
            r"Pour the wash water from the tray into the can",
            r"Blow the engine dry, from the openings outwards",
            r"Take the blanking caps off, and count them",
        ),
    ),
    "frost is asked for where there is water": (
        LARCH,
        AFT,
        PRACTICE,
        (r"look for frost", r"bursts cylinder and radiator"),
    ),
    "charger: fuel out of the room first, on last, off first": (
        LARCH,
        AFT,
        PRACTICE,
        (
            r"switch the charger on last and off first",
            r"Carry fuel, wet cloths and cans out of the room",
            r"then switch it on at the mains",
            r"Switch the charger off at the mains, then take its clips off",
        ),
    ),
    # Winter
    "negative lead off before anything, charged at the end": (
        ALDER,
        WIN,
        PRACTICE,
        (
            r"Take the negative lead off the battery",
            r"Draw the fuel out of the tank",
            r"Spray preserving oil into the open carburettor",
            r"Clip the charger on",
        ),
    ),
    "fuel line runs empty, oil film, piston up, caps counted and written on the label": (
        HAZEL,
        WIN,
        PRACTICE,
        (
            r"let line and filter run empty",
            r"helper pulls the starter rope",
            r"strongest resistance",
            r"red ribbon, and count them",
            r"caps in intake and exhaust and how many",
        ),
    ),
    "oil never on brake disc or clutch": (
        ALDER,
        WIN,
        PRACTICE,
        (r"never on brake disc or clutch", r"takes the brakes away"),
    ),
    "water and belts out, and so the label says": (
        LARCH,
        WIN,
        PRACTICE,
        (
            r"leave the system empty",
            r"Roll both belts off",
            r"Write on the label as well that water and pump belts are out",
        ),
    ),
    # Incoming and sale
    "numbers and seals before a spanner, complaint in the owner's words, photographs": (
        ALDER,
        INC,
        PRACTICE,
        (
            r"Compare engine number and serial number",
            r"Compare every seal",
            r"Photograph the engine",
            r"Ask the owner what he felt",
            r"Pull the spark plug cap off",
        ),
    ),
    "work is agreed in a hold": (
        HAZEL,
        INC,
        PRACTICE,
        (r"agree what is done and what is not", r"HOLD", r"Work that was not agreed is not paid"),
    ),
    "sale: numbers, seals, digest, hours, then the engine itself": (
        ALDER,
        OWN,
        RECORD,
        (
            r"numbers of its components with the engine card",
            r"Compare every seal",
            r"Compare the digest",
            r"hours, part lives, deviations and open findings",
            r"Write down what the record cannot tell",
        ),
    ),
    "sale: rotor rocked with its cover off, piston seen through the port, fuel looked at before the start": (
        HAZEL,
        OWN,
        PRACTICE,
        (
            r"Take the ignition cover off",
            r"Push, pull and rock the rotor",
            r"Tighten the screws of the ignition cover",
            r"Skirt grey with fine even lines",
            r"Open the tap of the tank",
            r"Start the engine outdoors",
        ),
    ),
    "both sign": (LARCH, OWN, PRACTICE, (r"Put both names under this sheet", r"HOLD")),
    # Pre-season
    "one strip-down: fuel out, wash, exhaust, chain, clutch, rotor, top, bottom, then carburettor and reeds": (
        ALDER,
        PRE,
        PRACTICE,
        (
            r"Draw the fuel out of the tank",
            r"degreaser and the stiff brush",
            r"Unhook the exhaust springs",
            r"Push the spring clip off",
            r"undo the clutch nut",
            r"Draw the rotor off",
            r"Undo the head nuts",
            r"decide whether this crank runs again",
            r"Lower the piston over the rod",
            r"Undo the carburettor nuts",
            r"Lift the reed block straight out",
        ),
    ),
    "pre-season: crankcase is tested before carburettor and exhaust go on": (
        ALDER,
        PRE,
        PRACTICE,
        (
            r"Pump up to the starting pressure, wait",
            r"Draw the vacuum up",
            r"Slide the carburettor onto the studs",
            r"Put the exhaust flange on",
        ),
    ),
    "pre-season: soot out of the port before the cylinder comes off": (
        LARCH,
        PRE,
        PRACTICE,
        (r"Scrape loose soot off the port", r"Draw the cylinder off straight"),
    ),
    "pre-season: threadlocker has its day, then the battery, then the first start": (
        LARCH,
        PRE,
        PRACTICE,
        (
            r"Let the threadlocker cure before the engine is cranked or started",
            r"negative lead on the battery last",
            r"warm it for one minute",
        ),
    ),
}


@pytest.mark.parametrize("fact", FACTS)
def test_fact_is_on_the_sheet(text: Text, fact: str) -> None:
    stands(text, fact, FACTS[fact])


ABSENT: dict[str, Fact] = {
    "no battery, no water on the junior engine in winter": (
        HAZEL,
        WIN,
        MODEL,
        (r"negative lead", r"battery lead", r"[Ww]ater and pump", r"clutch nut"),
    ),
    "no water on the air-cooled engine's label": (ALDER, WIN, MODEL, (r"no water", r"pump belts", r"starter rope")),
    "no charger and no frost on the junior engine after a meeting": (
        HAZEL,
        AFT,
        MODEL,
        (r"Clip the charger", r"frost"),
    ),
    "no retorque in the running-in of the 125": (LARCH, RUN, MODEL, (r"head nuts",)),
    "no clutch nut to turn on the junior engine": (HAZEL, BTW, MODEL, (r"clutch nut", r"resting voltage")),
    "no reed block, starter or coolant in the junior engine's pre-season": (
        HAZEL,
        PRE,
        MODEL,
        (r"reed block", r"earth strap", r"[Cc]oolant", r"main switch", r"balance gear"),
    ),
}


@pytest.mark.parametrize("fact", ABSENT)
def test_what_is_another_engines_is_not_on_the_sheet(text: Text, fact: str) -> None:
    absent(text, fact, ABSENT[fact])
