"""The words of the pages round the sheets: kit list, mat, labels, board, binder, index. One catalogue with the rest."""

from __future__ import annotations

from dataclasses import dataclass, field

from docgen.job.words import table
from docgen.sheets.words import Words


@dataclass(frozen=True, eq=False, repr=False)
class PageWords(Words):
    """The catalogue of the sheets, and what only these pages say. Braces stand for what is filled in."""

    # Kit list
    kit_list: str = "Kit list"
    kit_for_one: str = "Kit for engine {engine}"
    kit_for_more: str = "Kit for {count} engines"
    kit_note: str = "Tick what lies ready. Work on all of it, about {work}; the longest wait of one job, {wait}."
    jobs: str = "Jobs"
    jobs_note: str = "What this kit is for."
    have_ready: str = "Ready"
    parts_sure: str = "Parts that are fitted for sure"
    parts_hand: str = "Parts to have at hand"
    parts_hand_note: str = "Fitted only if a check fails; one job’s worth is enough, and is replaced when it is used."
    pieces: str = "Needed"
    on_hand: str = "On hand"
    short: str = "Short"
    for_jobs: str = "For"
    if_all_fail: str = "If all fail"
    whole_containers: str = "Containers"
    containers_of: str = "{count} of {size}"
    as_needed: str = "as needed"
    and_as_needed: str = "and as needed"
    every_job: str = "every job"
    order_list: str = "Order"
    order_note: str = "What the shelf does not hold, and what must lie there for a check that fails."
    order_unknown: str = "The club keeps no stock.yaml: count the shelf, and write down what is short."
    order_nothing: str = "Nothing is short."
    pack: str = "Pack"
    quantity_word: str = "Order"
    price: str = "Price"
    cost: str = "Cost"
    total: str = "Total"
    prices_are: str = "Prices as the club last wrote them down, in {currency}; ask before you order."
    counted_on: str = "shelf counted on {day}"
    needed_tools: str = "Tools and gauges"
    kit_caution: str = "What burns, irritates or poisons is named on each job’s bench leaf, before its row."

    # Layout mat
    layout_mat: str = "Layout mat"
    mat_box: str = "Parts box"
    mat_order: str = "Lay each piece on its row’s number. Read backwards, it is the order of refitting."
    full_size: str = "Outlines at full size."
    smaller: str = "Outlines at {percent} %."
    back_in: str = "back in row {row}"
    stays_off: str = "stays off"
    fate_new: str = "A new one goes back"
    fate_checked: str = "New if its check fails"
    faces: str = "{face} to {towards}"
    beside_mat: str = "Lies beside the mat"
    beside_box: str = "Too large for a compartment, lies beside the box:"
    size_of: str = "{width} × {height} mm"
    across: str = "{size} mm across"
    place_for: str = "Place for {name}, {size}"
    places_count: str = "Places: {places}, pieces: {pieces}. All empty before you sign."
    stays_hanging: str = "Undone, but stays where it hangs"
    what_else: str = "What else came off, and in which row"
    mat_part: str = "{page} of {pages}: {first} to {last}"
    box_page: str = "Box {page} of {pages}"

    # Labels
    labels: str = "Labels"
    labels_for: str = "Labels: {what}"
    old_banner: str = "DO NOT REFIT"
    old_why: str = "Old parts: new ones were fitted"
    came_off: str = "Came off {day}"
    bag_rows: str = "Rows {first} to {last}"
    bag_row: str = "Row {first}"
    bag_back: str = "Goes back"
    bag_old: str = "Old, a new one goes back"
    rows_word: str = "Rows"
    why_kept: str = "Why"
    spare_banner: str = "KEPT SPARE"
    spare_hours: str = "{hours} since new"
    spare_recorded: str = "{hours} in the record; not known before"
    spare_from: str = "Off engine {engine}, {day}"
    fuel_banner: str = "FUEL MIX"
    fuel_amounts: str = "{litres} l petrol + {oil} ml oil"
    fuel_ratio: str = "{parts} : 1, parts of petrol to one of oil"
    fuel_made: str = "Mixed {day}"
    fuel_danger: str = "Extremely flammable. Keep from flame and spark, closed, in the open air. Not to be swallowed."
    petrol_litres: str = "Petrol, litres"
    oil_millilitres: str = "Oil, ml"
    ratio_word: str = "Ratio"
    made_on: str = "Mixed on"
    mixed_by: str = "By"
    tag_banner: str = "DO NOT START"
    tag_job: str = "{title}, {code} revision {revision}"
    tag_after: str = "Stopped after row {row}"
    tag_open: str = "Off"
    tag_loose: str = "Loose"
    tag_started: str = "Started, not tight"
    tag_whole: str = "Nothing is off or loose; the job is not done."
    tag_by: str = "By {name}, {day}"
    tag_why: str = "Parts are off or loose. It would be wrecked, and may hurt whoever stands by."
    tag_remove: str = "Only who put this tag on takes it off, after the last row and the closing checks."
    tag_wait: str = "Not before the time written here: {why}."
    tag_not_before: str = "Not before (day, time)"
    stopped_row: str = "Stopped after row"
    stopped_job: str = "Job"
    open_items: str = "Off or loose"
    person: str = "By"
    tag_time: str = "Day and time"
    part_word: str = "What"
    hours_run: str = "Hours run"

    # Due board
    due_board: str = "Due board"
    board_rounds: str = "Rounds to come"
    board_no_rounds: str = "club.yaml names no round that is still to come."
    board_now: str = "now"
    board_until: str = "by {day}"
    board_hours: str = "{used} of {allowed} h"
    board_meetings: str = "{used} of {allowed} meetings"
    board_bare: str = "{used} of {allowed}"
    board_unknown: str = "? of {allowed} h"
    board_unrecorded: str = "No record that it was ever done"
    board_key: str = "Black: used up. Heavy line: what is allowed. Ticks: after each round to come."
    board_tags: str = "White on black: over. Heavy frame: due now. The figure: before which round."
    board_all: str = "All engines, what comes first first"
    board_estimates: str = "Trends are estimates. Hours at a meeting are each engine’s own, or the club’s figure."

    # Binder
    binder: str = "Binder"
    binder_one: str = "All for engine {engine}"
    binder_day: str = "Work of {day}"
    binder_note: str = (
        "Print at full size, on both sides, each page on paper of its own size. Every sheet begins on a front page; "
        "pages are counted as in the file, this one being the first."
    )
    binder_all: str = "For all"
    binder_sheet: str = "Sheet"
    binder_number: str = "Number of its first page"
    binder_paper: str = "Paper"
    binder_pages: str = "Pages"
    binder_from: str = "From page"
    binder_total: str = "{sheets} sheets on {pages} pages."
    binder_blank: str = "Blank on purpose: the next sheet begins on a front page."
    contents: str = "Contents"

    # Index of printed sheets
    index: str = "Printed sheets"
    index_skip: str = "Skip to the sheets"
    index_by_engine: str = "By engine"
    index_by_job: str = "By job"
    index_all: str = "For all engines"
    index_readings: str = "Readings"
    index_blank: str = "Blank sets"
    index_due_count: str = "{count} due"
    index_pages: str = "{count} pages"
    index_page: str = "1 page"
    index_made: str = "made for {day}"
    index_total: str = "{total} sheets"
    index_none: str = "Nothing has been printed yet: docgen print --due"
    index_states: dict[str, str] = field(
        default_factory=lambda: table(due="Due", current="Current", superseded="Superseded", unknown="Not compared")
    )
    index_notes: dict[str, str] = field(
        default_factory=lambda: table(
            changed="the instructions have changed since",
            again="it was printed again since",
            filed="signed, and in the record",
            record="the record has gone on since",
        )
    )
    index_meaning: str = (
        "Due: it holds, and the job is due. Current: it holds. Superseded: do not work from it. Not compared: nothing "
        "in it says what it follows from."
    )

    # Safety sheet; `keep` is in our own words, after the precautions of the same tables of CLP
    safety_sheet: str = "Safety sheet"
    safety_title: str = "What is used in this workshop"
    safety_first: str = (
        "The safety data sheet and the label of the product in hand come first, then local rules. Where they differ "
        "from this sheet, this sheet is wrong: have it mended."
    )
    safety_basis: str = (
        "Usual classification of such a product, as the club wrote it down. Standard words and signal words: "
        "Regulation (EC) No 1272/2008 (CLP), from the table named, or from memory where it says so."
    )
    safety_symbols: str = "The symbols are this workshop’s own and are not those of the label."
    safety_emergency: str = "Emergency number"
    safety_poison: str = "Poison centre"
    safety_extinguisher: str = "Extinguisher hangs"
    safety_eyewash: str = "Eye wash stands"
    safety_none: str = "No hazard statement is on record here; the label may say more."
    safety_waste: str = "Waste"
    safety_product: str = "Product"
    safety_dated: str = "Data sheet dated"
    safety_hand: str = "Data sheet kept at"
    safety_used: str = "Also named in the register, with nothing on record: {names}."
    from_memory: str = "from memory"
    own_words: str = "the club’s words"
    hazard_signs: dict[str, str] = field(
        default_factory=lambda: table(
            flame="Burns",
            can="Under pressure",
            mouth="Swallowed",
            skin="Skin",
            eye="Eyes",
            breath="Breathed in",
            long="Harms for life",
            water="Harms waters",
        )
    )
    keep: dict[str, str] = field(
        default_factory=lambda: table(
            flame="No flame, spark, heater or hot part near it, and nobody smokes. Can shut, wet cloths under a lid. "
            "On fire: everybody out, call the fire brigade. Never water on burning fuel.",
            can="Out of the sun and below 50 °C. Do not pierce or burn it, not even when it is empty.",
            mouth="Never siphon with the mouth. Swallowed: make nobody vomit; call the poison centre at once.",
            skin="Gloves that stand up to it. Wash splashes off at once, change soaked clothes. A rash: to a doctor.",
            eye="Eye protection. A splash: rinse with water for many minutes, lenses out, then a doctor.",
            breath="Outdoors or in moving air only. Dizzy: out into fresh air, and tell somebody.",
            long="As little as will do, gloves on, out of the breath. Never for cleaning parts or hands.",
            water="Nothing of it into drain, soil or water. Collect it, rags and all.",
        )
    )

    # The season's wall chart
    season_chart: str = "Season"
    season_title: str = "Which visit before which round"
    season_engine: str = "Engine"
    season_week: str = "Week"
    season_bench: str = "On the bench"
    season_note: str = (
        "Minutes are estimates, of the jobs one by one. What comes up meanwhile comes first: look at the due board."
    )
    season_late: str = "No plan keeps every limit. The first that breaks: {job}, engine {engine}, before {round}."
    season_extra: str = "Too few hours on the bench: {hours} h more are needed before {round}."

    # Glossary
    glossary: str = "Glossary"
    glossary_title: str = "Terms of the trade"
    glossary_note: str = "What the sheets say, in common words. Somebody at the bench knows the rest: ask."
