"""Whether the part that reads photographs is installed."""

from __future__ import annotations

from importlib.util import find_spec

_NEEDED = ("cv2", "numpy", "pillow_heif", "zxingcpp")


def lacking() -> str:
    """What to say where the parts that read pictures are not installed; empty where they are."""
    if all(find_spec(name) is not None for name in _NEEDED):
        return ""
    return "photographs and scans are read by a part that is not installed:  pip install 'docgen[camera]'"
