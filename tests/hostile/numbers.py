"""Hostile sheet numbers, typed; tables of running times; and texts on which a careless pattern would take years."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping

from tests.hostile.cases import Case, Place
from tests.returns.conftest import club_at
from tests.smallclub import texts

GOOD = "7A-ROT-03-001-S1-I"
NUMBERS: Mapping[str, str] = {
    "nothing": "",
    "a path": "../../../../etc/passwd",
    "a path for an engine": "../7A-ROT-03-001-S1-I",
    "one letter wrong": "7A-ROT-03-001-S1-J",
    "two figures swapped": "7A-ROT-03-010-S1-I",
    "a letter O for a nought": "7A-ROT-O3-001-S1-I",
    "Arabic-Indic figures": "7A-ROT-\u0660\u0663-001-S1-I",
    "fullwidth figures": "7A-ROT-\uff10\uff13-001-S1-I",
    "a long s": "7A-ROT-03-001-\u017f1-I",
    "a dotless i": "7A-ROT-03-001-S1-\u0131",
    "a hyphen of another kind": "7A\u2010ROT-03-001-S1-I",
    "turned round": "\u202e7A-ROT-03-001-S1-I",
    "an escape to the terminal": "7A-ROT\x1b]0;owned\x07",
    "two lines": "7A-ROT-03-001-S1-I\n8B-ROT-03-001-S1-M",
    "a hundred thousand figures": "7A-ROT-03-" + "0" * 100_000 + "-S1-I",
    "a hundred thousand hyphens": "-" * 100_000,
    "a revision without end": "7A-ROT-" + "9" * 4999 + "-001-S1-I",
    "a page that is not there": "7A-ROT-03-001-S9-K",
}
MODEL, PROCEDURE, CLUB = "models/willow-80.yaml", "procedures/rotor-service.yaml", "club.yaml"
MANY = 19_000
SLOW: Mapping[str, tuple[str, str, str]] = {
    "a torque of nines": (MODEL, "torque: 34 N.m +/- 10 %", "torque: " + "9" * MANY),
    "a torque of points": (MODEL, "torque: 34 N.m +/- 10 %", "torque: " + "1." * (MANY // 2) + "x"),
    "a torque of blanks": (MODEL, "torque: 34 N.m +/- 10 %", 'torque: "34' + " " * MANY + 'N.m"'),
    "a tolerance of signs": (MODEL, "torque: 34 N.m +/- 10 %", "torque: 34 N.m " + "+/- " * (MANY // 4)),
    "a range of ranges": (MODEL, "new: 0.20..0.30 mm", "new: " + "0.2.." * (MANY // 5) + "0.3 mm"),
    "a unit of units": (MODEL, "life: 10 h", "life: 10 " + "h." * (MANY // 2)),
    "a power of powers": (MODEL, "life: 10 h", "life: 10 h" + "**9" * (MANY // 3)),
    "a thread": (MODEL, "thread: M10x1.25", "thread: M" + "1" * MANY + "x"),
    "a name of hyphens": (MODEL, "  rotor-gap:", "  " + "a-" * 500 + "!:"),
    "a list of names": (MODEL, "manual: Willow 80 workshop book", "manual: " + "a-" * (MANY // 2)),
    "a text of braces": (PROCEDURE, "The stop keeps", "'" + "{a" * (MANY // 2) + "'  #"),
    "a text of hidden joins": (PROCEDURE, "The stop keeps", "a\u200da" * (MANY // 3)),
    "a drive": (MODEL, "drive: hex 17 mm", "drive: hex " + "1" * MANY + " mm"),
    "a date": (PROCEDURE, "dated: 2030-01-15", "dated: " + "2030-" * (MANY // 5)),
    "a comment cut and cut": (PROCEDURE, "dated: 2030-01-15", "dated: 2030-01-15" + " #" * (MANY // 2)),
}


TABLES: Mapping[str, bytes] = {
    "a row too many": b"engine,date,ran\n" + b"\n" + b"9Z,2030-04-01,9\n" * 10_001,
    "five megabytes": b"engine,ran\n" + b"7A,9\n" * 1_000_000,
    "an escape to the terminal": b"engine,ran\n7A,\x1b]0;owned\x07\n",
    "a formula": b"engine,ran\n7A,\"=HYPERLINK(\"\"http://127.0.0.1:9/\"\")\"\n",
    "an engine named as a path": b"engine,ran\n../../outside,9\n",
    "figures of another script": "engine,ran\n7A,\u0663\u0660\n".encode(),
    "one cell of a megabyte": b"engine,ran\n7A," + b"9" * 1_000_000 + b"\n",
    "columns without end": b"engine" + b"," * 4_000_000 + b"\n",
    "a quote without end": b'engine,ran\n7A,"9\n' * 2000,
    "null bytes": b"engine,ran\n7A,\x009\n",
    "no text": bytes(range(256)) * 4,
    "nothing": b"",
}


def _tabled(data: bytes) -> Callable[[Place], str]:
    def act(place: Place) -> str:
        (place.root / "tmp" / "hours.csv").write_bytes(data)
        return place.docgen("ran", "--yes", "--on", "2030-04-10", "--from", place.root / "tmp" / "hours.csv")

    return act


def _typed(number: str) -> Callable[[Place], str]:
    def act(place: Place) -> str:
        club_at(place.club)
        return place.docgen("enter", "--", number)

    return act


def _slow(path: str, right: str, wrong: str) -> Callable[[Place], str]:
    def act(place: Place) -> str:
        text = texts()[path]
        assert right in text, right
        place.put(path, text.replace(right, wrong, 1))
        return place.docgen("proof")

    return act


def _cases() -> Iterator[Case]:
    yield from (Case("sheet-number", name, _typed(number)) for name, number in NUMBERS.items())
    yield from (Case("table", name, _tabled(data)) for name, data in TABLES.items())
    yield from (Case("slow-pattern", name, _slow(*change)) for name, change in SLOW.items())


CASES = tuple(_cases())
