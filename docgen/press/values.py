"""The values of a page: the texts that differ from engine to engine, and the page without them.

A template says of an element that its text is a value by ``data-value``, as its last attribute. Two pages that are
alike but for their values have the same layout as long as each value finds the same room (see ``form``).
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from html import unescape

from docgen.press.meta import Attached, Meta
from docgen.sheets.numbering import Numbers

_VALUE = re.compile(r" data-value>([^<]*)</")


def parted(html: str) -> tuple[str, tuple[str, ...]]:
    """The page without its values, and the values in their order.

    >>> parted('<b>No</b> <i data-value>7&amp;A</i>, <i data-value></i>')
    ('<b>No</b> <i data-value></i>, <i data-value></i>', ('7&A', ''))
    """
    return _VALUE.sub(" data-value></", html), tuple(map(unescape, _VALUE.findall(html)))


@dataclass(frozen=True)
class Filling:
    """What is filled into a laid-out page: its values, what its faces are numbered with, what it says of itself."""

    values: tuple[str, ...]
    numbers: Numbers | None
    meta: Meta
    attachments: tuple[Attached, ...]

    def texts(self, face: int, faces: int) -> Mapping[str, str]:
        """The text of each slot on a face, from 1, by the slot's name (see ``form.Slot``)."""
        found = {str(at): value for at, value in enumerate(self.values)}
        return found | ({"number": self.numbers.texts(face, faces)["number"]} if self.numbers is not None else {})
