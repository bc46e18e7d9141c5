"""Characters that a reader cannot see or would take for others."""

from __future__ import annotations

import sys
import unicodedata

import pytest

from docgen.club.text import look_alike_digit, looks_like_quantity, odd_space, unwanted, without_unwanted

QUANTITIES = "34 N.m +/- 10 %|10 N.m +/- 1 N.m|0.50..0.60 mm|<= 0.10 mm|>= 5 mm"
QUANTITIES += "|24 h|1.10|-5 mm|\u22125 mm|34N.m|5 \u00b1 1 mm"
PROSE = "Fit 3 washers|AL-1123|M10x1 and M6x1|turn it by hand twice|hex 17 mm|12:30|2 off, 3 on|see page 3"


@pytest.mark.parametrize("text", QUANTITIES.split("|"))
def test_quantities_look_like_quantities(text: str) -> None:
    assert looks_like_quantity(text)
    assert look_alike_digit(text) is None
    assert odd_space(text) is None
    if " " in text:
        assert odd_space(text.replace(" ", "\u00a0")) == text.index(" ")
    figure = next(index for index, char in enumerate(text) if char.isdigit())
    assert look_alike_digit(text[:figure] + "\u0663" + text[figure + 1 :]) == figure


@pytest.mark.parametrize("text", PROSE.split("|"))
def test_prose_does_not(text: str) -> None:
    assert not looks_like_quantity(text)
    assert odd_space(text.replace(" ", "\u00a0")) is None


def test_every_decimal_digit_of_unicode_but_ours_is_refused_in_a_number() -> None:
    """Against the Unicode Character Database: general category Nd."""
    digits = [chr(code) for code in range(sys.maxunicode + 1) if unicodedata.category(chr(code)) == "Nd"]
    assert len(digits) > 600
    assert [char for char in digits if look_alike_digit(f"3{char} N.m") is None] == list("0123456789")


ARABIC = "\u0634\u062f {} \u0635\u0648\u0627\u0645\u064a\u0644 \u062b\u0645 \u0646\u0638\u0641"
"""Tighten {} nuts, then clean."""


def test_the_digits_of_a_script_may_stand_in_its_own_text() -> None:
    assert look_alike_digit(ARABIC.format("\u0663")) is None
    assert look_alike_digit(ARABIC.format("\u06633")) == 3
    assert look_alike_digit("\u0663\u0664 \u0646\u064a\u0648\u062a\u0646") == 0
    assert look_alike_digit("Turn it \uff13 times, caf\u00e9") == 8


def test_every_bidirectional_control_and_zero_width_character_of_unicode_is_refused() -> None:
    """Against the Unicode Character Database: category Cf, and the bidirectional classes of embeddings and isolates."""
    classes = {"LRE", "RLE", "LRO", "RLO", "PDF", "LRI", "RLI", "FSI", "PDI"}
    formats = [chr(code) for code in range(sys.maxunicode + 1) if unicodedata.category(chr(code)) == "Cf"]
    controls = [char for char in formats if unicodedata.bidirectional(char) in classes]
    assert len(controls) == 9
    passed = [char for char in formats if not list(unwanted(f"a{char}b"))]
    assert [char for char in controls if char in passed] == []
    # What passes is seen: signs that stand before figures or over letters in scripts that have them.
    assert {unicodedata.name(char).split()[0] for char in passed} <= {"ARABIC", "SYRIAC", "KAITHI", "EGYPTIAN"} | {
        "SHORTHAND",
        "MUSICAL",
    }


def test_every_control_character_but_tab_and_line_end_is_refused() -> None:
    """Against the Unicode Character Database: categories Cc, Zl, Zp and Cs. Line ends are made one before."""
    kinds = {"Cc", "Zl", "Zp", "Cs"}
    controls = [chr(code) for code in range(sys.maxunicode + 1) if unicodedata.category(chr(code)) in kinds]
    assert len(controls) == 65 + 2 + 2048
    assert [char for char in controls if not list(unwanted(char))] == ["\t", "\n"]


def test_joiners_stand_only_between_letters_that_need_them_or_pictographs() -> None:
    assert list(unwanted("\u0645\u06cc\u200c\u062e\u0648\u0627\u0647\u0645 \U0001f469\u200d\U0001f527")) == []
    for text in ("a\u200db", "\u0645\u200c", "\u200d\u0645", "\u0645\u200cb"):
        assert [found.name for found in unwanted(text)] == ["hidden-character"]


def test_what_is_refused_is_what_is_taken_out() -> None:
    text = "a\x00b\u202ec\u200dd\ufffde\u0645\u200c\u0645f"
    assert without_unwanted(text, "_") == "a_b_c_d_e\u0645\u200c\u0645f"
    assert sorted(found.at for found in unwanted(text)) == [1, 3, 5, 7]


def test_a_million_of_them_are_not_all_described() -> None:
    assert len(list(unwanted("\x00" * 1_000_000))) == 100
