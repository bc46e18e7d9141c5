"""The page on which the sheet of a visit is typed in: one entry for each job that is complete, as at the terminal."""

from __future__ import annotations

import os
import re
import shutil
import signal
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from docgen.camera.gather import gather
from docgen.club.read import read_club
from docgen.club.readlog import read_log
from docgen.club.schema.event import Service
from docgen.club.store import StoreError
from docgen.desk import filing
from docgen.desk.entry import Entry
from docgen.desk.filing import Paper
from docgen.returns.filing import Filed
from docgen.returns.sandbox import Reader
from docgen.returns.verify import verify
from tests.camera.taken import printed as drawn
from tests.camera.taken import saved, tilted
from tests.conftest import ROOT
from tests.returns.conftest import Club
from tests.visit.conftest import NAMES, TODAY, Printed, answers, printed_at

CLU, PLU, SPR, STA = NAMES
OPEN = {"clearance-hold_second": "", "clearance-hold_own": ""}
"""The hold point of the clutch job is open."""
STAYS = {
    CLU: "Clutch - clean, inspect and regrease is not ticked as complete: it stays open.",
    SPR: "Drive sprocket and chain - inspect and set is not ticked as complete: it stays open.",
}


@pytest.fixture(scope="module")
def before(tmp_path_factory: pytest.TempPathFactory) -> Printed:
    """The visit as it was printed; for tests that write nothing."""
    return printed_at(tmp_path_factory.mktemp("visit"))


@pytest.fixture
def fresh(tmp_path: Path, before: Printed) -> Printed:
    """The same in a folder of its own."""
    root = tmp_path / "club"
    shutil.copytree(before.root, root)
    return Printed(root, before.folder, before.visit, before.job)


def opened(printed: Printed) -> Entry:
    """The page as it opens anew."""
    folder = read_club(printed.root)
    return Entry(folder, printed.sheet_in(folder), TODAY)


def file(entry: Entry, given: dict[str, str], closed: tuple[int, ...] = ()) -> dict[str, Any]:
    """File it as the page does once somebody has looked: every doubt that is shown is right as it stands."""
    said: Any = entry.check(given)["said"]
    return entry.file(given, [one["name"] for one in said if one["weight"] == "doubt"], closed)


def filed(printed: Printed) -> list[Service]:
    """The events of this sheet, in the order of the log."""
    log, problems = read_log(printed.root, "023")
    assert problems == []
    return [event for event in log.of(Service) if event.sheet == printed.number.text]


def test_the_page_asks_which_jobs_are_complete(before: Printed) -> None:
    page = opened(before).page()
    assert re.findall(r'<input type="checkbox" name="job-([^"]+)"> ([^<]+)</label>', page) == [
        (CLU, "CLU Clutch - clean, inspect and regrease"),
        (PLU, "PLU Spark plug - renew"),
        (SPR, "SPR Drive sprocket and chain - inspect and set"),
        (STA, "STA Starter drive - clean and relubricate"),
    ]


def test_all_complete(fresh: Printed) -> None:
    entry, given = opened(fresh), answers(fresh.job)
    looked: Any = entry.check(given)
    assert looked["ready"]
    assert [one for one in looked["said"] if one["weight"] == "refused"] == []
    assert sum(line.startswith(fresh.number.text) for line in looked["shown"]) == 4
    assert filed(fresh) == [], "nothing is filed before somebody says so"
    found = file(entry, given)
    assert found["said"] == []
    assert found["text"] == "\n".join(f"Filed: {path}" for path in found["filed"].split(", "))
    assert [event.procedure for event in filed(fresh)] == [*NAMES]
    assert {event.issue for event in filed(fresh)} == {fresh.job.issue_digest}
    assert verify(fresh.root, "023").problems == ()
    assert list((fresh.root / "engines/023/drafts").glob("*")) == []
    again = file(opened(fresh), given)
    assert again["text"].count("is already filed, as ") == 4
    assert again["filed"] == found["filed"]
    assert len(filed(fresh)) == 4


def test_half_complete_files_the_complete_and_the_rest_later(fresh: Printed) -> None:
    entry = opened(fresh)
    shown: Any = entry.check(answers(fresh.job, (PLU, STA)))["shown"]
    assert shown[-2:] == [STAYS[CLU], STAYS[SPR]]
    found = file(entry, answers(fresh.job, (PLU, STA)))
    assert found["text"].splitlines()[2:] == [STAYS[CLU], STAYS[SPR]]
    assert [event.procedure for event in filed(fresh)] == [PLU, STA]
    # What was typed is kept for the jobs that stay open, and the page opens with it
    later = opened(fresh)
    page = later.page()
    assert set(re.findall(r'name="job-([^"]+)" checked', page)) == {PLU, STA}
    assert 'name="engine-hours" value="18.4"' in page
    done: Any = later.check(answers(fresh.job))
    assert [line.partition(", is already")[0] for line in done["shown"] if "is already filed, as " in line] == [
        f"{fresh.number.text}, Spark plug - renew",
        f"{fresh.number.text}, Starter drive - clean and relubricate",
    ]
    file(later, answers(fresh.job))
    assert [event.procedure for event in filed(fresh)] == [PLU, STA, CLU, SPR]
    readings = [name for event in filed(fresh) for name in event.readings]
    assert readings.count("earth-drop") == 1
    assert list((fresh.root / "engines/023/drafts").glob("*")) == []


