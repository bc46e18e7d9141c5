"""What is wrong in a file: where, what, and what to do about it."""

import re
import unicodedata
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from docgen.club.text import HIDDEN, describe

Level = Literal["error", "note"]

WINDOW = 100
"""Widest piece of a source line shown, in characters."""
MOST_SOURCE = 1000
"""Longest piece of a source line given in `to_json`, in characters."""
MOST_QUOTED = 200
"""Longest text that a message repeats in quotes, in characters."""
_LONG_QUOTE = re.compile(rf'"[^"]{{{MOST_QUOTED},}}"')
CLOSE_ENOUGH = 0.74
"""Least share of letters in common (difflib's ratio) at which a word counts as a slip: two wrong letters in eight."""
AS_LONG = 0.7
"""Least share of the longer one's length that the shorter one has: a word is no slip for a name that holds it."""
WORTH_GUESSING = 5
"""Letters that a misspelt part of a name has at least."""


@dataclass(frozen=True, order=True)
class Problem:
    """One finding in one file.

    `line` and `col` count from 1; line 0 means the file as a whole. `source` is the offending line as it stands in the
    file. `trail` says how it came to this ("clutch-drum went off at line 31").
    """

    path: str
    line: int
    col: int
    name: str
    message: str
    hint: str = ""
    source: str = ""
    level: Level = "error"
    trail: tuple[str, ...] = ()

    def __str__(self) -> str:
        """The finding as text: position, name and message, the source line with a caret, the trail, the hint."""
        where = f"{self.path}:{self.line}:{self.col}" if self.line else self.path
        name = self.name if self.level == "error" else f"{self.name} (note)"
        rows = [visible(f"{where} {name}: {_LONG_QUOTE.sub(_shortened, self.message)}")]
        margin = " " * 4
        if self.line and self.source.strip():
            number = f"{self.line:>4}"
            shown, offset = _excerpt(self.source, self.col)
            margin = " " * len(number)
            rows += [f"{number} | {shown}", f"{margin} | {' ' * offset}^"]
        rows += [f"{margin}   {visible(step)}" for step in self.trail]
        if self.hint:
            rows.append(f"{margin}   to mend: {visible(_LONG_QUOTE.sub(_shortened, self.hint))}")
        return "\n".join(rows)

    def to_json(self) -> dict[str, object]:
        """The finding as plain values, for `--json`."""
        return {
            "path": self.path,
            "line": self.line,
            "col": self.col,
            "level": self.level,
            "name": self.name,
            "message": self.message,
            "hint": self.hint,
            "source": self.source[:MOST_SOURCE],
            "trail": list(self.trail),
        }


def counted(number: int, what: str) -> str:
    """``1 error``, ``3 errors``."""
    return f"{number} {what}{'' if number == 1 else 's'}"


def listing(problems: Iterable[Problem]) -> str:
    """Every problem, and how many there are; empty where there is none."""
    found = list(problems)
    errors = sum(one.level == "error" for one in found)
    count = f"{counted(errors, 'fault')}, {counted(len(found) - errors, 'note')}"
    return "\n".join([*(f"{one}\n" for one in found), count]) if found else ""


def close_name(word: str, known: Iterable[str]) -> str | None:
    """The known name that `word` most likely was meant to be, or None when none is close.

    Case, spaces and underscores count for nothing: `Clutch Nut` is `clutch-nut`. A word that is part of one name only
    stands for it, also misspelt: `nut` is `clutch-nut` where there is no other nut. Noughts may be left off: `17` is
    `017`.
    """
    names = {_plain(name): name for name in sorted(known, reverse=True)}
    wanted = _plain(word[:80])
    if wanted in names:
        return names[wanted]
    if found := _closest(wanted, names):
        return names[found]
    bare = [name for plain, name in names.items() if wanted.isdecimal() and plain.lstrip("0") == wanted.lstrip("0")]
    if len(bare) == 1:
        return bare[0]
    holding = [name for plain, name in names.items() if f"-{wanted}-" in f"-{plain}-"]
    if not holding and len(wanted) >= WORTH_GUESSING:
        holding = [name for plain, name in names.items() if _closest(wanted, plain.split("-"))]
    return holding[0] if len(holding) == 1 else None


def _closest(word: str, names: Iterable[str]) -> str | None:
    near = [one for one in names if AS_LONG * max(len(one), len(word)) <= min(len(one), len(word))]
    from difflib import get_close_matches

    return next(iter(get_close_matches(word, near, n=1, cutoff=CLOSE_ENOUGH)), None)


def did_you_mean(word: str, known: Iterable[str]) -> str:
    """A hint that names the close name, or the few that are possible; empty when there is nothing useful to say."""
    names = sorted(set(known))
    close = close_name(word, names)
    if close is not None:
        foreign = next((char for char in word if char > "\x7f" and char not in close), None)
        return f'did you mean "{close}"?' + (f' ("{foreign}" is {describe(foreign)})' if foreign else "")
    if 0 < len(names) <= 12:
        return "known here: " + ", ".join(names)
    return ""


def alike(word: str, known: Iterable[str]) -> list[str]:
    """The known names that share a word with this one, in the singular or the plural: `output-seal`, `crank-seals`."""
    wanted = {part.removesuffix("s") for part in _plain(word[:80]).split("-")}
    words = {name: {part.removesuffix("s") for part in _plain(name).split("-")} for name in known}
    return sorted(name for name, parts in words.items() if wanted & parts)


def visible(text: str) -> str:
    """`text` with every character that a terminal would hide, obey or turn round written as its code point."""
    return "".join(_visible_char(char) for char in text)


def _shortened(quote: re.Match[str]) -> str:
    return f'{quote[0][:MOST_QUOTED]}..."'


def _plain(name: str) -> str:
    return name.strip().lower().replace("_", "-").replace(" ", "-")


def _visible_char(char: str) -> str:
    if char in " \t" or (char.isprintable() and not HIDDEN.match(char)):
        return " " if char == "\t" else char
    if unicodedata.category(char) == "Zs":
        return " "
    return f"<U+{ord(char):04X}>"


def _width(text: str) -> int:
    """Terminal columns that `text` takes."""
    return sum(
        0 if unicodedata.combining(char) else 2 if unicodedata.east_asian_width(char) in "WF" else 1 for char in text
    )


def _excerpt(source: str, col: int) -> tuple[str, int]:
    """The part of the line round `col`, made safe to print, and how many terminal columns stand before the caret."""
    at = max(0, min(col - 1, len(source)))
    start = max(0, min(at - WINDOW * 2 // 3, len(source) - WINDOW))
    end = start + WINDOW
    before = ("..." if start else "") + visible(source[start:at])
    after = visible(source[at:end]) + ("..." if end < len(source) else "")
    return (before + after).rstrip(), _width(before)


class Unable(Exception):
    """What cannot be done, or is refused: the fault's kebab-case name, what is wrong, what to do."""

    def __init__(self, name: str, message: str, hint: str = "") -> None:
        super().__init__(name, message, hint)  # all of it, so that it comes over from another process
        self.name, self.message, self.hint = name, message, hint

    def __str__(self) -> str:
        return f"{self.name}: {self.message}" + (f"\n  to mend: {self.hint}" if self.hint else "")
