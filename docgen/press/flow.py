"""What stands in a page's flow, for the passes that look at a laid-out page to lay it out again."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any


def flow(box: Any) -> Iterator[Any]:
    """The boxes in the flow of a page, running heads and feet and the insides of fields left out."""
    for child in getattr(box, "children", ()):
        if hasattr(child, "is_in_normal_flow") and child.is_in_normal_flow() and type(child).__name__ != "MarginBox":
            yield child
            if not child.is_input():
                yield from flow(child)