def test_nothing_complete_is_refused(fresh: Printed) -> None:
    entry, given = opened(fresh), answers(fresh.job, ())
    looked: Any = entry.check(given)
    assert ([one["name"] for one in looked["said"]], looked["ready"]) == (["no-job-complete"], False)
    found = file(entry, given)
    assert (found["filed"], [one["name"] for one in found["said"]]) == ("", ["no-job-complete"])
    assert (filed(fresh), entry.text) == ([], "Not filed. What was typed is kept.")


def test_the_first_job_failed_and_is_left_for_later(fresh: Printed) -> None:
    entry, given = opened(fresh), answers(fresh.job) | OPEN
    looked: Any = entry.check(given)
    (refused,) = [one for one in looked["said"] if one["weight"] == "refused"]
    assert (refused["name"], looked["ready"]) == ("hold-open", False)
    assert refused["message"].startswith("Clutch - clean, inspect and regrease: ")
    found = file(entry, given)
    assert (found["filed"], filed(fresh)) == ("", [])
    assert found["said"][-1]["message"] == (
        "Not filed either: Spark plug - renew, Drive sprocket and chain - inspect and set and Starter drive - clean "
        "and relubricate. Put that right, or leave its job unticked for now."
    )
    found = file(entry, answers(fresh.job, (PLU, SPR, STA)) | OPEN)
    assert found["text"].splitlines()[3:] == [STAYS[CLU]]
    assert [event.procedure for event in filed(fresh)] == [PLU, SPR, STA]


def test_one_job_failed_keeps_those_before_it(fresh: Printed) -> None:
    """A box of a later job holds no figure; it is put right on the same page."""
    entry, given = opened(fresh), answers(fresh.job)
    marks = [mark for step in fresh.job.instructions.steps if step.jobs == (SPR,) for mark in step.marks]
    box = next(box for mark in marks if mark.mark == "reading" for box in mark.boxes)
    wrong = given | {box: "about so"}
    looked: Any = entry.check(wrong)
    assert looked["ready"], "the jobs before it can be filed"
    found = file(entry, wrong)
    assert found["filed"] == ""
    assert [(one["weight"], one["name"], one["field"]) for one in found["said"]][1:] == [
        ("note", "filed", ""), ("note", "filed", ""), ("note", "waits", "")
    ]  # fmt: skip
    assert (found["said"][0]["weight"], found["said"][0]["field"]) == ("refused", box)
    assert found["said"][-1]["message"] == (
        "Not filed either: Starter drive - clean and relubricate. Put that right, or leave its job unticked for now."
    )
    assert entry.text.splitlines()[2:] == ["The rest is not filed. What was typed is kept."]
    assert (entry.filed, [event.procedure for event in filed(fresh)]) == ((), [CLU, PLU])
    file(entry, given)
    assert [event.procedure for event in filed(fresh)] == [*NAMES]
    assert len(entry.filed) == 4


def test_a_full_disk_between_two_jobs_leaves_the_first_and_the_same_page_goes_on(
    fresh: Printed, monkeypatch: pytest.MonkeyPatch
) -> None:
    entry, given, write = opened(fresh), answers(fresh.job), filing.file_service
    with monkeypatch.context() as full:
        full.setattr(filing, "file_service", twice(write))
        found = file(entry, given)
    assert [one["name"] for one in found["said"]] == ["disk-full", "filed", "filed", "waits"]
    assert [event.procedure for event in filed(fresh)] == [CLU, PLU]
    found = file(entry, given)
    assert found["text"].count("is already filed, as ") == 2
    assert [event.procedure for event in filed(fresh)] == [*NAMES]
    assert verify(fresh.root, "023").problems == ()


KILLED = """
import os, signal, sys
from pathlib import Path
import docgen.returns.filing as filing
from docgen.club.read import read_club
from docgen.desk.entry import Entry
from docgen.returns.identity import sheet_numbered, typed_number
from tests.visit.conftest import TODAY, answers

folder = read_club(Path(sys.argv[1]))
entry = Entry(folder, sheet_numbered(typed_number(sys.argv[2]), folder), TODAY)
given = answers(entry.sheet.job)
doubts = [one["name"] for one in entry.check(given)["said"]]
write, written = filing.write_once, []

def dying(path, data):
    if len(written) == int(sys.argv[3]):
        os.kill(os.getpid(), signal.SIGKILL)
    written.append(path)
    return write(path, data)

filing.write_once = dying
entry.file(given, doubts, ())
"""


