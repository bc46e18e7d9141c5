"""A fastener's drive is too large or too small for its thread: one of the two is another fastener's."""

import re

from docgen.proof.case import Findings, Typed

SPANS = {"hex": (1.25, 2.1), "hex-socket": (0.45, 0.95), "square": (0.6, 2.0), "plug": (1.0, 1.8)}
"""Width across flats over thread diameter, least and most: ISO 272 with its small series and DIN 475 (from memory), ISO
4762, ISO 7380 and ISO 4026 (from memory), spark plugs of 10 to 14 mm (common practice, no source); with some room."""
_DRIVE = re.compile(r"(hex|hex-socket|square|plug) (\d+(?:\.\d)?) mm")
_THREAD = re.compile(r"M(\d+(?:\.\d)?)x")


def on_model(typed: Typed) -> Findings:
    """One finding at the drive."""
    for name, fastener in typed.model.value.fasteners.items():
        drive, size = _DRIVE.fullmatch(fastener.drive or ""), _THREAD.match(fastener.thread or "")
        if not drive or not size:
            continue
        least, most = SPANS[drive[1]]
        if not least <= float(drive[2]) / float(size[1]) <= most:
            yield typed.finding(
                ("fasteners", name, "drive"), f"{name} is turned with {fastener.drive}, and its thread is"
                f" {fastener.thread}: no such head is usual", "hold a spanner and a gauge to it: one of them is wrong",
            )  # fmt: skip
