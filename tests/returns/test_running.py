"""A day's running as members say it, and as a table."""

from __future__ import annotations

from datetime import date

import pytest

from docgen.club.folder import Folder
from docgen.club.read import read_club
from docgen.returns.diagnostic import Refused
from docgen.returns.running import meeting_on, read_time, read_words, run_event
from docgen.returns.table import TableRow, read_table
from tests.smallclub import write

DAY = date(2030, 3, 1)
ENGINES = {"017", "021", "7A", "12", "36"}


@pytest.mark.parametrize(
    ("text", "hours", "sessions"),
    [
        ("3 x 12 min", "36 min", "3 x 12 min"),
        ("3x12", "36 min", "3 x 12 min"),
        ("3X12MIN", "36 min", "3 x 12 min"),
        ("3 × 12.5", "37.5 min", "3 x 12.5 min"),
        ("1 x 12", "12 min", ""),
        ("12+10+11", "33 min", "12 + 10 + 11 min"),
        ("12 + 10 min", "22 min", "12 + 10 min"),
        ("36", "36 min", ""),
        ("36 min", "36 min", ""),
        ("36minutes", "36 min", ""),
        ("1.2 h", "1.2 h", ""),
        ("1h", "1 h", ""),
        ("1,2 h", "1.2 h", ""),
        ("3 x 12,5 min", "37.5 min", "3 x 12.5 min"),
        ("1 h 5 min", "65 min", ""),
        ("2 hours 30min", "150 min", ""),
    ],
)
def test_times(text: str, hours: str, sessions: str) -> None:
    ran = read_time(text)
    assert (str(ran.hours), ran.sessions) == (hours, sessions)


@pytest.mark.parametrize(
    ("text", "name"),
    [
        ("", "not-a-time"),
        ("three", "not-a-time"),
        ("036", "not-a-time"),
        ("3 x", "not-a-time"),
        ("-5", "not-a-time"),
        ("12,10", "decimal-comma"),
        ("12:30", "not-a-time"),
        ("0 min", "no-running"),
        ("0 x 12", "no-running"),
        ("1200", "not-a-time"),
        ("1e3 min", "not-a-time"),
        ("٣٦ min", "not-a-time"),
    ],
)
def test_what_is_no_time(text: str, name: str) -> None:
    with pytest.raises(Refused) as caught:
        read_time(text)
    assert caught.value.said.name == name


@pytest.mark.parametrize(
    ("words", "found"),
    [
        ("017 3 x 12", [("017", "36 min (3 x 12 min)")]),
        ("017 45", [("017", "45 min")]),
        ("017 021 45", [("017", "45 min"), ("021", "45 min")]),
        ("017 45 021 12+10 7A 1.2 h", [("017", "45 min"), ("021", "22 min (12 + 10 min)"), ("7A", "1.2 h")]),
        ("12 3 x 12 min", [("12", "36 min (3 x 12 min)")]),
        ("12 12 min", [("12", "12 min")]),
        ("017 3 x 12 36 45", [("017", "36 min (3 x 12 min)"), ("36", "45 min")]),
    ],
)
def test_words(words: str, found: list[tuple[str, str]]) -> None:
    assert [(engine, str(ran)) for engine, ran in read_words(words, ENGINES)] == found


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ("", "no-time: nothing was said"),
        ("017", "no-time: how long did engine 017 run?"),
        ("017 36", "no-time: how long did engine 36 run?"),
        ("45 017", 'no-engine: "45" stands before any engine'),
        ("017 45 021", "no-time: how long did engine 021 run?"),
        ("017 45 017 12", "twice: engine 017 is named twice"),
        ("017 017 45", "twice: engine 017 is named twice"),
        ("017 3 x 12 36 min", 'no-engine: "36 min" stands before any engine'),
        ("0177 45", 'unknown-engine: "0177" is neither an engine nor a time'),
        ("017 3x", 'unknown-engine: "3x" is neither an engine nor a time'),
        ("017 12,5", 'decimal-comma: "12,5" may be a decimal figure or two sessions'),
        ("017 rather-long", 'not-a-time: "rather-long" is no time that an engine ran'),
    ],
)
def test_words_that_are_not_understood(words: str, said: str) -> None:
    with pytest.raises(Refused) as caught:
        read_words(words, ENGINES)
    assert str(caught.value.said).splitlines()[0] == said


