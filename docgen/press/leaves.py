"""Two pages side by side on one sheet of paper, to be cut apart: a leaf each for a pouch of half the size.

The pages are laid out, checked and numbered as pages of their own; only then do they share a sheet, with their tags, so
that the file stays archival and accessible.
"""

from __future__ import annotations

from typing import Any

from tinycss2.color5 import parse_color
from weasyprint.anchors import gather_anchors
from weasyprint.document import Document, Page
from weasyprint.draw import draw_page
from weasyprint.matrix import Matrix

MARK, LINE = 4.0, 0.25
"""Length and thickness of a cut mark, mm: it lies within the blank edge that a leaf for a pouch has anyway."""
_PX_PER_MM = 96 / 25.4


class Sheet(Page):  # type: ignore[misc]
    """One or two laid-out pages as one."""

    def __init__(self, left: Page, right: Page | None) -> None:
        super().__init__(left._page_box)
        self._left, self._right = left._page_box, right and right._page_box
        self._middle = left.width
        self.width = 2 * self._middle
        if self._right is not None:
            moved = Matrix(e=self._middle)
            gather_anchors(self._right, self.anchors, self.links, self.bookmarks, self.forms, moved)
            self._page_box = self._left.copy_with_children([*self._left.children, *self._right.children])

    def paint(self, stream: Any, scale: float = 1) -> None:
        """Called by WeasyPrint to draw the sheet."""
        with stream.stacked():
            stream.transform(a=scale, d=scale)
            draw_page(self._left, stream)
            if self._right is not None:
                with stream.stacked():
                    stream.transform(e=self._middle)
                    draw_page(self._right, stream)
                for child in self._right.children:
                    child.translate(self._middle)  # the tags are made next, from where the boxes are
            with stream.artifact():
                self._cut_marks(stream)

    def _cut_marks(self, stream: Any) -> None:
        stream.set_color(parse_color("#000"))
        long, wide = MARK * _PX_PER_MM, LINE * _PX_PER_MM
        for top in (0, self.height - long):
            stream.rectangle(self._middle - wide / 2, top, wide, long)
        stream.fill()


def side_by_side(document: Document) -> Document:
    """The document with its pages two by two on sheets of double width. It must not hold fields.

    Raises ValueError when the pages differ in size.
    """
    if len({(round(page.width), round(page.height)) for page in document.pages}) > 1:
        raise ValueError("pages of different sizes cannot lie side by side")
    pages = [*document.pages, None]
    return document.copy(Sheet(pages[n], pages[n + 1]) for n in range(0, len(document.pages), 2))
