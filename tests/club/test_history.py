"""Tampering with a log of fifty events: every single edit, deletion, exchange and insertion is found and named."""

from __future__ import annotations

from pathlib import Path

import pytest

from docgen.club.history import History, walk
from docgen.club.log import FILE_NAME, digest
from docgen.club.store import append, event_file

EVENTS = 50
BASE = "engines/7A/log"
Files = dict[str, bytes]


@pytest.fixture(scope="module")
def log(tmp_path_factory: pytest.TempPathFactory) -> Files:
    """Fifty events in one history, as the program writes them, in the order of the history."""
    folder = tmp_path_factory.mktemp("log")
    files: Files = {}
    parents: tuple[str, ...] = ()
    for index in range(EVENTS):
        day = f"2030-{1 + index // 28:02}-{1 + index % 28:02}"
        event = {"event": "run", "date": day, "hours": f"{30 + index} min", "note": f"Number {index}"}
        path = append(folder, event, parents)
        files[path.name] = path.read_bytes()
        parents = (digest(files[path.name]),)
    assert len(files) == EVENTS == len(list(folder.iterdir()))
    return files


def found(files: Files) -> list[tuple[str, str]]:
    """File and name of every problem."""
    return [(p.path.removeprefix(f"{BASE}/"), p.name) for p in walk(BASE, files).problems]


def names(log: Files) -> list[str]:
    return list(log)


def short(name: str) -> str:
    match = FILE_NAME.fullmatch(name)
    assert match
    return match["digest"]


def test_a_log_as_written_is_whole(log: Files) -> None:
    history = walk(BASE, log)
    assert history.problems == []
    assert [page.name for page in history.heads] == [names(log)[-1]]
    assert (str(history.first), str(history.last), len(history.files)) == ("2030-01-01", "2030-02-22", EVENTS)


def test_line_ends_of_another_system_change_nothing(log: Files) -> None:
    assert found({name: data.replace(b"\n", b"\r\n") for name, data in log.items()}) == []


@pytest.mark.parametrize("index", range(EVENTS))
@pytest.mark.parametrize(
    "edit",
    [
        lambda data: data.replace(b" min", b"0 min"),
        lambda data: data + b"\n",
        lambda data: data[:-1],
        lambda data: data.replace(b"event: run", b"event: [run"),
        lambda data: b"",
    ],
    ids=["a figure", "a line more", "a byte less", "not YAML any more", "emptied"],
)  # fmt: skip
def test_each_edit_is_named_and_nothing_else(log: Files, index: int, edit: object) -> None:
    name = names(log)[index]
    assert callable(edit)
    assert found({**log, name: edit(log[name])}) == [(name, "event-changed")]


@pytest.mark.parametrize("index", range(EVENTS))
def test_each_bit_turned_over_is_named(log: Files, index: int) -> None:
    name = names(log)[index]
    data = log[name]
    for place in range(0, len(data), 17):
        turned = data[:place] + bytes([data[place] ^ 1]) + data[place + 1 :]
        assert found({**log, name: turned}) == [(name, "event-changed")]


@pytest.mark.parametrize("index", range(EVENTS - 1))
def test_each_deletion_is_named_at_the_event_that_followed(log: Files, index: int) -> None:
    gone, after = names(log)[index], names(log)[index + 1]
    history = walk(BASE, {name: data for name, data in log.items() if name != gone})
    before = f"; {names(log)[index - 1]} came before it, or was put in its place" if index else "; it was the first"
    assert [(p.path, p.name, p.message) for p in history.problems] == [
        (f"{BASE}/{after}", "event-removed",
         f"the event that this one follows is not in the log: {short(gone)}{before}")
    ]  # fmt: skip


def test_the_last_event_gone_shows_only_against_a_head_that_was_printed(log: Files) -> None:
    last = names(log)[-1]
    history = walk(BASE, {name: data for name, data in log.items() if name != last})
    assert history.problems == []
    assert history.named.find(short(last)) is None
    assert walk(BASE, log).named.find(digest(log[last])) is not None


@pytest.mark.parametrize("index", range(EVENTS))
def test_each_exchange_with_another_event_is_named(log: Files, index: int) -> None:
    for other in {(index + 1) % EVENTS, (index + 7) % EVENTS, EVENTS - 1} - {index}:
        one, two = names(log)[index], names(log)[other]
        swapped = {**log, one: log[two], two: log[one]}
        assert found(swapped) == sorted([(one, "events-exchanged"), (two, "events-exchanged")])


@pytest.mark.parametrize("index", range(EVENTS))
def test_each_copy_over_another_event_is_named(log: Files, index: int) -> None:
    one, two = names(log)[index], names(log)[(index + 1) % EVENTS]
    history = walk(BASE, {**log, one: log[two]})
    (problem,) = [p for p in history.problems if p.path == f"{BASE}/{one}"]
    assert (problem.name, problem.message) == ("event-changed", f"this file holds what {two} was written with")


