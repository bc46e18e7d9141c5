"""The words that the program puts on sheets, beside those of jobs and plans; what procedures and models say is theirs.

The fields' values are English, and messages of the one catalogue (:mod:`docgen.job.words`):
``Words.speaking("de")`` gives the same words in German.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from docgen.job.words import table
from docgen.plan.words import PlanWords


@dataclass(frozen=True, eq=False, repr=False)
class Words(PlanWords):
    """The words of the sheets, with those of jobs and plans. Braces stand for what is filled in."""

    # Figures and units
    to: str = "to"
    hour: str = "h"
    minute: str = "min"
    left_turned: str = "left"
    drives: dict[str, str] = field(
        default_factory=lambda: table(
            hex="{size} hex",
            hex_socket="{size} hex key",
            hexalobular="hexalobular {size}",
            square="{size} square",
            slot="flat blade",
            cross="cross {size}",
            plug="{size} plug socket",
            hand="by hand",
        )
    )
    sizes: dict[str, str] = field(
        default_factory=lambda: table(
            hex="{size}",
            hex_socket="{size} key",
            hexalobular="hexalobular {size}",
            square="{size} square",
            slot="flat blade",
            cross="cross {size}",
            plug="{size}",
        )
    )
    lubrications: dict[str, str] = field(
        default_factory=lambda: table(
            dry="dry", oiled="oiled", threadlocker="with threadlocker", anti_seize="with anti-seize"
        )
    )
    kinds: dict[str, str] = field(
        default_factory=lambda: table(
            diametral="on diameter",
            radial="radial",
            axial="along the shaft",
            height="height",
            gap="gap",
            electrical="electrical",
            pressure="pressure",
        )
    )

    # Heads and feet
    bench_leaf: str = "Bench leaf"
    reading_sheet: str = "Reading"
    sign_off: str = "Sign-off sheet"
    engine: str = "Engine"
    serial: str = "serial"
    revision: str = "revision"
    page: str = "Page"
    of: str = "of"
    visit_jobs: str = "Jobs of this visit"
    visit_job: str = "Job"
    visit_done: str = "Complete"
    visit_note: str = "One that is not ticked stays open."
    visit_kit: str = "Tools, materials and parts to lay ready: by the kit list of this visit."
    visit_saved: str = "One by one {apart} removals and {time_apart} of work, together {removals} and {time}"
    visit_fewest: str = "no order has fewer"
    unproofed: str = "UNPROOFED"
    unproofed_note: str = (
        "Proofing found {count} faults in this job, and it was printed all the same. Do not work from it unchecked."
    )
    unnamed: str = "No record stands behind this sheet"
    unnamed_note: str = "Ask the keeper what differs on this engine, its seals and open findings, and look."
    precedence: str = "The engine maker’s manual, class rules, local codes and licensed practice come first."
    for_type: str = "For every {model}. What is not as its model on one engine stands on its bench leaf."
    leaf_beside: str = "The numbers are those of the bench leaf."
    stopped_after: str = "Stopped after row"
    stopped_by: str = "by"
    stopped_loose: str = "loose or open"
    manual: str = "Maker’s manual"
    text_by: str = "Text by {author}"

    # Above the rows of the leaf
    work_time: str = "about"
    not_before_short: str = "not before"
    differs_elsewhere: str = "Not as its model, elsewhere"
    new_part: str = "new:"
    hours_now: str = "Engine hours"
    stop: str = "STOP"
    seal_stop: str = "This job breaks a seal. Do not start without permission."
    seal_of: str = "Seal on the {name}"
    seal_number: str = "Number on record"
    permission: str = "Permission given by"
    permission_on: str = "On (date)"
    new_seal: str = "New seal number"
    differs: str = "This engine is not as its model"
    since: str = "since"
    voids: str = "No longer holds"
    before: str = "Before you start"
    tools: str = "Tools"
    no_tools: str = "No tools are needed."
    materials: str = "Materials"
    waste: str = "waste"
    parts: str = "Parts"
    needed: str = "needed"
    at_hand: str = "have at hand"
    fitted_components: str = "Fitted to this engine"

    # Steps
    set_wrench: str = "Set the wrench to"
    cure: str = "cures"
    hand_only: str = "Hands only"
    start_first: str = "Start all {count} by hand"
    start_one: str = "Start by hand"
    start_first_note: str = "before you tighten any"
    stages_of: str = "In stages"
    estimate: str = "estimate"
    estimate_how: str = "how it was made: at the end"
    estimates: str = "How the estimates were made"
    club_figure: str = "club’s figure"
    see_manual: str = "see the maker’s manual"
    stacked: str = "In this order, from the inside outwards"
    face_towards: str = "{face} towards {towards}"
    renew: str = "Fit new"
    part_number: str = "Part number"
    reading: str = "Reading"
    new_range: str = "New"
    limit: str = "Limit"
    accept: str = "Accept"
    undecided: str = "measure again"
    derived: str = "from"
    if_not: str = "If not"
    good: str = "Good"
    found: str = "As found"
    write_down: str = "write down {what}."
    left: str = "As left"
    start_value: str = "Starting value"
    ceiling: str = "Never above"
    hold: str = "HOLD"
    hold_text: str = "Do not go on before this is checked."
    checked_by: str = "Checked by"
    at_time: str = "At (time)"
    seal_removed: str = "Break the seal"
    seal_fitted: str = "Fit a seal"
    wait: str = "Wait"
    wait_start: str = "Start"
    wait_finish: str = "Finished"
    until: str = "Again until"
    at_most: str = "at most {count} times"
    closing: str = "Before you sign"
    after_run: str = "After the first run"

    # Sign-off sheet
    keeper: str = "Keeper"
    hours_on_record: str = "Hours on record"
    last_done: str = "Last done"
    printed: str = "printed"
    work_by: str = "Work as {code} revision {revision}, {dated}"
    work_started: str = "Work started on"
    work_completed: str = "Work completed on"
    hours_at_work: str = "Engine hours at this work"
    done_by: str = "Work done by (name)"
    initials: str = "Initials"
    struck: str = "Struck through: a wrong entry gets one line through it and initials beside it, and is named here"
    open_findings: str = "Open findings"
    finding: str = "Finding"
    dealt_with: str = "Dealt with"
    how: str = "How"
    settings: str = "Settings"
    setting: str = "Setting"
    last: str = "Last"
    at_hours: str = "at"
    torques: str = "Critical fasteners"
    row: str = "Row"
    now: str = "Now"
    below: str = "below"
    all_good: str = "All {count} points looked at, and ways round: good"
    looked_except: str = "Except: rows, and what was found"
    also_renewed: str = "Also renewed: part, number"
    fastener: str = "Fastener"
    torque: str = "Torque"
    wrench_used: str = "Wrench used"
    paint_mark: str = "Paint mark"
    readings: str = "Readings"
    what: str = "What"
    good_when: str = "Good when"
    holds: str = "Hold points"
    hold_point: str = "Why it holds"
    holds_note: str = "A second person, or who works alone looks again later and gives the time."
    second_person: str = "Second person"
    own_recheck: str = "Own re-check"
    date_time: str = "Date and time"
    waits: str = "Waiting times"
    parts_renewed: str = "Parts renewed"
    part: str = "Part"
    renewed: str = "Renewed"
    number_fitted: str = "Number fitted"
    number_removed: str = "Number removed"
    seals: str = "Seals"
    seal: str = "Seal"
    run_time: str = "Running time"
    date: str = "Date"
    findings_remarks: str = "Findings and remarks"
    findings_note: str = "What was not as it should be, and what was done about it; write “none” if there was nothing."
    release: str = "Release"
    release_text: str = (
        "The work named here, and only that, was done as its rows say, but for what stands under findings; every part, "
        "cloth and tool is accounted for. The signature approves this work only, not the rest of the engine."
    )
    released_by: str = "Released by (name)"
    second_by: str = "Second person (name), if any"
    signature: str = "Signature"
    next_due: str = "Next due: what"
    due_hours: str = "Due at engine hours"
    due_date: str = "Or due on"
    instructions: str = "Instructions"
    issue: str = "issue"
    log_head: str = "log"
    empty: str = "empty"

    # Engine card
    engine_card: str = "Engine card"
    as_of: str = "as of {day}"
    model: str = "Model"
    since_record: str = "In the record since"
    displacement: str = "Displacement"
    total_hours: str = "Total hours"
    hours_before: str = "{hours} when it was received on {day}; the rest follows from the log"
    hours_unknown: str = "since the record began on {day}; hours before are not known"
    hours_since_rebuilt: str = "Hours since it was rebuilt"
    no_rebuild: str = "no rebuild on record"
    rebuilt_note: str = "on {day}, approved by {by}"
    rebuilt_means: str = (
        "Rebuilt means: completely disassembled, inspected, repaired as necessary, reassembled, tested, and approved "
        "to the limits of a new one (the sense of 14 CFR 91.421(c))."
    )
    last_run: str = "Last run"
    never_run: str = "no run on record"
    components: str = "Numbered components"
    component_number: str = "Number"
    on_this_engine: str = "On this engine"
    since_new: str = "Since new"
    not_known: str = "not known"
    life_limited: str = "Parts with a limited life"
    fitted_on: str = "Fitted on"
    original: str = "as received"
    run_since: str = "Run since"
    allowed_life: str = "Allowed"
    hours_left: str = "Left"
    over_by: str = "over by"
    age_unknown: str = "age not known"
    latest_readings: str = "Readings"
    readings_note: str = (
        "Over engine hours. Heavy line: limit. Grey: range of new parts. Dotted: part renewed. Dashed: trend, an "
        "estimate."
    )
    outside: str = "outside"
    course: str = "Course"
    due_now: str = "What is due"
    due_state: str = "State"
    job: str = "Job"
    why: str = "Why"
    owners: str = "Kept by"
    running: str = "Running"
    year: str = "Year"
    days: str = "Days"
    record: str = "Record"
    record_note: str = "Every event but the running, which is added up above."
    what_happened: str = "What"
    signed_by: str = "By"
    sheet_number: str = "Sheet, or entry"
    corrected: str = "Corrected"
    holds_now: str = "holds now"
    holds_nothing: str = "this entry does not count"
    record_digest: str = "Digest of this record"
    digest_note: str = (
        "It stands for every entry up to the last. Who keeps this card can have the record compared with it: an entry "
        "that was changed, removed, exchanged or added since then is found. What was never entered is not."
    )

    # What pictures are called for whoever has the page read out
    taken_at: str = "Where the {name} is taken"
    safety_alert: str = "safety alert symbol"
    symbols: dict[str, str] = field(
        default_factory=lambda: table(
            tick="tick",
            arrow="arrow",
            hand="open hand",
            clock="clock",
            again="arrow round in a circle",
            wrench="wrench",
            scissors="scissors: cut here",
            stop="stop",
            prohibited="prohibited",
            mandatory="must be done",
            paint="paint mark over a nut",
        )
    )

    # Words in drawings, and what is read aloud for the tick and the cross before them
    verdicts: dict[str, str] = field(default_factory=lambda: table(good="good", bad="bad", wrong="crossed out"))
    drawn: dict[str, str] = field(
        default_factory=lambda: table(
            turns="Tightening order of {count}; as they stand, the turns are {turns}",
            with_them="shown with them: {names}",
            clears="clears the radius",
            stands_off="stands off",
            straight_edge="straight edge",
            feeler="feeler",
            diaphragm_end="diaphragm’s end",
            pump="pump",
            vent="vent",
            ceiling="never above",
            leak_mark="leak mark",
            marks_in_line="marks in line",
            before_top="before top dead centre",
            opens_up="up",
            opens_down="down",
            sideways="sideways",
            one_drop="one drop, life size",
            too_much="too much",
            filled="filled, wiped off",
            whole="whole",
            frayed="frayed",
            chipped="chipped",
            tip_gap="open",
            even_grey="even grey",
            blue="blue",
            cracked="cracked",
            flanks_alike="flanks alike",
            hooked="hooked",
            bright="bright",
            notched="notched",
            dull="dull, dry",
            oily="oily",
            tan="tan",
            white="white",
            beaded="beaded",
        )
    )

    # Signal words, ANSI Z535.6
    signals: dict[str, str] = field(
        default_factory=lambda: table(danger="DANGER", warning="WARNING", caution="CAUTION", notice="NOTICE")
    )
