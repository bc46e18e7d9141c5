"""Writes the logs of the demo club's engines, event by event, as the program itself would have filed them.

All engines, people and figures are invented. The histories end before 2027-02-20, the demo's fixed day. A log that is
already there is left alone: the record is written once. To write one anew, delete its folder first.

    .venv/bin/python -m tools.demo_history
"""

from __future__ import annotations

import json
from pathlib import Path

import click

from docgen.club.log import digest
from docgen.club.read import read_club
from docgen.club.schema.event import Service
from docgen.club.store import append
from docgen.returns.filing import file_event

from .demo_events import (
    Event,
    carburettor,
    chain,
    clutch,
    found,
    plug,
    reeds,
    run,
    seal,
    starter,
    swapped,
)
from .demo_paper import paper_sheets

ROOT = Path(__file__).resolve().parent.parent
MAKERS = {
    **dict.fromkeys(("004", "017", "023"), "AL"),
    **dict.fromkeys(("021", "038", "060"), "HZ"),
    **dict.fromkeys(("031", "042"), "LA"),
}

MO, ZK, PA, GH, RD, IF, TW, ST = ("Marten Oakes", "Zoë Kőszegi", "Pilar Anstruther", "Greta Holmquist", "Rory Dunmore",
                                  "Ines Falkenrath", "Tomasz Wrenfield", "Samir Thornbury")  # fmt: skip
OB = "Ottilie Brandreth"

RE_TAPPED: Event = {
    "event": "deviation",
    "date": "2026-06-06",
    "by": OB,
    "item": "earth-strap-screw",
    "what": "Earth strap screw re-tapped from M5 to M6x1 in the aluminium crankcase",
    "why": "The M5 thread was stripped when the strap was put back on",
    "changes": {
        "thread": "M6x1",
        "class": "8.8",
        "drive": "hex 10 mm",
        "boss": {"material": "aluminium", "engaged": "9 mm"},
        "number": "M6x16, class 8.8, with plain washer",
    },
}

ONE_DOT, TWO_DOTS, THREE_DOTS = "one dot", "two dots", "three dots"
NEW_CHAIN = {"chain": "{maker}-4070", "chain-joining-link": "{maker}-4071"}

