"""Check characters."""

from __future__ import annotations

from docgen.trade import checkchar
from tests.trade.published import Published

TITLE = "Check characters"


def rows() -> list[Published]:
    of = "ISO/IEC 7064 example (as printed in python-stdnum's documentation)"
    return [
        Published(
            "MOD 37-36 of A12425GABC1234002", checkchar.check_character("A12425GABC1234002"), "M", "", of, "copy"
        ),
    ]
