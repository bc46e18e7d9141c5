"""What a picture of a sheet comes to: plain data, which needs none of the libraries for pictures."""

from collections.abc import Mapping
from dataclasses import dataclass
from importlib.util import find_spec
from typing import Literal

State = Literal["ticked", "empty", "unclear"]
"""Of a tick box. Unclear is whatever cannot be confirmed: it is for a person."""
ENDINGS = {"jpg": "jpg", "jpeg": "jpg", "png": "png", "webp": "webp", "heic": "heic", "heif": "heic", "tif": "tif",
           "tiff": "tif"}  # fmt: skip
"""How the names of pictures end, and how that of the one that is kept ends."""
_NEEDED = ("cv2", "numpy", "pillow_heif", "zxingcpp")


def lacking() -> str:
    """What to say where the parts that read pictures are not installed; empty where they are."""
    if all(find_spec(name) is not None for name in _NEEDED):
        return ""
    return "photographs and scans are read by a part that is not installed:  pip install 'docgen[camera]'"


@dataclass(frozen=True)
class Glimpse:
    """What is seen of a picture before it is known what sheet it shows: its codes' texts, how many corner marks."""

    codes: tuple[str, ...]
    marks: int


@dataclass(frozen=True)
class Shown:
    """One face as a picture shows it.

    ticks : each tick box's state, by its field's name
    good  : from 0 to 1, how well it shows the page; ``dots`` of the picture to a millimetre of it
    jpeg  : the page straightened, as a person is shown it
    """

    page: int
    ticks: Mapping[str, State]
    good: float
    dots: float
    jpeg: bytes
