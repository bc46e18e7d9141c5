"""A log in order: heads, branches, corrections, and files that were edited since."""

from __future__ import annotations

from datetime import date
from pathlib import Path

from hypothesis import given
from hypothesis import strategies as st

from docgen.club.log import Entry, Log, in_order
from docgen.club.readlog import read_log
from docgen.club.schema.event import KINDS, Run
from docgen.club.store import append
from docgen.club.yamldoc import Document


def entry(number: int, day: int, *parents: int) -> Entry:
    """A run with a made-up digest."""
    data = {"event": "run", "date": f"2030-01-{day:02}", "hours": "1 h", "parents": [name(p) for p in parents]}
    return Entry(name(number), Run.model_validate(data), Document(f"{number}.yaml", "", {}, {}, {}))


def name(number: int) -> str:
    return f"{number:012x}" + "0" * 52


def order(*entries: Entry) -> list[int]:
    return [int(e.digest[:12], 16) for e in in_order(entries)[0]]


def test_parents_first_then_by_day_then_by_digest() -> None:
    one, two, three, four = entry(4, 5), entry(1, 9, 4), entry(3, 2, 4), entry(2, 2, 4)
    assert order(two, three, four, one) == [4, 2, 3, 1]


def test_heads_are_what_nothing_follows() -> None:
    log = Log(in_order([entry(1, 1), entry(2, 2, 1), entry(3, 2, 1)])[0])
    assert log.heads == (name(2), name(3))
    assert log.head == f"{name(2)}+{name(3)}"
    joined = Log((*log.entries, entry(4, 3, 2, 3)))
    assert joined.heads == (name(4),)
    assert Log().head == ""


def test_a_parent_that_is_gone_is_said_where_it_is_named() -> None:
    _, problems = in_order([entry(2, 2, 1)])
    assert [(p.name, p.message) for p in problems] == [
        ("missing-event", "this event follows 000000000001, which is not in the log")
    ]


@given(st.lists(st.integers(1, 28), min_size=1, max_size=25), st.data())
def test_order_is_that_of_a_slow_search(days: list[int], data: st.DataObject) -> None:
    entries = [
        entry(n + 1, day, *data.draw(st.lists(st.integers(1, n), unique=True, max_size=2)) if n else ())
        for n, day in enumerate(days)
    ]
    slow: list[Entry] = []
    waiting = sorted(entries, key=lambda e: (e.event.date, e.digest))
    while waiting:
        ready = next(e for e in waiting if set(e.event.parents) <= {p.digest for p in slow})
        waiting.remove(ready)
        slow.append(ready)
    assert list(in_order(entries)[0]) == slow


def test_the_last_correction_holds_and_one_of_a_correction_means_the_same_event() -> None:
    log = Log((entry(1, 1), _correction(2, 1, "2 h"), _correction(3, 2, "3 h")))
    (first, *_) = log.held
    assert isinstance(first.event, Run)
    assert (str(first.event.hours), first.correction) == ("3 h", log.entries[2])
    struck = Log((*log.entries, _correction(4, 1, None)))
    assert (struck.held[0].event, struck.held[0].correction) == (None, struck.entries[3])
    assert struck.of(Run) == ()


def _correction(number: int, corrects: int, hours: str | None) -> Entry:
    data: dict[str, object] = {"event": "correction", "date": "2030-01-02", "corrects": name(corrects), "why": "w"}
    instead = {"event": "run", "date": "2030-01-01", "hours": hours} if hours else None
    event = KINDS["correction"].model_validate({**data, "instead": instead})
    return Entry(name(number), event, Document("", "", {}, {}, {}), Run.model_validate(instead) if instead else None)


def test_what_was_entered_late_happened_on_its_day() -> None:
    log = Log((entry(1, 5), entry(2, 3, 1), entry(3, 5, 2)))
    assert [event.date for event in log.events] == [date(2030, 1, d) for d in (5, 3, 5)]
    assert [digest for digest, _ in log.happened] == [name(2), name(1), name(3)]


def test_an_edited_event_is_one_problem_and_keeps_its_place(tmp_path: Path) -> None:
    folder = tmp_path / "engines/7A/log"
    parents: tuple[str, ...] = ()
    paths = []
    for day in (1, 2, 3):
        paths.append(append(folder, {"event": "run", "date": f"2030-01-0{day}", "hours": "1 h"}, parents))
        log, problems = read_log(tmp_path, "7A")
        assert problems == []
        parents = log.heads
    paths[1].write_bytes(paths[1].read_bytes().replace(b"1 h", b"2 h"))
    log, problems = read_log(tmp_path, "7A")
    assert [str(p).splitlines()[0] for p in problems] == [
        f"engines/7A/log/{paths[1].name}:1:1 event-changed: this event was edited after it was written: "
        "its digest no longer fits"
    ]
    assert [e.file for e in log.entries] == [p.name for p in paths]
    assert len(log.heads) == 1
