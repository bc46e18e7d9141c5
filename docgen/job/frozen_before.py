"""Jobs that were frozen before figures were kept as figures: what was printed, read back into bands and quantities.

Such a job holds texts in its own language ("34 N·m ± 10 %"). It is read once, into what jobs hold now; its digests are
those of the texts, since its sheet bears them.
"""

import re
from functools import cache
from typing import Any

from docgen.club.catalogue import ENGLISH
from docgen.club.words import Words
from docgen.job.wording import UNITS, words_of_units
from docgen.trade.quantity import Band, Quantity, QuantityError, parse_band, parse_quantity

_ASCII = {printed: symbol for symbol, printed in UNITS.items()}
_COUNTS = {"revision", "count", "at_most", "minutes", "work_minutes", "wait_minutes", "unproofed", "row", "print"}
_FLAGS = {"by_feel", "critical", "hand_only", "start_all_first", "painted", "if_needed", "cleaning", "sure"}
_AS_TEXT = {"shape", "outline", "components", "component_names", "wear", "last_settings"}
"""Mappings whose values are all text."""
_QUANTITIES = {"takes", "time", "set_to", "cure", "ceiling", "amount"}


def typed(value: Any, key: str = "") -> Any:
    """The data of a frozen file with its counts and flags as they were before they were written down."""
    if isinstance(value, dict):
        if key in _AS_TEXT:
            return value
        step = "text" in value and "key" in value
        return {k: int(v) if step and k == "number" else typed(v, k) for k, v in value.items()}
    if isinstance(value, list):
        return [typed(one) for one in value]
    return int(value) if key in _COUNTS else value == "true" if key in _FLAGS else value


def read(data: dict[str, Any]) -> dict[str, Any]:
    """A job's data as jobs hold it now. data : as :func:`typed` gives it"""
    reader = Printed(Words.speaking(data["instructions"].get("language") or ENGLISH))
    return {**data, "instructions": reader.told(data["instructions"]), "issue": reader.issue(data["issue"])}


class Printed:
    """What was printed in one language, read back."""

    def __init__(self, words: Words) -> None:
        self.w = words

    def told(self, value: Any, key: str = "") -> Any:
        """What lies under a key of the instructions, with every figure in it."""
        if isinstance(value, list):
            return [self.told(one, key) for one in value]
        if isinstance(value, dict):
            return self.holder(value, key)
        if key in _QUANTITIES:
            return str(self.quantity(value))
        return str(self.band(value)) if key in ("also", "stages") else self.unit(value) if key == "unit" else value

    def holder(self, value: dict[str, Any], key: str) -> dict[str, Any]:
        if key in _AS_TEXT:
            return value
        if key in ("value", "new", "allow", "start"):
            return self.figure(value)
        if key == "materials" and (amount := value.get("amount")):
            amounts = [str(self.quantity(text)) for text in amount.split(", ")]
            return {k: v for k, v in value.items() if k != "amount"} | {"amounts": amounts}
        gone = ("minutes", "given", "governs") if "mark" in value or key == "longest_cure" else ("card",)
        made = {k: self.told(v, k) for k, v in value.items() if k not in gone}
        if value.get("mark") == "reading" and "accept" in value:
            made["accept"] = self.accept(value["accept"])
        if value.get("mark") == "torque" and made["value"].get("words") == self.w("fastened and seated"):
            made |= {"catch": True, "value": {"origin": made["value"]["origin"]}}
        return made

    def issue(self, issue: dict[str, Any]) -> dict[str, Any]:
        issue = dict(issue)
        if hours := issue.get("hours"):
            began = _pattern(self.w("{hours} since the record began")).fullmatch(hours)
            issue["hours"] = str(self.quantity(began["hours"] if began else hours))
            issue["since_began"] = began is not None
        if done := _pattern(self.w("{day} at {hours}")).fullmatch(issue.pop("last_done", "")):
            issue["last_done"] = {"on": done["day"], "hours": str(self.quantity(done["hours"]))}
        if "last_settings" in issue:
            issue["last_settings"] = {k: self.noted(v) for k, v in issue["last_settings"].items()}
        if "last_readings" in issue:
            issue["last_readings"] = {k: [self.past(one) for one in v] for k, v in issue["last_readings"].items()}
        return issue

    def past(self, one: dict[str, Any]) -> dict[str, Any]:
        values = [str(self.quantity(text)) for text in one["text"].split(" / ")]
        return {"date": one["date"], "hours": str(self.quantity(one["hours"])), "values": values}

    def noted(self, text: str) -> str:
        """A setting as it was noted: with a decimal point where it is a figure."""
        found = text.replace(self.w.decimal_sign, ".")
        try:
            parse_quantity(found)
        except QuantityError:
            return text
        return found

    def figure(self, value: dict[str, Any]) -> dict[str, Any]:
        text, note, origin = value.get("text", ""), value.get("note", ""), value["origin"]
        found = self.band(text) if isinstance(text, str) else None
        made = {"origin": origin}
        if found is not None:
            made["band"] = str(found)
        elif text:
            made["words"] = text
        if note and origin != "blank" and note != self.w("this engine"):
            made["source"] = note
        return made

    def accept(self, text: str) -> str | dict[str, str] | None:
        if wires := _pattern(self.w("{go} passes, {stop} does not")).fullmatch(text):
            go, stop = (wires[key].replace(self.w.decimal_sign, ".") for key in ("go", "stop"))
            return {"go": f"{go} mm", "stop": f"{stop} mm"}
        band = self.band(text)
        return None if band is None else str(band)

    def quantity(self, text: str) -> Quantity:
        band = self.band(text)
        if band is None or band.low is None:
            raise ValueError(f'"{text}" is no figure that was printed')
        return Quantity(band.low, band.unit)

    def unit(self, printed: str) -> str:
        words = {word: symbol for symbol, word in words_of_units(self.w).items()} | {self.w("turn"): "turn"}
        return _ASCII.get(printed) or words.get(printed, printed)

    def band(self, printed: str) -> Band | None:
        """The band that was printed; None where the text is none."""
        text, w = printed.strip(), self.w
        signs = {"<= {value}": w("at most {value}"), ">= {value}": w("at least {value}")}
        signs["{low}..{high} {unit}"] = w("{low} to {high} {unit}")
        for sign, pattern in signs.items():
            if found := _pattern(pattern).fullmatch(text):
                text = sign.format(**found.groupdict())
                break
        text = re.sub(rf"(?<=\d){re.escape(w.decimal_sign)}(?=\d)", ".", text).replace("±", "+/-")
        text = re.sub(r"(?<=\d)\s*([^\s\d.+/-][^\s\d]*)", lambda found: f" {self.unit(found[1])}", text)
        try:
            return parse_band(text)
        except QuantityError:
            return None


@cache
def _pattern(words: str) -> re.Pattern[str]:
    """What a word of the catalogue looks like when its braces are filled: numbers where numbers go."""
    parts = re.split(r"\{(\w+)\}", words)
    groups = dict.fromkeys(("low", "high", "go", "stop"), r"-?\d[\d.,]*")
    found = [re.escape(part) if n % 2 == 0 else f"(?P<{part}>{groups.get(part, '.+')})" for n, part in enumerate(parts)]
    return re.compile("".join(found))