def test_a_close_engine_is_named() -> None:
    with pytest.raises(Refused) as caught:
        read_words("0177 45", ENGINES)
    assert caught.value.said.hint == "did you mean engine 017?"


def test_the_event_keeps_what_was_said_and_leaves_out_what_was_not() -> None:
    facts = {"meeting": " First ", "peak_speed": "104 km/h", "peak_temperature": "182 degC", "fuel": "25:1",
             "batch": "B7", "air": "", "needles": "L 1.50, H 0.25", "by": "Ágnes Őry"}  # fmt: skip
    assert run_event(DAY, read_time("3x12"), facts) == {
        "event": "run", "date": "2030-03-01", "hours": "36 min", "sessions": "3 x 12 min", "meeting": "First",
        "peak_speed": "104 km/h", "peak_temperature": "182 degC", "needles": "L 1.50, H 0.25", "fuel": "25:1",
        "batch": "B7", "by": "Ágnes Őry",
    }  # fmt: skip
    assert run_event(DAY, read_time("36"), {}) == {"event": "run", "date": "2030-03-01", "hours": "36 min"}


@pytest.mark.parametrize(
    ("key", "value", "said"),
    [
        ("peak_speed", "104", 'no-unit: "104" has no unit\n  to mend: write it after the figure, as in 104 km/h'),
        ("peak_temperature", "182", 'no-unit: "182" has no unit\n  to mend: write it after the figure, as in 182 degC'),
        ("peak_speed", "104 mm", "wrong-dimension"),
    ],
)
def test_figures_have_their_unit(key: str, value: str, said: str) -> None:
    with pytest.raises(Refused) as caught:
        run_event(DAY, read_time("36"), {key: value})
    assert str(caught.value.said).startswith(said)
    assert caught.value.said.field == key


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Folder:
    return read_club(write(tmp_path_factory.mktemp("club")))


def test_the_round_of_the_day(folder: Folder) -> None:
    assert meeting_on(folder.club.value, date(2030, 5, 5)) == "First"
    assert meeting_on(folder.club.value, date(2030, 5, 6)) == ""


HEADS = "engine, date, ran, meeting, ..."


def rows(folder: Folder, text: str | bytes, **facts: str) -> tuple[list[TableRow], list[str]]:
    data = text.encode() if isinstance(text, str) else text
    found, problems = read_table("day.csv", data, folder, DAY, facts)
    return found, [f"{p.line}:{p.col} {p.name}: {p.message} [{p.hint}]" for p in problems]


@pytest.mark.parametrize("mark", [",", ";", "\t"])
@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
@pytest.mark.parametrize("bom", ["", "\ufeff"])
def test_a_table_as_any_spreadsheet_writes_it(folder: Folder, mark: str, end: str, bom: str) -> None:
    lines = ["engine,date,ran,Peak Speed,note", '7A,2030-02-01,3x12,104 km/h,"wet"', "8B,,36,,", ",,,,"]
    found, problems = rows(folder, bom + end.join(line.replace(",", mark) for line in lines) + end, fuel="25:1")
    assert problems == []
    assert [(r.engine, r.day, r.line) for r in found] == [("7A", date(2030, 2, 1), 2), ("8B", DAY, 3)]
    assert found[0].event == {"event": "run", "date": "2030-02-01", "hours": "36 min", "sessions": "3 x 12 min",
                              "peak_speed": "104 km/h", "fuel": "25:1", "note": "wet"}  # fmt: skip
    assert found[1].event == {"event": "run", "date": "2030-03-01", "hours": "36 min", "fuel": "25:1"}


