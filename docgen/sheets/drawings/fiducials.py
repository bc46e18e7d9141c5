"""Corner marks of our own, by which a photographed page is found, turned the right way up and straightened.

A mark is a black square with places for four white dots in two rows: three dots, two side by side, two across, or one,
so that no mark looks like another one turned. All but the one with two across tell their own turning as well. Two marks
in sight therefore say which corners they are and how the page lies. A dot is 2.4 mm wide: more than six points of a
picture with 70 to the inch.
"""

from docgen.sheets.drawings.canvas import INK, PAPER, Canvas
from docgen.sheets.page import Paper

SIZE, EDGE = 10.0, 7.0
"""Side of a mark, and its distance from the paper's edges, mm."""
DOT, APART = 2.4, 4.0
"""How wide a dot is, and how far the places of two neighbours are apart, mm."""
DOTS = {
    "top-left": (1, 1, 1, 0),
    "top-right": (1, 0, 1, 0),
    "bottom-right": (0, 1, 1, 0),
    "bottom-left": (0, 1, 0, 0),
}
"""Where each corner's mark has dots: top left, top right, bottom left, bottom right."""


def fiducials(paper: Paper) -> str:
    """The page's background: its four corner marks and nothing else."""
    canvas = Canvas(paper.width, paper.height, "corner marks for the camera")
    for corner, dots in DOTS.items():
        x = EDGE if corner.endswith("left") else paper.width - EDGE - SIZE
        y = EDGE if corner.startswith("top") else paper.height - EDGE - SIZE
        canvas.rectangle(x, y, SIZE, SIZE, 0, INK)
        for n, dot in enumerate(dots):
            if dot:
                middle = (x + SIZE / 2 + (n % 2 - 0.5) * APART, y + SIZE / 2 + (n // 2 - 0.5) * APART)
                canvas.circle(middle, DOT / 2, 0, PAPER)
    return canvas.svg()