HISTORIES: dict[str, list[Event]] = {
    "004": [
        clutch("2026-02-21", MO, ("74.05", "74.06"), "73.32", "1.98", "0.25", "12", "0.02", second=OB),
        carburettor(
            "2026-02-22", MO, ("1.50", "1.50"), ("0.50", "0.25"), ("0.62", "0.72"), "0.1", "0.50", "0.34", TWO_DOTS
        ),
        chain("2026-02-28", MO, ("155.5", "155.6"), "12", renewed=NEW_CHAIN),
        reeds("2026-03-01", MO, ("0.05", "0.05", "0.10", "0.05")),
        plug("2026-03-01", MO, "{maker}-7010", "0.55"),
        starter("2026-03-07", MO, "0.02"),
        run("2026-03-29", "0.8", "4 x 12 min", fuel="25:1"),
        run("2026-04-12", "1.3", "6 x 13 min", peak_temperature="182 degC", needles="L 1.50, H 0.25"),
        run("2026-05-03", "1.2", "6 x 12 min"),
        chain("2026-05-09", MO, ("155.8", "155.9"), "13"),
        clutch("2026-05-16", MO, ("74.09", "74.10"), "73.21", "1.96", "0.30", "12", "0.02", second=OB),
        plug("2026-05-23", MO, "{maker}-7010", "0.55"),
        run("2026-05-31", "1.4", "7 x 12 min"),
        {
            "event": "setting",
            "date": "2026-06-21",
            "by": MO,
            "setting": "high-speed-turns",
            "value": "0.35 turn",
            "note": "Cool morning",
        },
        run("2026-06-21", "1.2", "6 x 12 min", air="14 degC, dry"),
        chain("2026-06-27", MO, ("156.1", "156.1"), "14"),
        run("2026-07-12", "1.2", "6 x 12 min", peak_speed="104 km/h"),
        carburettor(
            "2026-07-25", MO, ("1.50", "1.50"), ("0.35", "0.35"), ("0.66", "0.72"), "0.1", "0.48", "0.33", TWO_DOTS
        ),
        reeds("2026-07-25", MO, ("0.10", "0.05", "0.10", "0.10")),
        clutch("2026-08-01", MO, ("74.14", "74.15"), "73.08", "1.93", "0.35", "13", "0.03", second=OB),
        run("2026-08-09", "1.3", "6 x 13 min"),
        chain("2026-08-15", MO, ("156.4", "156.5"), "15"),
        run("2026-09-06", "1.2", "6 x 12 min"),
        plug("2026-09-12", MO, "{maker}-7010", "0.55"),
        run("2026-10-04", "1.6", "8 x 12 min"),
        run("2027-02-06", "1.2", "6 x 12 min"),
        found("2027-02-06", MO, "Clutch judders as it takes hold", "clutch-drum", "clutch-service"),
    ],
    "017": [
        run("2026-03-29", "0.6", "3 x 12 min", note="Run in by the maker's table"),
        run("2026-04-12", "1.2", "6 x 12 min"),
        chain("2026-04-18", ZK, ("155.4", "155.5"), "12"),
        run("2026-05-03", "1.2", "6 x 12 min"),
        plug("2026-05-10", ZK, "{maker}-7010", "0.55"),
        clutch("2026-05-16", ZK, ("74.04", "74.04"), "73.30", "1.99", "0.20", "12", "0.01", second=OB),
        run("2026-05-31", "1.1", "6 x 11 min"),
        run("2026-06-21", "1.2", "6 x 12 min"),
        chain("2026-07-04", ZK, ("155.8", "155.9"), "13"),
        run("2026-08-09", "1.3", "6 x 13 min"),
        clutch("2026-08-22", ZK, ("74.07", "74.08"), "73.17", "1.97", "0.25", "13", "0.01", second=OB),
        run("2026-09-06", "1.2", "6 x 12 min"),
        carburettor(
            "2026-12-12", ZK, ("1.50", "1.25"), ("0.25", "0.25"), ("0.68", "0.70"), "0.1", "0.52", "0.34", TWO_DOTS
        ),
        reeds(
            "2027-01-09",
            ZK,
            ("0.05", "0.10", "0.05", "0.05"),
            seals=seal("reed-block", "KM-30102", "KM-30511"),
            second=OB,
        ),
        starter("2027-01-09", ZK, "0.01"),
        clutch("2027-01-16", ZK, ("74.09", "74.09"), "73.12", "1.96", "0.30", "12", "0.01", second=OB),
        chain("2027-01-23", ZK, ("156.2", "156.2"), "13"),
        plug("2027-01-23", ZK, "{maker}-7010", "0.55"),
        run("2027-02-07", "1.2", "6 x 12 min"),
        run("2027-02-14", "1.2", "6 x 12 min"),
    ],
    "021": [
        clutch("2026-03-01", PA, ("65.04", "65.05"), "64.42", "1.49", "0.25", "12"),
        carburettor(
            "2026-03-07",
            OB,
            ("1.00", "1.00"),
            ("1.00", "1.00"),
            ("0.58", "0.64"),
            "0.4",
            "0.44",
            "0.28",
            ONE_DOT,
            seals=seal("carburettor", "KM-20417", "KM-20655"),
            second=PA,
        ),
        plug("2026-03-07", PA, "{maker}-7008", "0.55", "12.6"),
        run("2026-03-29", "0.8", "4 x 12 min"),
        run("2026-04-12", "1.0", "6 x 10 min"),
        chain("2026-04-25", PA, ("155.6", "155.6"), "11"),
        run("2026-05-03", "1.0", "6 x 10 min"),
        run("2026-05-31", "1.0", "6 x 10 min"),
        clutch("2026-06-07", PA, ("65.08", "65.09"), "64.34", "1.47", "0.30", "13"),
        chain("2026-06-13", PA, ("155.9", "155.9"), "13"),
        run("2026-06-21", "1.0", "6 x 10 min"),
        run("2026-07-12", "1.0", "6 x 10 min"),
        run("2026-08-09", "1.2", "6 x 12 min"),
        plug("2026-08-15", PA, "{maker}-7008", "0.55", "12.6"),
        clutch("2026-08-22", PA, ("65.12", "65.13"), "64.25", "1.45", "0.35", "14"),
        chain("2026-08-22", PA, ("156.3", "156.3"), "14"),
        run("2026-09-06", "1.0", "6 x 10 min"),
        found("2027-02-13", PA, "Sensor ring reads 8 degC lower than the hand thermometer, cold", "plug-sensor-ring"),
    ],
    "023": [
        clutch("2026-02-14", GH, ("74.10", "74.11"), "73.20", "1.95", "0.30", "13", "0.03", second=OB),
        starter("2026-02-15", GH, "0.03"),
        run("2026-03-29", "1.0", "5 x 12 min"),
        run("2026-04-12", "1.2", "6 x 12 min"),
        chain("2026-04-18", GH, ("156.0", "156.1"), "14"),
        run("2026-05-03", "1.2", "6 x 12 min"),
        plug("2026-05-10", GH, "{maker}-7010", "0.55"),
        clutch(
            "2026-06-06",
            GH,
            ("74.15", "74.16"),
            "73.08",
            "1.92",
            "0.40",
            "14",
            second=OB,
            blank=["measure-earth-resistance"],
            findings=["Thread of the earth strap screw stripped, M5 in aluminium"],
        ),
        RE_TAPPED,
        {**found("2026-06-06", OB, "Re-tapped to M6x1, see the deviation", "earth-strap-screw"), "closes": -2},
        {
            "event": "interval",
            "date": "2026-06-06",
            "by": OB,
            "procedure": "clutch-service",
            "every": {"hours": "4 h", "months": "6"},
            "why": "The shoes wear faster than on the club's other engines",
        },
        run("2026-06-21", "1.2", "6 x 12 min"),
        run("2026-07-12", "1.2", "6 x 12 min"),
        chain("2026-07-18", GH, ("156.6", "156.6"), "16"),
        run("2026-08-09", "1.2", "6 x 12 min"),
        clutch(
            "2026-08-15",
            GH,
            ("74.20", "74.21"),
            "72.97",
            "1.90",
            "0.45",
            "15",
            "0.02",
            renewed={"outer-thrust-washer": "{maker}-1131"},
            second=OB,
        ),
        run("2026-09-06", "1.2", "6 x 12 min"),
        reeds("2026-10-10", GH, ("0.10", "0.10", "0.10", "0.15"), findings=["Petal 4 near its limit"]),
        carburettor(
            "2026-11-07", GH, ("1.75", "1.50"), ("0.50", "0.50"), ("0.60", "0.70"), "0.2", "0.46", "0.33", TWO_DOTS
        ),
        run("2027-02-06", "1.0", "5 x 12 min"),
    ],
    "031": [
        clutch("2026-03-07", RD, ("84.04", "84.05"), "83.22", "2.48", "0.30", "12", "0.02", second=OB),
        carburettor(
            "2026-03-14", RD, ("1.50", "1.50"), ("0.75", "0.75"), ("0.78", "0.84"), "-1.5", "0.62", "0.34", THREE_DOTS
        ),
        run("2026-03-29", "1.2", "5 x 14 min"),
        run("2026-04-12", "1.5", "6 x 15 min"),
        run("2026-05-03", "1.5", "6 x 15 min"),
        chain("2026-05-09", RD, ("155.9", "156.0"), "13"),
        run("2026-05-31", "1.5", "6 x 15 min"),
        plug("2026-06-06", RD, "{maker}-7009", "0.65"),
        run("2026-06-21", "1.4", "6 x 14 min", peak_temperature="61 degC"),
        clutch("2026-07-11", RD, ("84.11", "84.12"), "83.06", "2.44", "0.35", "13", "0.02", second=OB),
        run("2026-07-12", "1.4", "6 x 14 min"),
        swapped("2026-07-25", OB, "carburettor", "LC-2214", "LC-2231"),
        chain("2026-08-01", RD, ("156.5", "156.5"), "15"),
        run("2026-08-09", "1.5", "6 x 15 min"),
        run("2026-09-06", "1.5", "6 x 15 min"),
        reeds("2026-09-12", RD, ("0.10", "0.15", "0.15", "0.10", "0.20", "0.15")),
        starter("2026-09-19", RD, "0.02"),
        run("2026-10-04", "1.6", "7 x 14 min"),
        clutch("2026-11-14", RD, ("84.19", "84.20"), "82.93", "2.40", "0.45", "13", "0.02", second=OB),
        chain("2026-11-21", RD, ("155.4", "155.4"), "12", renewed=NEW_CHAIN, note="The old chain measured 157.1 mm"),
        run("2027-02-06", "1.2", "5 x 14 min"),
        found("2027-02-06", RD, "Nose of the plug white after full throttle", "spark-plug", "carburettor-service"),
    ],
    "038": [
        plug("2026-02-28", IF, "{maker}-7008", "0.50", "12.5"),
        clutch("2026-03-07", IF, ("65.10", "65.10"), "64.30", "1.45", "0.40", "14"),
        run("2026-04-12", "1.0", "6 x 10 min"),
        run("2026-05-03", "1.0", "6 x 10 min"),
        chain("2026-05-09", IF, ("156.3", "156.4"), "15"),
        {
            "event": "owner",
            "date": "2026-06-01",
            "keeper": "Leonie Adair",
            "note": "Sold within the club, seals unbroken",
        },
        run("2026-06-21", "1.0", "6 x 10 min"),
        run("2026-07-12", "1.0", "6 x 10 min"),
        clutch("2026-08-01", "Leonie Adair", ("65.15", "65.15"), "64.20", "1.42", "0.45", "15"),
        run("2026-08-09", "1.0", "6 x 10 min"),
        run("2026-09-06", "1.0", "6 x 10 min"),
        chain("2026-09-12", "Leonie Adair", ("156.7", "156.8"), "17"),
        carburettor(
            "2027-01-30",
            "Leonie Adair",
            ("1.25", "1.00"),
            ("1.00", "1.00"),
            ("0.55", "0.62"),
            "0.4",
            "0.42",
            "0.28",
            ONE_DOT,
            seals=seal("carburettor", "KM-20388", "KM-20711"),
            second=OB,
        ),
    ],
    "042": [
        run("2026-03-29", "0.8", "4 x 12 min", note="Run in by the maker's table"),
        run("2026-04-12", "1.4", "6 x 14 min"),
        chain("2026-04-18", TW, ("155.5", "155.5"), "12"),
        run("2026-05-03", "1.4", "6 x 14 min"),
        clutch("2026-05-16", TW, ("84.03", "84.03"), "83.24", "2.49", "0.25", "12", "0.01", second=OB),
        run("2026-06-21", "1.4", "6 x 14 min"),
        swapped("2026-07-25", OB, "carburettor", "LC-2231", "LC-2214"),
        run("2026-08-09", "1.4", "6 x 14 min"),
        chain("2026-08-15", TW, ("155.9", "155.9"), "13"),
        run("2026-09-06", "1.4", "6 x 14 min"),
        clutch("2026-11-28", TW, ("84.09", "84.09"), "83.10", "2.46", "0.30", "13", "0.01", second=OB),
        starter("2026-12-05", TW, "0.01"),
        carburettor(
            "2026-12-12", TW, ("1.25", "1.25"), ("0.75", "0.75"), ("0.80", "0.82"), "-1.5", "0.60", "0.34", THREE_DOTS
        ),
        reeds("2026-12-12", TW, ("0.10", "0.10", "0.15", "0.10", "0.10", "0.10")),
        plug("2026-12-19", TW, "{maker}-7009", "0.65"),
        chain("2027-01-09", TW, ("156.2", "156.3"), "13"),
        run("2027-02-07", "1.0", "4 x 15 min"),
        run("2027-02-14", "1.2", "5 x 14 min"),
    ],
    "060": [
        clutch(
            "2026-03-21",
            ST,
            ("65.06", "65.06"),
            "64.38",
            "1.48",
            "0.25",
            "12",
            renewed={"drum-bearing": "{maker}-1120"},
        ),
        run("2026-04-12", "0.8", "5 x 10 min"),
        run("2026-05-31", "0.8", "5 x 10 min"),
        chain("2026-06-06", ST, ("155.5", "155.5"), "11", renewed=NEW_CHAIN),
        run("2026-08-09", "0.8", "5 x 10 min"),
        clutch("2026-11-07", ST, ("65.08", "65.08"), "64.34", "1.47", "0.30", "12"),
        carburettor(
            "2026-11-14",
            OB,
            ("1.00", "1.00"),
            ("1.00", "1.00"),
            ("0.63", "0.65"),
            "0.4",
            "0.46",
            "0.29",
            ONE_DOT,
            seals=seal("carburettor", "KM-20502", "KM-20698"),
            second=ST,
        ),
        plug("2026-11-14", ST, "{maker}-7008", "0.55", "12.6"),
        chain("2026-11-21", ST, ("155.7", "155.7"), "12"),
    ],
}