def test_dates_and_decimal_commas_as_a_spreadsheet_of_the_continent_writes_them(folder: Folder) -> None:
    lines = ["engine;date;ran;peak speed", "7A;28.2.2030;1,2 h;104,5 km/h", "8B;01.02.30;36;"]
    found, problems = rows(folder, "\r\n".join(lines))
    assert problems == []
    assert [(r.engine, r.day, r.event["hours"]) for r in found] == [
        ("7A", date(2030, 2, 28), "1.2 h"), ("8B", date(2030, 2, 1), "36 min"),
    ]  # fmt: skip
    assert found[0].event["peak_speed"] == "104.5 km/h"


def test_every_faulty_row_is_reported_at_once(folder: Folder) -> None:
    text = """\
engine,date,ran,peak_speed
07A,2030-02-01,36,
7B,2030-02-01,36,
7A,2/3/2030,36,
7A,20300201,36,104
7A,2030-02-01,"1,2",
7A,2030-02-01,36,
7A,2030-02-01,36 min,
8B,2030-02-01,36,104 km/h,more
8B,2030-02-02,,
"""
    found, problems = rows(folder, text)
    assert [r.line for r in found] == [7]
    assert problems == [
        '2:1 unknown-engine: there is no engine "07A" [did you mean "7A"? Make the column text, so that noughts stay]',
        '3:1 unknown-engine: there is no engine "7B" [known here: 7A, 8B]',
        '4:4 two-ways-to-read: "2/3/2030" may be 2030-03-02 or 2030-02-03 [write year-month-day]',
        '5:4 not-a-date: "20300201" is not a date [write year-month-day, as in 2027-03-14]',
        '5:16 no-unit: "104" has no unit [write it after the figure, as in 104 km/h]',
        '6:16 decimal-comma: "1,2" may be a decimal figure or two sessions '
        "[write sessions as in 12+10+11, and the unit behind a decimal figure, as in 1,2 h]",
        "8:1 row-twice: the same as line 7 [add the sessions of one day up, as in 12+10+11]",
        "9:1 too-many-cells: 5 cells under 4 heads [put text with a comma between quotation marks]",
        '10:1 not-a-time: "" is no time that an engine ran '
        "[write how long, in minutes, as in 3 x 12, 36 or 12+10+11; hours as in 1.2 h]",
    ]


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("engin,ran\n", ['1:1 unknown-column: "engin" is not a column known here [did you mean "engine"?]',
                         '1:1 missing-column: there is no column "engine" '
                         f"[the first line has the heads: {HEADS}]"]),
        ("engine,ran\n", ["0:0 empty-table: there is no row below the heads [add one]"]),
        ("", [f'1:1 missing-column: there is no column "{head}" [the first line has the heads: {HEADS}]'
              for head in ("engine", "ran")]),
        ("engine,engine,ran\n7A,7A,36\n", ['1:1 column-twice: there are two columns "engine" [take one away]'] * 2),
        (b"engine,ran\n7A,36\xff\n",
         ["0:0 not-utf-8: this is not UTF-8 text [save the table as CSV with the encoding UTF-8]"]),
        (b"PK\x03\x04\x00\x00", ["0:0 not-a-table: this is no text [save the table as CSV]"]),
        (b"x" * (4 << 20) + b"x", ["0:0 too-large: the table has more than 4 MiB [split it]"]),
    ],
)  # fmt: skip
def test_what_is_no_table(folder: Folder, text: str | bytes, said: list[str]) -> None:
    assert rows(folder, text) == ([], said)


def test_a_row_over_several_lines_is_reported_where_it_begins(folder: Folder) -> None:
    found, problems = rows(folder, 'engine,ran,note\n7A,36,"two\nlines"\n7B,36,\n')
    assert [(r.line, r.event["note"]) for r in found] == [(2, "two lines")]
    assert [p.partition(" ")[0] for p in problems] == ["4:1"]
