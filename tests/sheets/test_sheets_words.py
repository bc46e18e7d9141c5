"""Words and figures: one catalogue, nothing unused in it; doctests of the layer."""

from __future__ import annotations

import doctest
import importlib
from pathlib import Path
from types import SimpleNamespace

import pytest

import docgen.sheets
from docgen.club.words import Words
from docgen.sheets.figures import HARD, figure
from docgen.sheets.jinja import css_string, fill
from tools.wordlist import all_words

SHEETS = Path(docgen.sheets.__file__).parent


def test_a_word_is_said_in_its_place_and_filled() -> None:
    found = {("", "at most {value}"): "höchstens {value}", ("every", "month"): "1 Monat", ("", "month"): "Monat"}
    w = Words("de", found)
    assert w("at most {value}") == "höchstens {value}"
    assert w("at most {value}", value="5 {mm}") == "höchstens 5 {mm}"
    assert (w("month"), w.pgettext("every", "month"), w.pgettext("elsewhere", "month")) == ("Monat", "1 Monat", "month")
    assert (w("in no catalogue"), w("by {text}", text="A")) == ("in no catalogue", "by A")
    with pytest.raises(KeyError, match="value"):
        w("at most {value}", figure="5")


def test_a_template_says_its_words_and_escapes_them() -> None:
    (faults,) = (text for _, text in all_words() if text.startswith("Proofing found {count} faults"))
    w = Words("de", {("", "UNPROOFED"): "R & D", ("", faults): "{count} <Fehler>"})
    filled = fill("unproofed.html.j2", w=w, told=SimpleNamespace(unproofed=2))
    assert filled == '<div class="differs"><b>R &amp; D:</b> 2 &lt;Fehler&gt;</div>'


def test_figures_are_set_in_type() -> None:
    words = Words()
    cases = {
        "34 N.m +/- 10 %": "34_N·m ±_10_%",
        "0.50..0.60 mm": "0.50 to 0.60_mm",
        "<= 0.10 mm": "≤_0.10_mm",
        "thread M6x1 for it": "thread M6×1 for it",
        "25 lbf.ft": "25_lbf·ft",
        "34 N·m ± 10 %": "34_N·m ±_10_%",
        "-1.6..-1.4 mm": "−1.6 to −1.4_mm",
        "2026-03-07 AL-1127": "2026-03-07 AL-1127",
        "no figure here.": "no figure here.",
        "": "",
    }
    assert {text: figure(text, words).replace(HARD, "_") for text in cases} == cases


def test_a_css_string_cannot_be_ended_from_inside() -> None:
    assert css_string('017"; } body {') == '"017\\22 \\3b  \\7d  body \\7b "'


def test_doctests_hold() -> None:
    modules = [path.relative_to(SHEETS).with_suffix("") for path in sorted(SHEETS.rglob("*.py"))]
    tried = 0
    for module in modules:
        name = ".".join(("docgen.sheets", *module.parts)).removesuffix(".__init__")
        result = doctest.testmod(importlib.import_module(name))
        assert result.failed == 0, name
        tried += result.attempted
    assert tried >= 10
