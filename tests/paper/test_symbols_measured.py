"""Symbols and drawings stand out, in colour and as a mono printer turns them to grey.

Sources: contrast ratio of 3 for graphics and 4.5 for text (WCAG 2, 1.4.11 and 1.4.3); grey as in Rec. 601.
"""

from __future__ import annotations

import re

import pytest

from docgen.sheets.drawings.art import pictures
from docgen.sheets.drawings.canvas import INK, PAPER, SHADE, TINT
from docgen.sheets.signals import SIGNALS, symbol
from tests.paper.measuring import contrast, luminance
from tools.drawings import gallery

Colour = tuple[float, float, float]


def rgb(text: str) -> Colour:
    digits = text.removeprefix("#")
    digits = "".join(d + d for d in digits) if len(digits) == 3 else digits
    return (int(digits[:2], 16) / 255, int(digits[2:4], 16) / 255, int(digits[4:], 16) / 255)


def grey(colour: Colour) -> Colour:
    return (0.299 * colour[0] + 0.587 * colour[1] + 0.114 * colour[2],) * 3


@pytest.mark.parametrize("word", SIGNALS)
def test_a_signal_panel_s_letters_and_sign_stand_out(word: str) -> None:
    letters, ground = (rgb(colour) for colour in SIGNALS[word])
    assert contrast(luminance(letters), luminance(ground)) >= 4.5
    assert contrast(luminance(grey(letters)), luminance(grey(ground))) >= 4.5


def test_every_drawing_is_ink_on_paper_tint_or_shade() -> None:
    """Which leaves three pairs to judge: ink on paper, on tint and on shade; and shade is told from the other two."""
    html = gallery().html
    drawn = re.findall(r"<svg.*?</svg>", html, re.DOTALL)
    assert len(drawn) > 80
    lines = set(re.findall(r'stroke="([^"]+)"', " ".join(drawn)))
    grounds = set(re.findall(r'fill="([^"]+)"', " ".join(drawn)))
    signals = {colour for pair in SIGNALS.values() for colour in pair}
    assert lines == {INK}
    assert grounds <= {INK, PAPER, TINT, SHADE, "none"} | signals
    for ground in (PAPER, TINT, SHADE):
        assert contrast(luminance(rgb(INK)), luminance(rgb(ground))) >= 4.5
    for one, other in ((PAPER, SHADE), (TINT, SHADE)):
        assert contrast(luminance(rgb(one)), luminance(rgb(other))) >= 1.5


@pytest.mark.parametrize("name", pictures("symbols"))
def test_every_symbol_has_ink_and_says_what_it_is(name: str) -> None:
    svg = symbol(name, "what it is")
    assert INK in re.findall(r'(?:fill|stroke)="([^"]+)"', svg)
    assert re.search(r"<title>.{3,}</title>", svg)
