"""Facts of the trade in the readings of the strip-down jobs: exhaust, crankcase, top end, bottom end, ignition.

Each fact is a row of patterns that stand on the printed sheet in this order, and says where it stands: `PRACTICE` is
common practice without source, `MODEL` what the invented model says, anything else names its source.
"""

from __future__ import annotations

import pytest

from tests.demo.conftest import Text
from tests.demo.facts import ALDER, HAZEL, LARCH, MODEL, PRACTICE, Fact, absent, stands

EXH, PRT, TOP, BOT, IGN = "exhaust-service", "crankcase-test", "top-end", "bottom-end-check", "ignition-electrics"

FACTS: dict[str, Fact] = {
    # Exhaust
    "length of the flexible section is read before the springs let go, and set with the springs on": (
        ALDER,
        EXH,
        PRACTICE,
        (
            r"Measure the length of the flexible section",
            r"Unhook the exhaust springs",
            r"Push the flexible section on",
            r"Hook the exhaust springs in",
            r"Measure the length of the flexible section again, and set it",
        ),
    ),
    "a spring's hook that slips flies: eyes, before the springs are unhooked": (
        ALDER,
        EXH,
        PRACTICE,
        (r"An exhaust spring is stretched hard", r"Keep eye protection on", r"Unhook the exhaust springs"),
    ),
    "locking wire is counted out before, and wired anew after": (
        HAZEL,
        EXH,
        PRACTICE,
        (
            r"Cut the locking wire of the exhaust springs, where there is any, and count its pieces",
            r"every piece of wire counted out",
            r"Thread locking wire through the coils of each spring",
            r"wire slack",
        ),
    ),
    "exhaust gasket is scrapped, faces scraped with plastic, new one on": (
        ALDER,
        EXH,
        PRACTICE,
        (
            r"Take the exhaust gasket off, and scrap it",
            r"Scrape the old gasket off both faces with the plastic scraper",
            r"Lay a new exhaust gasket on",
        ),
    ),
    "piston is looked at through the port, and the port closed by the piston before it is scraped": (
        ALDER,
        EXH,
        PRACTICE,
        (
            r"Take the cloth out of the exhaust port, count it",
            r"Skirt grey with fine even lines",
            r"until the piston closes the exhaust port",
            r"Scrape loose soot off the port",
        ),
    ),
    "flange nuts are started, then tightened turn about, before the pipe goes on": (
        ALDER,
        EXH,
        PRACTICE,
        (
            r"Start both nuts of the exhaust flange by hand",
            r"Tighten the nuts of the exhaust flange, turn about",
            r"16 N·m",
            r"Put the exhaust pipe on",
        ),
    ),
    "lower springs first": (ALDER, EXH, PRACTICE, (r"Hook the exhaust springs in, the lower ones first",)),
    "a pipe is burnt clean before it is welded": (
        LARCH,
        EXH,
        PRACTICE,
        (r"burnt it clean first\. Oil vapour in a pipe explodes",),
    ),
    "a leak is found with paper while the engine runs, outdoors": (
        HAZEL,
        EXH,
        PRACTICE,
        (r"carbon monoxide", r"Open the fuel tap", r"Start the engine outdoors", r"Hold a strip of paper",
         r"The paper hangs still"),
    ),
    # Crankcase test
    "cloths are out of both openings before a test plate closes them": (
        ALDER,
        PRT,
        PRACTICE,
        (
            r"Take the cloths out of the inlet and the exhaust port, and count them",
            r"Close the inlet with its test plate",
            r"Close the exhaust port with its test plate",
        ),
    ),
    "piston lowest before the plates; pressure, then soapy water, then let out, then vacuum": (
        ALDER,
        PRT,
        PRACTICE,
        (
            r"Turn the engine until the piston is at its lowest",
            r"Pump up to the starting pressure",
            r"spray soapy water",
            r"Let the pressure out, and wipe the water off",
            r"Draw the vacuum up to its starting value",
        ),
    ),
    "lips of the seals turn over under pressure: said before pumping": (
        LARCH,
        PRT,
        PRACTICE,
        (r"The lips of the crankshaft seals turn over under pressure", r"Pump up to the starting pressure"),
    ),
    "pressure and vacuum have a start, a time and what must be held": (
        ALDER,
        PRT,
        MODEL,
        (
            r"after 60 s, from 0\.50 bar",
            r"[Aa]t least 0\.40 bar",
            r"after 60 s, from 0\.30 bar",
            r"[Aa]t least 0\.20 bar",
        ),
    ),
    "pressure of the small engine is its own": (
        HAZEL,
        PRT,
        MODEL,
        (r"after 60 s, from 0\.40 bar", r"[Aa]t least 0\.30 bar"),
    ),
    "pulse nipple is closed for the test, hose on again after it": (
        ALDER,
        PRT,
        PRACTICE,
        (
            r"Pull the pulse hose off at the crankcase",
            r"Close the pulse nipple of the crankcase",
            r"Take pump, test plates and plugs off, and count them",
            r"Push the pulse hose onto the crankcase",
        ),
    ),
    "an idle that hangs is air": (
        LARCH,
        PRT,
        PRACTICE,
        (r"falls back to idle each time", r"An idle that hangs is air"),
    ),
    # Top end
    "crown is read before anything is cleaned": (
        ALDER,
        TOP,
        PRACTICE,
        (
            r"Look at crown and chamber before anything is cleaned",
            r"eaten edge is detonation",
            r"Scrape the carbon off",
        ),
    ),
    "cloths packed round the rod before the cylinder is off, counted out before the gasket": (
        ALDER,
        TOP,
        PRACTICE,
        (
            r"Lift the cylinder until the rod shows below the piston",
            r"Pack clean cloths round the rod, and count them",
            r"Draw the cylinder off straight",
            r"Take the cloths out from round the rod, count them",
            r"Lay new base gaskets on",
        ),
    ),
    "no cloth stays in plug hole or ports while the crank turns": (
        LARCH,
        TOP,
        PRACTICE,
        (
            r"Take the cloth off the plug hole, and count it",
            r"Take the cloths out of the ports of the cylinder, and count them",
            r"Turn the crank until the piston is at its lowest",
            r"Draw the cylinder off straight",
        ),
    ),
    "both circlips are new; their open end stands up or down": (
        ALDER,
        TOP,
        PRACTICE,
        (
            r"take both circlips out, and scrap them",
            r"Press two new circlips into their grooves, each with its open end up or down",
            r"open ends up or down, arrow to the exhaust port",
        ),
    ),
    "circlips and the arrow are a hold": (
        HAZEL,
        TOP,
        PRACTICE,
        (
            r"and read the arrow on the piston",
            r"Both circlips snap in all round",
            r"HOLD",
            r"wrecks the cylinder on the first lap",
        ),
    ),
    "gauges and parts have one temperature before they are measured": (
        ALDER,
        TOP,
        PRACTICE,
        (
            r"come to the temperature of the room",
            r"Gauges and parts must have one temperature",
            r"Measure the bore at six points",
        ),
    ),
    "bore at six points, then taper and ovality, piston, clearance from the smallest": (
        ALDER,
        TOP,
        PRACTICE,
        (
            r"[Tt]op along",
            r"[Bb]ottom across",
            r"Measure the bore at six points",
            r"Subtract the smallest of the six readings from the largest",
            r"Measure the diameter of the piston",
            r"Calculate the smallest bore less the piston",
        ),
    ),
    "bore limit of each engine is its own": (LARCH, TOP, MODEL, (r"Measure the bore at six points", r"54\.050")),
    "ring gap: pushed square by the piston": (
        HAZEL,
        TOP,
        PRACTICE,
        (r"Push the ring into the bore with the piston, and measure its end gap", r"0\.15 to 0\.60 mm"),
    ),
    "ring ends stand at the peg before the cylinder goes over": (
        ALDER,
        TOP,
        PRACTICE,
        (r"its ends at the peg", r"a turned cylinder breaks the ring", r"slide the cylinder down over it"),
    ),
    "head nuts: all started, then in stages, in order": (
        ALDER,
        TOP,
        MODEL,
        (r"Start all head nuts by hand", r"first all to the first stage, then all to the last", r"8 N·m", r"17 N·m"),
    ),
    "squish: head tight, solder over the pin, drawn out whole, measured": (
        ALDER,
        TOP,
        PRACTICE,
        (
            r"Tighten the head nuts in order",
            r"against the bore above both ends of the pin",
            r"draw both pieces out",
            r"Measure both pressed ends",
            r"0\.80 to 1\.00 mm",
        ),
    ),
    "the head is gone over cold, after the first warmth, where this maker asks for it": (
        ALDER,
        TOP,
        PRACTICE,
        (
            r"warm it for one minute below a third of its speed",
            r"Let the engine grow cold",
            r"Pull the spark plug cap off",
            r"Tighten the head nuts again in order",
            r"Other makers forbid this",
        ),
    ),
    "water-cooled top end: drained before hoses, axle turns while it warms": (
        LARCH,
        TOP,
        PRACTICE,
        (
            r"Undo the drain screw",
            r"Pull the upper water hose off the head",
            r"Undo the head nuts",
            r"new O-rings of the cylinder head",
            r"Keep the axle turning for two minutes more, and measure the water temperature",
        ),
    ),
    "the piston-port engine gives up its inlet block for the cylinder": (
        HAZEL,
        TOP,
        PRACTICE,
        (
            r"Undo the screws of the inlet manifold",
            r"Draw the cylinder off straight",
            r"Scrape the gasket off the inlet face of the cylinder",
            r"Lay a new manifold gasket on its face",
        ),
    ),
    # Bottom end
    "rotor and drum are off before the shaft ends are measured": (
        ALDER,
        BOT,
        PRACTICE,
        (
            r"Take the outer thrust washer, the drum and its bearing off",
            r"Draw the rotor off with its puller",
            r"Lift and press each bare shaft end",
            r"[Rr]otor and drum off",
        ),
    ),
    "big end: felt, side play, radial play along the rod only": (
        ALDER,
        BOT,
        PRACTICE,
        (
            r"Turn the rod round the crank pin",
            r"Measure the side play of the big end",
            r"Measure the radial play of the big end",
            r"Only play along the rod is wear",
        ),
    ),
    "bottom end ends in a hold that sends a doubtful crank away, before the top end goes on": (
        HAZEL,
        BOT,
        PRACTICE,
        (
            r"decide whether this crank runs again",
            r"HOLD",
            r"No doubtful crank is run once more",
            r"send it to a qualified crankshaft builder",
            r"Lower the piston over the rod",
        ),
    ),
    "balance gears: oil looked at, marks together, oil filled in by amount": (
        LARCH,
        BOT,
        PRACTICE,
        (
            r"Drain the oil of the balance gears",
            r"Look at the oil against the light",
            r"both punch marks stand together",
            r"Lay a new gasket of the balance cover on",
            r"35 to 45 ml",
        ),
    ),
    # Ignition
    "connectors are parted by their bodies, cleaned, dried, greased with what does not conduct": (
        ALDER,
        IGN,
        PRACTICE,
        (
            r"Part each connector of the loom, one after the other, by its body",
            r"with contact cleaner",
            r"Let the connectors dry",
            r"Put a trace of contact grease",
            r"does not conduct",
        ),
    ),
    "stop switch: low when pressed, open when let go": (
        HAZEL,
        IGN,
        PRACTICE,
        (r"Measure the stop switch while it is pressed", r"1\.0", r"Let go of the switch", r"open circuit at once"),
    ),
    "coil is measured cap off, and a good cold reading does not clear it": (
        ALDER,
        IGN,
        MODEL,
        (
            r"Turn the plug cap off its lead",
            r"Measure the resistance of the ignition coil",
            r"a good reading does not clear it",
            r"5\.2 to 6\.4",
        ),
    ),
    "rotor: held by its spanner, drawn by its puller, no hammer": (
        ALDER,
        IGN,
        PRACTICE,
        (
            r"leave the hammer on the bench",
            r"Hold the rotor with its pin spanner, and undo",
            r"Draw the rotor off with its puller",
        ),
    ),
    "taper is degreased and dry before the key and the rotor": (
        LARCH,
        IGN,
        PRACTICE,
        (
            r"Degrease taper, bore of the rotor and rotor nut",
            r"A wet taper slips",
            r"Lay the key into the shaft",
            r"Push the rotor on over the key",
        ),
    ),
    "timing is measured from one side, before the threadlocker": (
        ALDER,
        IGN,
        PRACTICE,
        (
            r"Set the dial indicator in the plug hole to zero",
            r"Turn back, then forward until both marks meet",
            r"2\.00 to 2\.20 mm",
            r"Take the dial indicator out",
            r"Put one small drop of threadlocker on the rotor nut",
            r"tighten the rotor nut",
        ),
    ),
    "coil gap is set on the engine that has one, screws first": (
        HAZEL,
        IGN,
        MODEL,
        (
            r"Tighten the screws of the ignition coil once more",
            r"Measure the air gap of the coil at both legs",
            r"0\.30 to 0\.45 mm",
        ),
    ),
    "pickup gap on the battery ignition": (
        LARCH,
        IGN,
        MODEL,
        (r"Tighten the screws of the pickup once more", r"Measure the gap of the pickup", r"0\.40 to 0\.60 mm"),
    ),
    "spark: wet cloths away, cure over, switch on, then cranked; battery under load": (
        LARCH,
        IGN,
        PRACTICE,
        (
            r"Put wet cloths into the metal bin, and shut its lid",
            r"24 h",
            r"Clip the spark tester",
            r"Turn the main switch on, and measure the voltage at the coil",
            r"crank the engine for three seconds",
            r"measure the voltage of the battery while the starter turns",
            r"10\.0 V",
        ),
    ),
    "battery rests twelve hours before its voltage tells the charge": (
        ALDER,
        IGN,
        PRACTICE,
        (r"Twelve hours since the last run", r"Measure the resting voltage of the battery", r"12\.5 V"),
    ),
    "earth reading at the loose lead": (
        ALDER,
        IGN,
        MODEL,
        (
            r"Measure the resistance from the loose negative lead to the crankcase",
            r"above the meter.s own leads",
            r"[Aa]t most 0\.05 ohm",
        ),
    ),
    "earth under the starter's current": (
        ALDER,
        IGN,
        MODEL,
        (
            r"measure the voltage between the negative post and the crankcase",
            r"[Aa]t most 0\.2 V",
        ),
    ),
}


