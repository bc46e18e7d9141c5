"""What the camera's modules share: pictures in grey as arrays, points, and a place on the paper."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Grey = NDArray[np.uint8]
"""A picture in grey, rows from the top, 0 black to 255 white."""
Points = NDArray[np.float64]
"""Points as rows of x (to the right) and y (down)."""
Level = NDArray[np.float32]
"""How much of something there is at each dot."""
Flags = NDArray[np.bool_]
"""Yes or no, of each dot or each of some points."""


@dataclass(frozen=True)
class Feature:
    """Something on a face that can be told from all else: a corner mark or a code, by the four corners of its outline.

    name   : "top-left" and so on for a mark, "code" for a code
    points : its corners from its own top left one, clockwise as the page is read; in dots of the picture
    turned : whether it may as well lie the other way round
    """

    name: str
    points: Points
    turned: bool = False

    @property
    def middle(self) -> Points:
        """The middle of the outline."""
        return np.asarray(self.points.mean(0))