def write(number: str, events: list[Event]) -> int:
    """Write one engine's log as a chain; nothing when it has one already. Returns how many events were written.

    A whole number under `closes` counts back to the event that it means: -1 is the one just before.
    """
    log = ROOT / "engines" / number / "log"
    if log.is_dir() and any(log.glob("*.yaml")):
        return 0
    digests: list[str] = []
    for shorthand in events:
        event: Event = json.loads(json.dumps(shorthand).replace("{maker}", MAKERS[number]))
        if "closes" in event:
            event["closes"] = digests[event["closes"]]
        digests.append(digest(append(log, event, tuple(digests[-1:])).read_bytes()))
    return len(events)


def add_paper_sheets() -> None:
    """File behind each log what was on paper only, unless it is there."""
    folder = read_club(ROOT)
    for number, record in folder.engines.items():
        names = {event.procedure for event in record.log.events if isinstance(event, Service)}
        keeper, second = (ST, OB) if number != "038" else (ZK, OB)
        for event in paper_sheets(folder, number, keeper, second):
            if event["procedure"] not in names:
                file_event(ROOT, number, event)


@click.command()
def main() -> None:
    """Write every log that is not there yet, say how many events each got, and file what was on paper only."""
    for number, events in HISTORIES.items():
        click.echo(f"{number}: {write(number, events)} events written")
    add_paper_sheets()


if __name__ == "__main__":
    main()
