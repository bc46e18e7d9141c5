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
