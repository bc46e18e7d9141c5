"""What a sheet says, what is refused, doubted and noted: every message whole. The small club's sheet, not rendered."""

from __future__ import annotations

from pathlib import Path

import pytest

from docgen.club.read import read_club
from docgen.club.schema.event import Service
from docgen.club.store import append
from docgen.job.issue import issue
from docgen.job.resolve import resolve
from docgen.returns.identity import sheet_numbered, typed_number
from docgen.returns.reading import understand
from docgen.trade.limits import Verdict
from tests.returns.cases import CASES, LATER, Told
from tests.returns.conftest import GOOD, NUMBER, PRINTED, TODAY, Club, Understand, club_at
from tests.smallclub import texts, write


def said(understood: Understand, changes: dict[str, str], **more: object) -> list[Told]:
    found = understood(changes, **more).said
    return [(s.weight, s.name, s.message, s.hint, s.field) for s in found]


def test_a_full_sheet_is_one_whole_event(club: Club, understood: Understand) -> None:
    one = understood()
    assert [(s.weight, s.name) for s in one.said] == [("note", "first-run-to-come")]
    assert one.understood == ()
    assert one.event == {
        "event": "service",
        "date": "2030-04-03",
        "by": "Ágnes Őry",
        "procedure": "rotor-service",
        "revision": "3",
        "sheet": NUMBER,
        "instructions": club.sheet.job.instructions_digest,
        "issue": club.sheet.job.issue_digest,
        "printed": club.sheet.printed,
        "hours": "4.0 h",
        "readings": {"rotor-gap": ["0.30 mm"]},
        "renewed": {"plate-gasket": "W-12"},
        "seals": {"side-plate": {"removed": "S-100", "fitted": "S-101", "permission": "Scrutineer, 1 April"}},
        "checked": {"spacer-flat": "good", "facing-spacer": "good", "rotor-free": "good"},
        "second": "Bo Lind",
        "started": "2030-04-02",
        "torques": {"rotor-nut": {"wrench": "Torque wrench 20 to 100"}},
        "holds": {"gap-seen": {"second": "Bo Lind", "at": "18:20"}},
        "initials": {"tighten-rotor-nut": "ÁŐ"},
        "released": {"by": "Ágnes Őry", "on": "2030-04-03", "signature": "Á. Őry"},
        "seconded": {"by": "Bo Lind", "on": "2030-04-03"},
        "next_due": {"what": "rotor", "hours": "9 h"},
    }
    assert Service.model_validate(one.event).hours is not None
    assert [(j.name, j.printed, j.verdict) for j in one.judged] == [("rotor gap", "0.20 to 0.45 mm", Verdict.ACCEPT)]


@pytest.mark.parametrize("case", CASES)
def test_what_is_said(understood: Understand, case: str) -> None:
    changes, expected = CASES[case]
    assert said(understood, changes) == expected


def test_superseded_revision_is_filed_and_said(understood: Understand) -> None:
    assert said(understood, {}, in_force=4)[-1] == (
        "note",
        "superseded-revision",
        "the work was done by revision 3; revision 4 is in force now",
        "look what changed since, and whether it matters here",
        "",
    )
    assert said(understood, {}, in_force=None)[-1] == (
        "note",
        "withdrawn",
        "the procedure rotor-service is no longer in this folder",
        "",
        "",
    )
    assert not understood(in_force=4).refused


def test_what_was_left_blank_is_named(understood: Understand) -> None:
    left = (
        "work-started",
        "engine-hours",
        "tighten-rotor-nut_initials",
        "measure-rotor-gap",
        "renew-plate-gasket_number",
        "seal-off-side-plate_permission",
    )
    one = understood(dict.fromkeys(left, "") | {"measure-rotor-gap": " – "})
    assert one.event["blank"] == [
        "engine-hours",
        "tighten-rotor-nut-initials",
        "measure-rotor-gap",
        "renew-plate-gasket-number",
        "seal-off-side-plate-permission",
    ]
    assert one.event["renewed"] == {"plate-gasket": "number not noted"}
    assert one.refused == ()


def test_an_entry_struck_through_on_the_paper_is_kept_as_said(understood: Understand) -> None:
    one = understood({"struck": "row 13: 0.50, ÁŐ"})
    assert one.event["struck"] == "row 13: 0.50, ÁŐ"
    assert one.refused == ()


def test_what_is_not_good_becomes_a_finding_with_its_own_words(understood: Understand) -> None:
    one = understood({"looked-except": "8 worn, and rusty", "findings": "none"})
    assert one.event["checked"] == {"spacer-flat": "not good", "facing-spacer": "good", "rotor-free": "good"}
    assert one.event["findings"] == ["Look at the spacer: worn, and rusty"]


