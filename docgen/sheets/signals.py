"""Safety messages as printed: signal word, safety-alert symbol, colours; what harms, and the arrow, drawn by us: the
typeface has no such signs.

Source: ANSI Z535.6 and Z535.4: DANGER white on red, WARNING black on orange, CAUTION black on yellow, NOTICE white
italics on blue without the alert symbol; a message stands before its step. The shades are our own, chosen so that
letters on them reach a contrast of 4.5 to 1 in colour and in grey.
"""

import re
from dataclasses import dataclass
from functools import cache

from markupsafe import Markup

from docgen.club.words import Words, message
from docgen.job.job import Message
from docgen.sheets.drawings.art import pictures
from docgen.sheets.drawings.canvas import INK, PAPER, Canvas

SIGNALS = {
    "danger": ("#fff", "#b3111d"),
    "warning": ("#000", "#f58220"),
    "caution": ("#000", "#ffd200"),
    "notice": ("#fff", "#0060a9"),
}
"""Letter colour and ground of each panel."""
SIGNAL_WORDS = {
    "danger": message("DANGER"),
    "warning": message("WARNING"),
    "caution": message("CAUTION"),
    "notice": message("NOTICE"),
}
"""ANSI Z535.6."""


@dataclass(frozen=True)
class Signal:
    """A safety message ready to be set; ``sign`` is empty for a notice, which warns of no injury."""

    kind: str
    word: str
    sign: Markup
    message: Message


def signal(message: Message, words: Words) -> Signal:
    """A safety message with its panel's word and symbol."""
    hurts = message.word != "notice"
    sign = alert(*SIGNALS[message.word], words("safety alert symbol")) if hurts else Markup("")
    return Signal(message.word, words(SIGNAL_WORDS[message.word]), sign, message)


@cache
def hazards() -> dict[str, str]:
    """What harms, by name, and what that is called."""
    return {name: one.title for name, one in pictures("symbols").items() if name not in ("arrow", "alert")}


@cache
def symbol(name: str, title: str, width: float = 20) -> Markup:
    """A picture on a field 20 mm high, filling the box it is put in; `title` is its alternative text."""
    canvas = Canvas(width, 20, title)
    pictures("symbols")[name].draw(canvas)
    return canvas.svg(sized=False)


@cache
def alert(sign: str, ground: str, title: str = "safety alert symbol") -> Markup:
    """The safety-alert symbol: a triangle in the panel's letter colour, its exclamation mark in the panel's colour."""
    colours = {INK: sign, PAPER: ground}
    return Markup(re.sub('(?<=fill=")#[0f]+(?=")', lambda found: colours[found[0]], symbol("alert", title, 22)))
