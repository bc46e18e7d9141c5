"""Safety messages as printed: signal word, safety-alert symbol, colours.

Source: ANSI Z535.6 and Z535.4: DANGER white on red, WARNING black on orange, CAUTION black on yellow, NOTICE white
italics on blue without the alert symbol; a message stands before its step. The shades are our own, chosen so that
letters on them reach a contrast of 4.5 to 1 in colour and in grey.
"""

from __future__ import annotations

from dataclasses import dataclass

from markupsafe import Markup

from docgen.club.words import Words, message
from docgen.job.job import Message
from docgen.sheets.drawings.symbols import alert

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
    sign = "" if message.word == "notice" else alert(*SIGNALS[message.word], words("safety alert symbol"))
    return Signal(message.word, words(SIGNAL_WORDS[message.word]), Markup(sign), message)