@pytest.mark.parametrize("after", [0, 2])
def test_a_kill_between_two_jobs_leaves_whole_entries_and_the_page_opens_again_for_the_rest(
    fresh: Printed, after: int
) -> None:
    command = [sys.executable, "-c", KILLED, str(fresh.root), fresh.number.text, str(after)]
    ended = subprocess.run(command, cwd=ROOT, capture_output=True, env={**os.environ, "PYTHONPATH": str(ROOT)})
    assert ended.returncode == -signal.SIGKILL, ended.stderr.decode()
    assert [event.procedure for event in filed(fresh)] == [*NAMES[:after]]
    assert verify(fresh.root, "023").problems == ()
    again = opened(fresh)
    assert 'name="engine-hours" value="18.4"' in again.page()
    found = file(again, answers(fresh.job))
    assert found["text"].count("is already filed, as ") == after
    assert [event.procedure for event in filed(fresh)] == [*NAMES]


def twice(write: Callable[..., Filed]) -> Callable[..., Filed]:
    """Room for two entries."""
    room = [1, 1]

    def written(*asked: Any) -> Filed:
        if not room:
            raise StoreError("disk-full", "the disk is full")
        room.pop()
        return write(*asked)

    return written


def test_a_copy_that_says_otherwise_is_not_filed_over_the_first(fresh: Printed) -> None:
    file(opened(fresh), answers(fresh.job, (PLU,)))
    entry, given = opened(fresh), answers(fresh.job, (PLU,)) | {"done-by": "Somebody Else"}
    looked: Any = entry.check(given)
    assert not looked["ready"]
    (refused,) = [one for one in file(entry, given)["said"] if one["weight"] == "refused"]
    assert refused["message"].endswith(", but this copy differs in: by.")
    assert [event.by for event in filed(fresh)] == ["Ida"]


def test_each_finding_is_closed_with_the_job_that_it_belongs_to(fresh: Printed) -> None:
    """Findings written once go with the first job; a row that was not good with its own."""
    entry = opened(fresh)
    row = next(s for s in fresh.job.instructions.steps if s.jobs == (STA,) and any(m.mark == "look" for m in s.marks))
    given = answers(fresh.job) | {"findings": "Kart needs a wash", "looked-except": f"{row.called} worn"}
    listed: Any = entry.check(given)["findings"]
    assert listed == ["Kart needs a wash", f"{row.text.rstrip('.')}: worn"]
    file(entry, given, closed=(2,))
    events = {event.procedure: event for event in filed(fresh)}
    assert {name: one.findings for name, one in events.items() if one.findings} == {CLU: ("Kart needs a wash",)}
    assert {name: one.remarks for name, one in events.items() if one.remarks} == {STA: (listed[1],)}


def test_photographed_each_entry_names_the_picture(fresh: Printed) -> None:
    """The jobs' ticks are read as every other; whatever the picture leaves open is for a person to say."""
    folder = read_club(fresh.root)
    paper = drawn(Club(fresh.root, folder, fresh.sheet_in(folder)))
    page = next(page for page in paper.pages if f"job-{PLU}" in paper.ticks(page))
    data = saved(tilted(paper.face(page, (f"job-{PLU}", f"job-{STA}"), (f"job-{SPR}",))))
    with Reader(seconds=120) as reader:
        found = gather([(Path("photograph.jpg"), data)], folder, reader)
    entry = Entry(folder, fresh.sheet_in(folder), TODAY, found.sheets[0], (Paper(data, "jpg", page),))
    html = entry.page()
    assert set(re.findall(r'name="job-([^"]+)" checked', html)) == {PLU, STA}
    assert f'<input type="radio" name="job-{SPR}" value="on">' in html
    given = answers(fresh.job, (PLU, STA))
    asked: Any = entry.check({name: text for name, text in given.items() if name != f"job-{SPR}"})
    assert (asked["said"][0]["name"], asked["said"][0]["field"], asked["ready"]) == ("unclear-box", f"job-{SPR}", False)
    file(entry, given)
    assert [event.procedure for event in filed(fresh)] == [PLU, STA]
    assert [[shot.file for shot in event.pictures] for event in filed(fresh)] == [
        [f"signed/{path.name}"] * 1 for path in 2 * list((fresh.root / "engines/023/signed").iterdir())
    ]
    assert verify(fresh.root, "023").problems == ()
