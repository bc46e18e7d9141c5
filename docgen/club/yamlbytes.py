"""From the bytes of a file to text that can be parsed: size, encoding, line ends, and characters nobody can see."""

from dataclasses import dataclass, field
from typing import NamedTuple

from docgen.club.text import DAMAGED, unwanted, without_unwanted

MAX_BYTES = 1 << 20
"""Largest file read: 1 MiB."""
STAND_IN = "_"
"""What takes the place of a character that may not be there, so that the rest can still be checked."""


class Fault(NamedTuple):
    """Something wrong at one place: line and column from 1 (line 0 is the whole file)."""

    line: int
    col: int
    name: str
    message: str
    hint: str


@dataclass
class Source:
    """The text of a file, its lines as they stand in the file, and what was wrong with its characters.

    `text` is what gets parsed; it is as long as the file's text, line by line, so that positions agree.
    """

    text: str
    lines: list[str]
    faults: list[Fault] = field(default_factory=list)


def read_source(content: str | bytes) -> Source:
    """Decode and clean the content of one file. Every fault found is in `faults`; `lines` is empty when it has none."""
    size = len(content) if isinstance(content, bytes) else len(content.encode("utf-8", "surrogatepass"))
    if size > MAX_BYTES:
        message = f"the file is {size} bytes long; the most that is read is {MAX_BYTES}"
        return Source("", [], [Fault(0, 0, "too-large", message, "split it into smaller files")])
    if isinstance(content, bytes) and content.startswith((b"\xff\xfe", b"\xfe\xff")):
        message = "the file is saved as UTF-16, which is not read here: every character takes two bytes in it"
        return Source("", [], [Fault(0, 0, "not-utf-8", message, _SAVE_AS)])
    text, faults = (content, []) if isinstance(content, str) else _decode(content)
    text = text.removeprefix("\ufeff").replace("\r\n", "\n").replace("\r", "\n")
    lines = text.split("\n")
    starts = _line_starts(lines)
    line = 0
    for found in sorted(unwanted(text)):
        while line + 1 < len(starts) and starts[line + 1] <= found.at:
            line += 1
        if not (faults and text[found.at] == DAMAGED):
            faults.append(Fault(line + 1, found.at - starts[line] + 1, found.name, found.message, found.hint))
    return Source(without_unwanted(text, STAND_IN), lines, faults)


def _line_starts(lines: list[str]) -> list[int]:
    starts = [0]
    for line in lines[:-1]:
        starts.append(starts[-1] + len(line) + 1)
    return starts


def _decode(content: bytes) -> tuple[str, list[Fault]]:
    """Text of UTF-8 bytes; where they are not UTF-8, one fault at the first wrong byte, and marks in their place."""
    try:
        return content.decode("utf-8"), []
    except UnicodeDecodeError as error:
        good = content[: error.start].decode("utf-8").removeprefix("\ufeff").replace("\r\n", "\n").replace("\r", "\n")
        byte = content[error.start]
        meant = bytes([byte]).decode("cp1252", "replace")
        guess = f', perhaps meant as "{meant}",' if meant.isprintable() and meant != DAMAGED else ""
        message = f"byte {error.start + 1} of the file (hexadecimal {byte:02X}){guess} is not part of UTF-8 text"
        at = good.count("\n") + 1, len(good) - (good.rfind("\n") + 1) + 1
        return content.decode("utf-8", "replace"), [Fault(*at, "not-utf-8", message, _SAVE_AS)]


_SAVE_AS = "open the file in your text editor and save it again with the encoding UTF-8"
