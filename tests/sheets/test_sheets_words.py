"""Words and figures: one catalogue, nothing unused in it; doctests of the layer."""

from __future__ import annotations

import doctest
import importlib
import re
from dataclasses import fields
from pathlib import Path

import docgen.sheets
from docgen.sheets.figures import HARD, figure
from docgen.sheets.jinja import css_string, template_folder
from docgen.sheets.words import Words
from tools.wordlist import word_classes

SHEETS = Path(docgen.sheets.__file__).parent


def test_every_word_passes_through_the_translation() -> None:
    turned = Words.through(lambda context, text: text.upper())
    assert turned.stopped_after == "STOPPED AFTER ROW"
    assert turned.less == "{LARGER} LESS {SMALLER}"
    assert turned.kinds["axial"] == "ALONG THE SHAFT"
    for one in fields(Words):
        assert getattr(turned, one.name) is not None


def test_every_word_is_used() -> None:
    said = {importlib.import_module(kind.__module__).__file__ for kind in word_classes()}
    code = [path.read_text("utf-8") for path in SHEETS.parent.rglob("*.py") if str(path) not in said]
    code += [path.read_text("utf-8") for path in template_folder().glob("*.j2")]
    assert len(code) > 100
    asked = {name for text in code for name in re.findall(r"\b(?:words|w)\.(\w+)", text)}
    names = {one.name for kind in word_classes() for one in fields(kind)} - {"language"}
    assert len(names) > 300
    assert sorted(names - asked) == []


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
