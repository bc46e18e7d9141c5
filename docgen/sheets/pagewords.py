"""The words of the pages round the sheets: kit list, mat, labels, board, binder, index. One catalogue with the rest."""

from __future__ import annotations

from dataclasses import dataclass

from docgen.sheets.words import Words


@dataclass(frozen=True)
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
    in_place: str = "Place"
    short: str = "Short"
    for_jobs: str = "For"
    if_all_fail: str = "If all fail"
    whole_containers: str = "Containers"
    containers_of: str = "{count} of {size}"
    as_needed: str = "as needed"
    and_as_needed: str = "and as needed"
    nothing: str = "nothing"
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
    kit_caution: str = "What burns, irritates or poisons is named on each job’s checklist, before its step."

    # Layout mat
    layout_mat: str = "Layout mat"
    mat_box: str = "Parts box"
    mat_order: str = "Lay each piece on its step’s number, in this order. Read backwards, it is the order of refitting."
    back_in: str = "back in {step}"
    stays_off: str = "stays off"
    fate_new: str = "A new one goes back"
    fate_checked: str = "New if its check fails"
    faces: str = "{face} to {towards}"
    beside_mat: str = "Too large for this paper: lay it beside the mat."
    beside_box: str = "Too large for a compartment, lies beside the box:"
    size_of: str = "{width} × {height} mm"
    across: str = "{size} mm across"
    place_for: str = "Place for {name}, {size}"
    places_count: str = "{places} places, {pieces} pieces: all empty before you sign."
    stays_hanging: str = "Undone, but stays where it hangs"
    what_else: str = "What else came off, and in which step"
    mat_page: str = "Mat {page} of {pages}"
    box_page: str = "Box {page} of {pages}"
    join_right: str = "Right half. Cut along the dashed line, and lay this sheet over the left one, mark on mark."
    join_mark: str = "mark for joining"
