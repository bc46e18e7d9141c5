"""The signed sheet of a visit: one event for each job that is complete, and nothing of those that are not."""

from __future__ import annotations

import os
import re
import signal
import subprocess
import sys
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from docgen.cli.frame import docgen
from docgen.club.read import read_club
from docgen.club.readlog import read_log
from docgen.club.schema.event import Service
from docgen.desk.asking import Unasked
from docgen.desk.entry import Entry
from docgen.desk.settling import Clerk, Settled
from docgen.plan.due import DUE, OVERDUE, due_list
from docgen.returns.brief import brief
from docgen.returns.verify import verify
from tests.visit.conftest import DONE, NAMES, TODAY, Printed, answers

CLU, PLU, SPR, STA = NAMES


def file(printed: Printed, given: dict[str, str], *accepted: str) -> tuple[Settled, list[str]]:
    who, folder = Unasked(accepted), read_club(printed.root)
    return Clerk(who, folder, TODAY).settle(printed.sheet_in(folder), given), who.heard


def filed(printed: Printed) -> list[Service]:
    """The events of this sheet, in the order of the log."""
    log, problems = read_log(printed.root, "023")
    assert problems == []
    return [event for event in log.of(Service) if event.sheet == printed.number.text]


def pressing(root: Path) -> set[str]:
    lines = due_list(read_club(root), TODAY, ("023",))
    return {line.job for line in lines if line.job and line.state in (OVERDUE, DUE)}


def test_all_complete(fresh: Printed) -> None:
    assert pressing(fresh.root) == {*NAMES}
    settled, _ = file(fresh, answers(fresh.job))
    assert settled.state == "filed"
    events = filed(fresh)
    assert [event.procedure for event in events] == [*NAMES]
    assert {event.issue for event in events} == {fresh.job.issue_digest}
    assert pressing(fresh.root) == set()
    assert verify(fresh.root, "023").problems == ()
    # What was done for several jobs stands in the record once
    readings = [name for event in filed(fresh) for name in event.readings]
    assert readings.count("earth-drop") == 1
    assert readings.count("chain-slack") == 2  # the clutch job measures it, and the chain job as found
    renewed = [name for event in filed(fresh) for name in event.renewed]
    assert sorted(renewed) == ["chain", "chain-clip", "shaft-o-ring", "spark-plug"]
    torques = [list(event.torques) for event in filed(fresh)]
    assert torques == [["clutch-nut", "earth-strap-screw"], ["spark-plug"], [], []]


def test_half_complete_files_the_complete_and_keeps_the_rest_open(fresh: Printed) -> None:
    settled, said = file(fresh, answers(fresh.job, (PLU, STA)))
    assert settled.state == "filed"
    assert [event.procedure for event in filed(fresh)] == [PLU, STA]
    assert said[-2:] == [
        "Clutch - clean, inspect and regrease is not ticked as complete: it stays open.",
        "Drive sprocket and chain - inspect and set is not ticked as complete: it stays open.",
    ]
    assert pressing(fresh.root) == {CLU, SPR}


def test_the_rest_is_filed_later_from_the_same_sheet(fresh: Printed) -> None:
    file(fresh, answers(fresh.job, (STA,)))
    settled, said = file(fresh, answers(fresh.job))
    assert settled.state == "filed"
    assert [event.procedure for event in filed(fresh)] == [STA, CLU, PLU, SPR]
    (already,) = [line for line in said if "already filed" in line]
    assert already.startswith(f"{fresh.number.text}, Starter drive - clean and relubricate, is already filed, as ")
    assert [name for event in filed(fresh) for name in event.readings].count("earth-drop") == 1
    again, _ = file(fresh, answers(fresh.job))
    assert again.state == "already filed"
    assert len(filed(fresh)) == 4


OPEN = {"clearance-hold_second": "", "clearance-hold_own": ""}
"""The hold point of the clutch job is open."""


def test_one_job_failed_keeps_those_before_it(fresh: Printed) -> None:
    """A critical fastener of the last job has nothing written in its row, and nobody says that this is right."""
    file(fresh, answers(fresh.job, (CLU,)))
    key = next(name for name in answers(fresh.job) if name.startswith("tighten-spark-plug") and name.endswith("wrench"))
    row = key.removesuffix("_wrench")
    blank = {name: "" for name in answers(fresh.job) if name.startswith(row)}
    settled, said = file(fresh, answers(fresh.job) | blank)
    assert settled.state == "not filed"
    assert [event.procedure for event in filed(fresh)] == [CLU]
    assert said[-1] == (
        "Not filed either: Drive sprocket and chain - inspect and set and Starter drive - clean and relubricate. "
        "Put that right, or leave its job unticked for now."
    )


def test_a_failed_job_left_unticked_stays_open(fresh: Printed) -> None:
    settled, _ = file(fresh, answers(fresh.job) | OPEN)
    assert settled.state == "not filed"
    assert [one.name for one in settled.said if one.weight == "refused"] == ["hold-open"]
    assert filed(fresh) == []
    file(fresh, answers(fresh.job, (PLU, SPR, STA)) | OPEN)
    assert [event.procedure for event in filed(fresh)] == [PLU, SPR, STA]
    assert pressing(fresh.root) == {CLU}
    settled, _ = file(fresh, answers(fresh.job))
    assert settled.state == "filed"
    assert pressing(fresh.root) == set()


