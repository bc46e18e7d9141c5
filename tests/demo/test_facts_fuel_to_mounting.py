"""Facts of the trade in the readings of fuel, carburettor test, cooling and mounting.

Rows as in `test_facts_engine.py`.
"""

from __future__ import annotations

import pytest

from tests.demo.conftest import Text
from tests.demo.facts import ALDER, HAZEL, LARCH, MODEL, PRACTICE, Fact, absent, stands

FUE, POP, COO, MOU = "fuel-system", "carburettor-test", "cooling-system", "engine-mounting"
PREMIX = "calculated: 5 l at 25:1 are 200 ml, at 20:1 250 ml"
STATIC = "fire safety advice, from memory: a can is filled on the ground"

FACTS: dict[str, Fact] = {
    # Fuel
    "no flame before, fuel message before the tank is opened": (
        ALDER,
        FUE,
        PRACTICE,
        (
            r"Fuel is extremely flammable",
            r"no flame, heater or charger, fire extinguisher in reach",
            r"WARNING Fuel runs out - moving air, no flame, no charger\. \d+ (.{,99} )?Draw the fuel out of the tank",
        ),
    ),
    "drained fuel is looked at in glass, labelled and carried out": (
        HAZEL,
        FUE,
        PRACTICE,
        (
            r"Draw a little of this fuel into a glass",
            r"no drops and no layer at the bottom",
            r"label it with mixture and date, and carry it out",
        ),
    ),
    "fuel line is bent, filter new, then held under pressure": (
        ALDER,
        FUE,
        PRACTICE,
        (
            r"Bend the fuel line sharply along its whole length",
            r"Put a new fuel filter in",
            r"arrow towards the carburettor",
            r"Close the carburettor end of the line with a blanking cap, and count it",
            r"Pump the line up to the starting pressure",
            r"take the cap off, and count it",
        ),
    ),
    "pulse line drives the pump": (
        ALDER,
        FUE,
        PRACTICE,
        (
            r"Take the pulse line off, and bend it",
            r"It drives the fuel pump",
            r"Push the pulse hose onto the crankcase",
        ),
    ),
    "vent lets air in": (
        LARCH,
        FUE,
        PRACTICE,
        (r"Push air into the empty tank through its vent", r"Air goes in freely"),
    ),
    "tank is flushed, then looked into by daylight": (
        HAZEL,
        FUE,
        PRACTICE,
        (
            r"An empty tank is full of vapour",
            r"Clean the tank with a little petrol",
            r"WARNING Empty tank, full of vapour",
            r"Look into the tank by daylight",
        ),
    ),
    "can on the ground before petrol flows": (
        ALDER,
        FUE,
        STATIC,
        (r"Keep the can on the ground while it is filled", r"on the ground, outdoors", r"Pour petrol into the can"),
    ),
    "petrol first, oil measured to it, shaken, labelled: 25 to 1": (
        ALDER,
        FUE,
        PREMIX,
        (
            r"up to its five- ?litre mark",
            r"Measure the oil for five litres",
            r"190 to 210 ml",
            r"shake it for one minute",
            r"on the label of the can",
        ),
    ),
    "20 to 1 on the larger engine": (LARCH, FUE, PREMIX, (r"240 to 260 ml", r"20 parts of fuel to one of oil")),
    "fuel joints stand dry for a minute, pans away, then battery, cap and start": (
        LARCH,
        FUE,
        PRACTICE,
        (
            r"Dry at every joint after one minute",
            r"away from the kart",
            r"negative lead on the battery last",
            r"Push the spark plug cap on",
            r"Start the engine outdoors",
        ),
    ),
    # Pop-off
    "carburettor is emptied, turns and pop-off found before any brush, washed closed, then tested unopened": (
        ALDER,
        POP,
        PRACTICE,
        (
            r"Tip the carburettor over the catch pan",
            r"Turn each needle in until it just touches",
            r"Wet the fuel inlet with test fluid",
            r"This is what the driver has been racing with",
            r"Close the fuel inlet and the bores",
            r"Clean the carburettor outside",
            r"Wet the fuel inlet again with test fluid",
            r"The first reading is what the driver raced with",
        ),
    ),
    "pump no higher than the ceiling": (
        HAZEL,
        POP,
        MODEL,
        (r"Pressure above the ceiling damages", r"pump slowly, and read where the needle opens", r"1\.0 bar"),
    ),
    "pop-off is repeated until readings agree, then reseat, then leak": (
        LARCH,
        POP,
        PRACTICE,
        (
            r"Three readings one after the other",
            r"Read the pressure at which the needle closes again",
            r"Pump the fuel inlet up to the starting pressure",
            r"look for bubbles",
        ),
    ),
    "wet or dry is asked": (ALDER, POP, PRACTICE, (r"wet or dry",)),
    # Cooling
    "cap opened cold, under a cloth": (
        LARCH,
        COO,
        PRACTICE,
        (
            r"Keep the cap shut until a bare hand can rest on the radiator",
            r"Open the filler cap slowly, a cloth over it",
            r"Undo the drain screw",
        ),
    ),
    "thermostat is warmed in water, belts and pump felt first": (
        LARCH,
        COO,
        PRACTICE,
        (
            r"Roll both belts off",
            r"Spin the shaft of the water pump",
            r"Warm the thermostat slowly in stirred water, away from the kart",
            r"42 to 48",
            r"spring side",
            r"Roll both belts onto",
        ),
    ),
    "new washer, filled, pressed, let out": (
        LARCH,
        COO,
        PRACTICE,
        (
            r"Put a new sealing washer on the drain screw",
            r"squeeze the hoses until no more bubbles come",
            r"pump up to the starting pressure",
            r"0\.75 bar",
            r"Let the pressure out",
        ),
    ),
    "the axle drives the pump; filled up when cold again": (
        LARCH,
        COO,
        MODEL,
        (
            r"keep the axle turning slowly",
            r"With the axle still, no water moves",
            r"let it grow cold",
            r"fill up to the mark",
        ),
    ),
    # Mounting
    "sprocket tight and true before the chain is set": (
        ALDER,
        MOU,
        PRACTICE,
        (
            r"Tighten the nuts of the axle sprocket once more",
            r"watch the rim of the axle sprocket",
            r"Loosen the nuts of the engine clamps",
            r"mark the tyre where the chain is tightest",
        ),
    ),
    "slid, tightened, rocked, pedal tried, offset, then slack": (
        HAZEL,
        MOU,
        PRACTICE,
        (
            r"Slide the engine until the slack",
            r"Tighten the nuts of the engine clamps, turn about",
            r"Rock the engine by its cylinder foot",
            r"Press the pedal down and let go",
            r"Measure the offset of the sprockets",
            r"Measure the slack at the tight spot again",
            r"10 to 14 mm",
        ),
    ),
    "a cracked mount stops the job": (
        LARCH,
        MOU,
        PRACTICE,
        (r"No crack at a hole or weld", r"Stop\. A cracked mount or rail"),
    ),
}


@pytest.mark.parametrize("fact", FACTS)
def test_fact_is_on_the_sheet(text: Text, fact: str) -> None:
    stands(text, fact, FACTS[fact])


ABSENT: dict[str, Fact] = {
    "no pulse line outside on the 125": (LARCH, FUE, MODEL, (r"[Pp]ulse line", r"[Pp]ulse hose")),
}


@pytest.mark.parametrize("fact", ABSENT)
def test_what_is_another_engines_is_not_on_the_sheet(text: Text, fact: str) -> None:
    absent(text, fact, ABSENT[fact])