def test_a_part_on_a_blank_line_is_known_by_name_number_or_a_slip(understood: Understand) -> None:
    for written in ("spacer", "Spacer W-77", "spaser, W-77"):
        one = understood({"also-renewed-2": written})
        number = "W-77" if "W" in written else "number not noted"
        assert one.event["renewed"] == {"plate-gasket": "W-12", "spacer": number}, written
    assert one.understood == ('"spaser" understood as spacer',)
    several = understood({"also-renewed-1": "Spacer, M6x16, class 8.8, with plain washer"})
    assert several.event["renewed"] == {"plate-gasket": "W-12", "spacer": "M6x16, class 8.8, with plain washer"}
    other = understood({"also-renewed-1": "footrest bracket F-3"})
    assert other.event["remarks"] == ["Renewed: footrest bracket F-3"]


def test_findings_are_lines_and_those_that_need_nothing_more_are_remarks(club: Club) -> None:
    answers = GOOD | {"findings": "Spacer marked  \r\n\r\n鈴木さんのメモ：部品を交換した。\rNone\n"}
    event = understand(club.sheet, answers, TODAY, 3, frozenset({2})).event
    assert event["findings"] == ["Spacer marked"]
    assert event["remarks"] == ["鈴木さんのメモ：部品を交換した。"]


def test_what_was_not_written_as_it_was_read_is_told(understood: Understand) -> None:
    changes = {
        "work-completed": "3.4.2030",
        "engine-hours": "4,0 h",
        "measure-rotor-gap": "0,30mm",
        "released-on": "3 Apr 2030",
    }
    assert understood(changes).understood == (
        'Work completed: "3.4.2030" understood as 2030-04-03',
        'Engine hours: "4,0 h" understood as 4.0 h',
        'rotor gap: "0,30mm" understood as 0.30 mm',
        'Release, date: "3 Apr 2030" understood as 2030-04-03',
    )


def test_checks_after_the_first_run(understood: Understand) -> None:
    one = understood({"after-run-no-noise": "on", "after-run-date": "2030-04-07", "after-run-time": "12 min"})
    assert one.event["checked"]["after-run-no-noise"] == "done"
    assert one.event["first_run"] == {"on": "2030-04-07", "time": "12 min"}
    assert one.said == ()


def test_a_look_that_calls_for_a_job_and_findings_dealt_with(tmp_path: Path) -> None:
    procedure = texts()["procedures/rotor-service.yaml"].replace(
        "fail: {renews: [spacer]}", "fail: {renews: [spacer], calls: rotor-service}"
    )
    root = write(tmp_path, {"procedures/rotor-service.yaml": procedure})
    finding = {"event": "finding", "date": "2030-03-01", "finding": "Rattles"}
    append(root / "engines/7A/log", finding, ())
    folder = read_club(root)
    job = resolve(folder, folder.engines["7A"], folder.procedures["rotor-service"], PRINTED)
    issue(root / "engines/7A/issued", job)
    sheet = sheet_numbered(typed_number(NUMBER), folder)
    changes = {
        "looked-except": "8",
        "findings": "Spacer worn",
        "open-finding-1_done": "on",
        "open-finding-1_how": "was the spacer",
    }
    one = understand(sheet, GOOD | changes, TODAY, 3)
    assert one.event["leads_on"] == [
        {"check": "spacer-flat", "what": "Look at the spacer: not good (ROT, row 8)", "calls": "rotor-service",
         "spares": ["spacer"]}
    ]  # fmt: skip
    assert one.event["dealt_with"] == [{"finding": folder.engines["7A"].log.head, "how": "was the spacer"}]
    unticked = understand(sheet, GOOD | {"open-finding-1_how": "was the spacer"}, TODAY, 3)
    assert [(s.name, s.message) for s in unticked.said] == [
        ("finding-stays-open", "2030-03-01: Rattles: stays open, since dealt with is not ticked"),
        ("first-run-to-come", LATER[2]),
    ]


def test_an_event_later_than_the_work_is_a_doubt(tmp_path: Path) -> None:
    club = club_at(tmp_path)
    append(tmp_path / "engines/7A/log", {"event": "run", "date": "2030-04-06", "hours": "1 h"}, ())
    one = understand(sheet_numbered(typed_number(NUMBER), read_club(tmp_path)), GOOD, TODAY, 3)
    assert club.sheet.number.text == NUMBER
    assert [str(s) for s in one.doubts] == [
        "date-before-last-event: one event is filed for engine 7A after 2030-04-03, the last of 2030-04-06\n"
        "  to mend: it is filed all the same when that is how it was"
    ]