def test_a_point_that_is_not_good_leads_on_from_its_own_job(fresh: Printed) -> None:
    row = next(s for s in fresh.job.instructions.steps if s.key == "drive-teeth-good" and s.jobs == (CLU,))
    given = answers(fresh.job) | {"looked-except": f"{row.called} hooked", "findings": "Kart needs a wash"}
    settled, _ = file(fresh, given)
    assert settled.state == "filed"
    events = {event.procedure: event for event in filed(fresh)}
    assert events[CLU].findings == ("Kart needs a wash", f"{row.text.rstrip('.')}: hooked")
    assert [lead.calls for lead in events[CLU].leads_on] == [SPR]
    assert all(not events[name].findings and not events[name].leads_on for name in (PLU, SPR, STA))


def test_nothing_complete_is_refused(fresh: Printed) -> None:
    settled, _ = file(fresh, answers(fresh.job, ()))
    assert (settled.state, [one.name for one in settled.said]) == ("not filed", ["no-job-complete"])
    assert filed(fresh) == []


KILLED = """
import os, signal, sys
from pathlib import Path
import docgen.returns.filing as filing
from docgen.club.read import read_club
from docgen.desk.asking import Unasked
from docgen.desk.settling import Clerk
from docgen.job.issue import thawed
from docgen.returns.identity import sheet_numbered, typed_number
from tests.visit.conftest import TODAY, answers

root, number, after = Path(sys.argv[1]), sys.argv[2], int(sys.argv[3])
write, written = filing.write_once, []

def dying(path, data):
    if len(written) == after:
        os.kill(os.getpid(), signal.SIGKILL)
    written.append(path)
    write(path, data)

filing.write_once = dying
sheet = sheet_numbered(typed_number(number), read_club(root))
Clerk(Unasked(), read_club(root), TODAY).settle(sheet, answers(sheet.job))
"""


@pytest.mark.parametrize("after", [0, 1, 3])
def test_a_kill_between_two_jobs_leaves_whole_events_and_the_rest_to_be_filed(fresh: Printed, after: int) -> None:
    here = Path(__file__).parents[2]
    command = [sys.executable, "-c", KILLED, str(fresh.root), fresh.number.text, str(after)]
    ended = subprocess.run(command, cwd=here, capture_output=True, env={**os.environ, "PYTHONPATH": str(here)})
    assert ended.returncode == -signal.SIGKILL, ended.stderr.decode()
    assert [event.procedure for event in filed(fresh)] == [*NAMES[:after]]
    assert verify(fresh.root, "023").problems == ()
    settled, _ = file(fresh, answers(fresh.job))
    assert settled.state == "filed"
    assert [event.procedure for event in filed(fresh)] == [*NAMES]


def entered(printed: Printed, given: dict[str, str], going_on_at: str = "") -> Result:
    """Type the sheet in at the terminal: first that all is well, then what is asked for in any case.

    going_on_at : the box at which the draft goes on; what is typed already is kept by Enter
    """
    asked = brief(printed.job)
    lines = [] if going_on_at else ["Ida", "hours 18.4", f"date {DONE}", "y"]
    for one in asked[[one.field for one in asked].index(going_on_at or asked[0].field) :]:
        text = given.get(one.field, "")
        if one.kind == "tick":
            lines.append("y" if text else "n")
        elif not one.needs or given.get(one.needs):
            typed = "" if going_on_at else text
            lines += [typed, ""] if one.kind == "lines" and typed else [typed]
    words = ["--club", str(printed.root), "enter", printed.number.text, "--terminal", "--on", TODAY.isoformat()]
    return CliRunner().invoke(docgen, words, input="\n".join([*lines, *"y" * 20]), catch_exceptions=False)


def test_at_the_terminal_the_complete_jobs_are_asked_for_and_the_rest_goes_on_later(fresh: Printed) -> None:
    result = entered(fresh, answers(fresh.job, (PLU, STA)))
    assert result.exit_code == 0, result.output
    assert [event.procedure for event in filed(fresh)] == [PLU, STA]
    assert result.output.splitlines()[-1] == (
        "What was typed is kept for the jobs that stay open: the same command goes on from here."
    )
    folder = read_club(fresh.root)
    page = Entry(folder, fresh.sheet_in(folder), TODAY).page()
    assert re.findall(r'name="job-([^"]+)" checked', page) == [PLU, STA]
    result = entered(fresh, answers(fresh.job), f"job-{CLU}")
    assert result.exit_code == 0, result.output
    assert "Going on at: CLU Clutch - clean, inspect and regrease" in result.output
    assert [event.procedure for event in filed(fresh)] == [PLU, STA, CLU, SPR]
    assert list((fresh.root / "engines/023/drafts").iterdir()) == []