@pytest.mark.parametrize("index", range(EVENTS))
def test_each_new_name_is_named(log: Files, index: int) -> None:
    name = names(log)[index]
    for renamed in (f"2029-12-31{name[10:]}", name.replace("-run-", "-service-")):
        assert found({**{n: d for n, d in log.items() if n != name}, renamed: log[name]}) == [
            (renamed, "event-renamed")
        ]


@pytest.mark.parametrize("index", range(EVENTS))
def test_each_copy_under_another_name_is_named(log: Files, index: int) -> None:
    name = names(log)[index]
    assert found({**log, f"2031-01-01{name[10:]}": log[name]}) == [(f"2031-01-01{name[10:]}", "event-renamed")]
    assert found({**log, f"{name} (copy)": log[name]}) == [(f"{name} (copy)", "event-added")]


@pytest.mark.parametrize("index", range(EVENTS - 1))
def test_each_insertion_is_named_however_well_it_is_made(log: Files, index: int) -> None:
    forged = {"event": "run", "date": "2030-01-15", "hours": "5 min", "note": "Put in"}
    parents = (digest(log[names(log)[index]]),)
    name, data = event_file(forged, parents)
    last = names(log)[-1]
    assert found({**log, name: data}) == sorted([(name, "branch-not-joined"), (last, "branch-not-joined")])


def test_an_edit_does_not_hide_an_insertion(log: Files) -> None:
    edited, last = names(log)[20], names(log)[-1]
    name, data = event_file({"event": "run", "date": "2030-01-15", "hours": "5 min"}, (digest(log[names(log)[3]]),))
    files = {**log, edited: log[edited].replace(b" min", b"0 min"), name: data}
    assert found(files) == sorted([(edited, "event-changed"), (name, "branch-not-joined"), (last, "branch-not-joined")])


def test_an_insertion_before_the_first_event_is_named(log: Files) -> None:
    name, data = event_file({"event": "run", "date": "2029-12-30", "hours": "5 min"}, ())
    (first, _) = walk(BASE, {**log, name: data}).problems
    assert (first.path, first.name) == (f"{BASE}/{name}", "branch-not-joined")
    assert first.message == (
        f"nothing follows this event (it follows nothing) and nothing follows {names(log)[-1]}: "
        "filed apart, or one was put in"
    )


def test_an_event_behind_the_last_is_a_filing_and_shows_against_a_printed_head(log: Files) -> None:
    head = digest(log[names(log)[-1]])
    name, data = event_file({"event": "run", "date": "2030-03-01", "hours": "5 min"}, (head,))
    history = walk(BASE, {**log, name: data})
    printed = history.named.find(head)
    assert history.problems == []
    assert printed is not None
    assert [page.name for page in history.since(printed)] == [name]


@pytest.mark.parametrize("index", range(1, EVENTS - 1))
def test_an_event_taken_for_another_with_a_right_name_is_named(log: Files, index: int) -> None:
    """The cleverest single edit: changed, and given the name that fits its new bytes."""
    name = names(log)[index]
    data = log[name].replace(b" min", b"0 min")
    renamed = f"{name[:15]}{digest(data)[:12]}.yaml"
    history = walk(BASE, {**{n: d for n, d in log.items() if n != name}, renamed: data})
    assert [(p.path, p.name, p.message) for p in history.problems] == [
        (f"{BASE}/{names(log)[index + 1]}", "event-removed",
         f"the event that this one follows is not in the log: {short(name)}; {renamed} came before it, "
         "or was put in its place")
    ]  # fmt: skip


def test_strangers_and_unfinished_files(log: Files) -> None:
    extra: dict[str, bytes | None] = {**log, ".tmp-12ab": b"half", "notes.txt": b"x", "old": None}
    history = walk(BASE, extra)
    assert [str(p) for p in history.problems] == [
        f'{BASE}/notes.txt event-added: "notes.txt" was not written by the program: it is not the name of an event\n'
        "       to mend: take it out of log/; what belongs into the record is filed",
        f'{BASE}/old event-added: "old" was not written by the program: it is not the name of an event\n'
        "       to mend: take it out of log/; what belongs into the record is filed",
    ]
    assert history.unfinished == [f"{BASE}/.tmp-12ab"]


def joined(log: Files) -> tuple[Files, str, str]:
    """The log with a branch beside its last event, and an event that joins both."""
    last, before = names(log)[-1], names(log)[-2]
    side, data = event_file({"event": "run", "date": "2030-02-22", "hours": "5 min"}, (digest(log[before]),))
    name, join = event_file({"event": "joined", "date": "2030-03-01"}, (digest(log[last]), digest(data)))
    return {**log, side: data, name: join}, side, name


def test_branches_that_were_joined_are_whole_and_said(log: Files) -> None:
    files, side, name = joined(log)
    history: History = walk(BASE, files)
    assert history.problems == []
    assert [page.name for page in history.joins] == [name]
    assert found({n: d for n, d in files.items() if n != side}) == [(name, "event-removed")]


def test_a_folder_of_events_is_read_from_disk_as_written(log: Files, tmp_path: Path) -> None:
    for name, data in log.items():
        (tmp_path / name).write_bytes(data)
    assert found({p.name: p.read_bytes() for p in tmp_path.iterdir()}) == []
