"""What was chosen by a measured clearance, such as a shim, held against what the clearance asks for."""

from __future__ import annotations

from docgen.job import marks as m
from docgen.returns.gathered import Gathered
from docgen.trade.chosen import choose
from docgen.trade.errors import TradeError
from docgen.trade.quantity import Quantity, QuantityError, parse_quantity


def sizes(on: Gathered) -> None:
    """A note for each size left that is not the one which old size and first reading ask for."""
    for _, mark in on.marks(m.SettingMark):
        if mark.chosen is not None:
            noted = on.event.get("settings", {}).get(mark.setting, {})
            read = on.event.get("readings_before", {}).get(mark.chosen.limit) or (
                on.event.get("readings", {}).get(mark.chosen.limit, ()))  # fmt: skip
            if {"found", "left"} <= noted.keys() and len(read) == 1:
                _held(on, mark, mark.chosen, [noted["found"], read[0], noted["left"]])


def _held(on: Gathered, mark: m.SettingMark, by: m.ChosenBy, texts: list[str]) -> None:
    try:
        old, clearance, left = (_figure(text) for text in texts)
        asked = choose(old, clearance, by.wanted, by.sizes, by.step, by.thicker)
    except QuantityError:
        return
    except TradeError as error:
        on.say("note", "no-such-size", f"{mark.name}: {error.message}", at=mark.key)
        return
    if left != asked:
        on.say("note", "another-size", f"{mark.name}: {left} was left; {old} and a clearance of {clearance} ask for"
               f" {asked}", "measure the clearance again", mark.key)  # fmt: skip


def _figure(text: str) -> Quantity:
    return parse_quantity(text.partition(",")[0])
