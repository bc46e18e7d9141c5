"""A bar of what is used up over what is allowed, with the rounds to come marked on it."""

from __future__ import annotations

from collections.abc import Sequence

from docgen.sheets.drawings.canvas import INK, OUTLINE, PAPER, THIN, Canvas

BEYOND = 1.25
"""The right end of the bar, in parts of what is allowed: what is over runs past the limit's line up to here."""


def used_bar(share: float | None, rounds: Sequence[float], width: float, height: float, title: str) -> str:
    """The bar as SVG; ``title`` is read out in its place.

    share  : used over allowed; None where it is not known, which leaves the bar empty but for a dashed edge
    rounds : the same, when each of the coming rounds is over; those within the limit are ticks in the white part
    The limit is a heavy line over the whole height, at 1 of 1.25 of the width.
    """
    canvas = Canvas(width, height, title)
    limit = width / BEYOND
    top, high = height * 0.18, height * 0.64
    if share is None:
        canvas.rectangle(0.15, top, limit - 0.15, high, THIN, PAPER, dash="1.2 0.8")
    else:
        canvas.rectangle(0.15, top, limit - 0.15, high, THIN, PAPER)
        end = min(max(share, 0.0), BEYOND) * limit
        canvas.rectangle(0, top, end, high, 0, INK)
        for at in rounds:
            if max(share, 0.0) + 0.02 < at < 0.985:
                canvas.line((at * limit, top + 0.2), (at * limit, top + high - 0.2), THIN)
        if share > BEYOND:  # the end is cut off with a white slit: there is more than is drawn
            canvas.line((width - 2.2, top), (width - 3.4, top + high), 0)
            canvas.polygon(
                [(width - 2.0, top), (width - 1.2, top), (width - 2.6, top + high), (width - 3.4, top + high)], 0, PAPER
            )
    canvas.line((limit, 0.3), (limit, height - 0.3), OUTLINE * 1.5)
    return canvas.svg()
