"""Characters that text in a club's files must not hold, because a reader would not see what a program reads.

Categories and names of characters are those of the Unicode Character Database (Python's `unicodedata`). The
bidirectional controls are those of Unicode Standard Annex 9, section 2; that they can hide what a text says is
described in Unicode Technical Report 36, section 2.5 (both from memory).
"""

import re
import unicodedata
from collections.abc import Iterator
from itertools import islice
from typing import NamedTuple

CONTROL = re.compile("[\x00-\x08\x0b-\x1f\x7f-\x9f\u2028\u2029\ud800-\udfff\ufdd0-\ufdef]|[\ufffe\uffff]")
"""Characters with no meaning in a text file: controls other than tab and line ends, separators, non-characters."""
BIDI = "\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069"
FILLERS = "\u115f\u1160\u17b4\u17b5\u3164\uffa0"
ZERO_WIDTH = "\u00ad\u034f\u180b-\u180e\u200b\u2060-\u2065\u206a-\u206f\ufeff\ufff9-\ufffb"
HIDDEN = re.compile(f"[{BIDI}{FILLERS}{ZERO_WIDTH}\U000e0000-\U000e0fff]")
"""Characters that cannot be seen: those that turn text round, zero-width ones, fillers and tags."""
JOINER = re.compile("[\u200c\u200d]")
"""Zero-width joiners: needed inside words of some scripts and between pictographs, nowhere else."""
UNSEEN = re.compile(f"{CONTROL.pattern}|{HIDDEN.pattern}")
"""Whatever a reader does not see, and a terminal may obey."""
DAMAGED = "\ufffd"
"""The mark that a program leaves where it could not read a character."""

ODD_SPACE = re.compile(r"[^\S \t\r\n]")
"""A blank that is not the space bar's."""

_NUMBER = r"[+\-\u2212]?\d[\d.,]*"
_UNIT = r"(?:\s*+[^\s\d,;:]{1,12})?"
_RANGE = rf"(?:\s*+(?:\.\.|\u00b1|\+/-)\s*+{_NUMBER}{_UNIT})?"
_QUANTITY = re.compile(rf"\s*+[<>=\u2264\u2265]{{0,2}}\s*+{_NUMBER}{_UNIT}{_RANGE}\s*+")
_MIXED_DIGITS = re.compile(r"[0-9][.,]?(?![0-9])\d|(?![0-9])\d[.,]?[0-9]")
_TECHNICAL = ("LATIN", "FULLWIDTH", "GREEK", "MICRO", "OHM", "KELVIN", "ANGSTROM", "MATHEMATICAL", "DEGREE")


_DELETE = "delete it: select from the character before it to the one after it, and type both again"
_UNSEEN_SAYS = "cannot be seen, so the text is not what it looks like"


class Unwanted(NamedTuple):
    """One character that may not stand in a text: where (from 0), the fault's name, and what to say of it."""

    at: int
    name: str
    message: str
    hint: str


def unwanted(text: str, most: int = 100) -> Iterator[Unwanted]:
    """The control characters, hidden characters and first mark of damage in `text`, in no particular order.

    Of each kind, no more than the first `most`: a hostile file may hold a million.
    """
    joiners = (one for one in JOINER.finditer(text) if not _joins(one))
    for name, why, every in (("control-character", "does not belong in a text file", CONTROL.finditer(text)),
                             ("hidden-character", _UNSEEN_SAYS, HIDDEN.finditer(text)),
                             ("hidden-character", _UNSEEN_SAYS, joiners)):  # fmt: skip
        for found in islice(every, most):
            yield Unwanted(found.start(), name, f"the character {describe(found[0])} {why}", _DELETE)
    if DAMAGED in text:
        message = f"the character {describe(DAMAGED)} stands where another program lost one"
        yield Unwanted(text.index(DAMAGED), "damaged-text", message, "type the character that belongs here")


def hidden_in(text: str) -> str:
    """What is wrong with words that belong on one line, and what to do; empty where nothing is.

    >>> hidden_in("Ada Fenn"), hidden_in("Ada\\tFenn")
    ('', 'the character U+0009 does not belong in it: write it on one line, with spaces')
    """
    broken = next((char for char in text if char in "\t\n\r"), None)
    if broken is not None:
        return f"the character {describe(broken)} does not belong in it: write it on one line, with spaces"
    return next((f"{found.message}: {found.hint}" for found in sorted(unwanted(text))), "")


def without_unwanted(text: str, stand_in: str) -> str:
    """`text`, as long as it was, with `stand_in` (one character) for every character that `unwanted` refuses."""
    text = JOINER.sub(lambda found: found[0] if _joins(found) else stand_in, text)
    return HIDDEN.sub(stand_in, CONTROL.sub(stand_in, text)).replace(DAMAGED, stand_in)


def describe(char: str) -> str:
    """A character by its code point and, where it has one, its Unicode name in small letters."""
    name = unicodedata.name(char, "").lower()
    return f"U+{ord(char):04X}" + (f" ({name})" if name else "")


def looks_like_quantity(text: str) -> bool:
    """Whether `text` has the shape of a number or quantity, in digits of any script: `34 N.m +/- 10 %`, `1.10`."""
    return len(text) <= 80 and _QUANTITY.fullmatch(text) is not None


def look_alike_digit(text: str) -> int | None:
    """Index of the first digit in `text` that is not one of 0 to 9 and could be taken for one; None when all is well.

    Running text in another script may use that script's digits, but a number or quantity, a part number and a number
    that mixes digits of two scripts may not.
    """
    odd = [index for index, char in enumerate(text) if char > "\x7f" and char.isdecimal()]
    if odd and (looks_like_quantity(text) or _MIXED_DIGITS.search(text) or not _in_another_script(text)):
        return odd[0]
    return None


def odd_space(text: str) -> int | None:
    """Index of the first blank in a number or quantity that is not an ordinary space; None when all is well."""
    found = ODD_SPACE.search(text)
    return found.start() if found and looks_like_quantity(text) else None


def _joins(found: re.Match[str]) -> bool:
    """Whether a joiner stands between two characters that are not plain ASCII."""
    text, start, end = found.string, found.start(), found.end()
    return all(char and not char.isascii() for char in (text[start - 1 : start], text[end : end + 1]))


def _in_another_script(text: str) -> bool:
    return any(
        char > "\x7f" and char.isalpha() and not unicodedata.name(char, "").startswith(_TECHNICAL) for char in text
    )