@pytest.mark.parametrize("fact", FACTS)
def test_fact_is_on_the_sheet(text: Text, fact: str) -> None:
    stands(text, fact, FACTS[fact])


ABSENT: dict[str, Fact] = {
    "no flange, no flexible section on the small engine": (HAZEL, EXH, MODEL, (r"flange", r"flexible section")),
    "no starter, no battery on the small engine": (
        HAZEL,
        IGN,
        MODEL,
        (r"[Bb]attery negative", r"[Cc]rank the engine", r"main switch"),
    ),
    "no reed block on the piston-port engine": (HAZEL, TOP, MODEL, (r"reed block", r"[Cc]oolant", r"drain screw")),
    "no retorque where the maker does not ask for it": (LARCH, TOP, MODEL, (r"Tighten the head nuts again",)),
    "no dial timing where the pickup decides": (LARCH, IGN, MODEL, (r"dial indicator", r"stator until it is right")),
    "no pulse hose where the pulse runs inside": (LARCH, PRT, MODEL, (r"[Pp]ulse hose", r"pulse nipple")),
    "no water and no balance gears on the air-cooled engine": (
        ALDER,
        TOP,
        MODEL,
        (r"water hose", r"punch mark", r"O-rings of the cylinder head"),
    ),
}


@pytest.mark.parametrize("fact", ABSENT)
def test_what_is_another_engines_is_not_on_the_sheet(text: Text, fact: str) -> None:
    absent(text, fact, ABSENT[fact])
