"""Sheets that are refused, doubted or noted: what differs from a full sheet, and every word that is said of it."""

from __future__ import annotations

from tests.returns.conftest import GOOD

Told = tuple[str, str, str, str, str]
"""Weight, name, message, hint, field."""

LATER = ("note", "first-run-to-come", "the checks after the first run are still to come", "", "")
CLOSING_OPEN = (
    "doubt",
    "closing-check-open",
    "1 of 1 checks before the release are not ticked, the first: Turn the rotor by hand.",
    "make them before the engine goes out, and tick them",
    "closing-rotor-free",
)
FIND = "write under findings what was found and what was done about it"
CASES: dict[str, tuple[dict[str, str], list[Told]]] = {
    "reading outside its limit": (
        {"measure-rotor-gap": "0,50"},
        [
            (
                "refused",
                "outside-limit",
                "rotor gap, 0.50 mm, is outside its limit, 0.20 to 0.45 mm, and the sheet has no finding",
                FIND,
                "findings",
            ),
            LATER,
        ],
    ),
    "reading outside its limit, with a finding": (
        {"measure-rotor-gap": "0.50", "findings": "Rotor rubs"},
        [
            (
                "note",
                "outside-limit",
                "rotor gap, 0.50 mm, is outside its limit, 0.20 to 0.45 mm",
                "",
                "measure-rotor-gap",
            ),
            LATER,
        ],
    ),
    "reading that the gauge cannot decide": (
        {"measure-rotor-gap": "0.45"},
        [
            (
                "note",
                "too-near-to-limit",
                "rotor gap, 0.45 mm, is within its limit, 0.20 to 0.45 mm, but nearer to it than "
                "the gauge can tell (0.20 to 0.40 mm)",
                "measure again, or with a finer gauge",
                "measure-rotor-gap",
            ),
            LATER,
        ],
    ),
    "another unit": (
        {"measure-rotor-gap": "0.30 bar"},
        [
            (
                "refused",
                "wrong-unit",
                'rotor gap: "0.30 bar" is a figure of pressure; the box is in mm',
                "look whether it was meant for another box",
                "measure-rotor-gap",
            ),
            LATER,
        ],
    ),
    "no figure": (
        {"measure-rotor-gap": "about 0.3"},
        [
            (
                "refused",
                "not-a-figure",
                'rotor gap: "about 0.3" cannot be read as one figure',
                "write one figure, as in 0.45; the unit, mm, is printed beside the box",
                "measure-rotor-gap",
            ),
            LATER,
        ],
    ),
    "not good, and nothing said": (
        {"looked-except": "8"},
        [
            (
                "refused",
                "not-good-without-finding",
                '"Look at the spacer." is not good, and nothing says what was found',
                "write it behind the row, or under findings",
                "looked-except",
            ),
            ("note", "leads-on", "Look at the spacer: not good (ROT, row 8): asked for new: spacer", "",
             "spacer-flat"),
            LATER,
        ],
    ),
    "not good, with what was found": (
        {"looked-except": "row 8: worn, and rusty"},
        [
            ("note", "leads-on", "Look at the spacer: not good (ROT, row 8): asked for new: spacer", "",
             "spacer-flat"),
            LATER,
        ],
    ),
    "a row where nothing is looked at": (
        {"looked-except": "5 dirty"},
        [
            (
                "refused",
                "no-such-row",
                "not good, but: row 5 is not one where something is looked at",
                "begin with the row's number, as on the leaf",
                "looked-except",
            ),
            LATER,
        ],
    ),
    "an exception without its row": (
        {"looked-except": "spacer worn"},
        [
            (
                "refused",
                "no-such-row",
                'not good, but: "spacer worn" begins with no row',
                "begin with the row's number, as on the leaf",
                "looked-except",
            ),
            LATER,
        ],
    ),
    "not confirmed": (
        {"looked-all": ""},
        [
            (
                "doubt",
                "looks-not-confirmed",
                "the box for all 2 points looked at is not ticked",
                "tick it when all but those named were good; else somebody looks at them again",
                "looked-all",
            ),
            LATER,
        ],
    ),
    "another part renewed": ({"also-renewed-1": "Spacer W-15"}, [LATER]),
    "a part that is not of this job": (
        {"also-renewed-1": "footrest bracket"},
        [
            (
                "note",
                "renewed-beside",
                '"footrest bracket" is no part of this job: it is kept as a remark',
                "a part with a life of its own is noted with docgen note",
                "also-renewed-1",
            ),
            LATER,
        ],
    ),
    "hold open": (
        {"gap-seen_second": ""},
        [
            (
                "refused",
                "hold-open",
                "hold point at row 13: no second person and no own re-check",
                "have it looked at and signed; or look again yourself, tick own re-check and write its date and time",
                "gap-seen_second",
            ),
            LATER,
        ],
    ),
    "own re-check without its time": (
        {"gap-seen_second": "", "gap-seen_own": "on", "gap-seen_time": ""},
        [
            (
                "refused",
                "hold-open",
                "hold point at row 13: own re-check is ticked without its date and time",
                "have it looked at and signed; or look again yourself, tick own re-check and write its date and time",
                "gap-seen_time",
            ),
            LATER,
        ],
    ),
    "own re-check with its time": (
        {"gap-seen_second": "", "gap-seen_own": "on", "gap-seen_time": "4 April, 8:00"},
        [LATER],
    ),
    "the second is the first": (
        {"gap-seen_second": "ágnes őry"},
        [
            (
                "refused",
                "second-is-the-first",
                "hold point at row 13: ágnes őry did the work and cannot be the second person",
                "look again later, tick own re-check and write its date and time",
                "gap-seen_second",
            ),
            LATER,
        ],
    ),
    "seal number missing": (
        {"seal-on-side-plate": ""},
        [
            (
                "refused",
                "seal-number-missing",
                "the side plate was off, and the number of its new seal is missing",
                'write it; where the seal was never broken, write "not broken" as the number removed',
                "seal-on-side-plate",
            ),
            LATER,
        ],
    ),
    "seal not broken": (
        {"seal-off-side-plate": "not broken", "seal-on-side-plate": ""},
        [("note", "seal-not-broken", "the seal on the side plate was not broken", "", "seal-off-side-plate"), LATER],
    ),
    "another seal than on record": (
        {"seal-off-side-plate": "S-099"},
        [
            (
                "refused",
                "other-seal",
                "seal S-099 was on the side plate; the record says S-100",
                "look at the number again; if it is right, write it under findings",
                "seal-off-side-plate",
            ),
            LATER,
        ],
    ),
    "hours lower than the log": (
        {"engine-hours": "3.2"},
        [
            (
                "doubt",
                "hours-lower",
                "3.2 h is less than the 4.0 h that engine 7A had before 2030-04-03",
                "look at the meter again; if the log is wrong, correct the run in it",
                "engine-hours",
            ),
            LATER,
        ],
    ),
    "hours above the log": (
        {"engine-hours": "5.5"},
        [
            (
                "note",
                "running-not-entered",
                "5.5 h is more than the 4.0 h in the log of engine 7A: 1.5 h of running were not entered",
                "docgen ran 7A MINUTES --on DAY enters them",
                "engine-hours",
            ),
            LATER,
        ],
    ),
    "date in the future": (
        {"work-completed": "2030-04-13"},
        [
            (
                "refused",
                "date-in-future",
                "2030-04-13 has not come yet: today is 2030-04-10",
                "write the day on which it was done",
                "work-completed",
            ),
            LATER,
        ],
    ),
    "date before the sheet was printed": (
        {"work-completed": "2030-03-03", "work-started": ""},
        [
            (
                "doubt",
                "date-before-print",
                "the work is dated 2030-03-03, before this sheet was printed on 2030-04-01",
                "right if the work was written up afterwards; look at the year",
                "work-completed",
            ),
            LATER,
        ],
    ),
    "completed before it was started": (
        {"work-started": "2030-04-05"},
        [
            (
                "refused",
                "date-before-start",
                "the work is said to be completed on 2030-04-03 but started on 2030-04-05",
                "look at both dates again",
                "work-started",
            ),
            LATER,
        ],
    ),
    "date that can be read two ways": (
        {"work-completed": "03/04/2030"},
        [
            (
                "refused",
                "two-ways-to-read",
                'Work completed: "03/04/2030" may be 2030-04-03 or 2030-03-04',
                "write year-month-day",
                "work-completed",
            ),
            LATER,
        ],
    ),
    "no date": (
        {"work-completed": ""},
        [
            ("refused", "no-date", "the day on which the work was completed is missing", "write it", "work-completed"),
            LATER,
        ],
    ),
    "not released": (
        {"released-by": ""},
        [
            LATER,
            (
                "refused",
                "not-released",
                "nobody released the work: the name under the release is missing",
                "who answers for the work writes his name there",
                "released-by",
            ),
        ],
    ),
    "a closing check open": ({"closing-rotor-free": ""}, [CLOSING_OPEN, LATER]),
    "critical fastener blank": (
        {key: "" for key in GOOD if key.startswith("tighten-rotor-nut")},
        [
            (
                "doubt",
                "critical-fastener-blank",
                "Rotor nut: nothing is written in the row of this critical fastener",
                "fill it in; or say under findings why it was not tightened",
                "tighten-rotor-nut_wrench",
            ),
            LATER,
        ],
    ),
    "renewed without a tick, with another number": (
        {"renew-plate-gasket_renewed": "", "renew-plate-gasket_number": "W-12B"},
        [
            (
                "note",
                "renewed-unticked",
                "plate gasket: number W-12B is written, so it counts as renewed",
                "",
                "renew-plate-gasket",
            ),
            (
                "note",
                "other-number",
                "plate gasket: number W-12B was fitted; the sheet says W-12",
                "",
                "renew-plate-gasket",
            ),
            LATER,
        ],
    ),
    "several at once": (
        {"measure-rotor-gap": "0.50", "released-by": "", "gap-seen_second": "–"},
        [
            (
                "refused",
                "outside-limit",
                "rotor gap, 0.50 mm, is outside its limit, 0.20 to 0.45 mm, and the sheet has no finding",
                FIND,
                "findings",
            ),
            (
                "refused",
                "hold-open",
                "hold point at row 13: no second person and no own re-check",
                "have it looked at and signed; or look again yourself, tick own re-check and write its date and time",
                "gap-seen_second",
            ),
            LATER,
            (
                "refused",
                "not-released",
                "nobody released the work: the name under the release is missing",
                "who answers for the work writes his name there",
                "released-by",
            ),
        ],
    ),
}
