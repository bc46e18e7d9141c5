"""Blocks as they were laid out for an earlier sheet, for the sheets behind it that have the same ones.

A block is known by its own elements and by all that its layout follows from: the style, the width of its column, the
page's own attributes, the faces and pictures that it names, and the block before it, which CSS may look at (as in
``.block + section``; not further). It is kept as it stands at the origin, to a billionth of a pixel, so that no byte
tells where in which galley it was laid out. Kept in memory only: a box holds what only the library can make.
"""

import gc
from collections import Counter, OrderedDict
from collections.abc import Callable, Hashable, Mapping, Sequence
from typing import Any
from xml.etree.ElementTree import Element, tostring

from weasyprint.layout.absolute import AbsolutePlaceholder

MOST = 800
"""How many blocks are kept, some 150 MB of them; when there are more, the half that was used last stays."""
_DIGITS = 9
Key = tuple[Hashable, ...]


class Blocks:
    """The blocks that this process has laid out, and those of the sheet in hand."""

    def __init__(self) -> None:
        self._kept: OrderedDict[Key, Sequence[Any]] = OrderedDict()
        self._new: dict[Key, Sequence[Any]] = {}

    def boxes(self, keys: Sequence[Key], lay_out: Callable[[Sequence[int]], Mapping[int, Sequence[Any]]]) -> list[Any]:
        """The boxes of all blocks, in their order, for the caller to move and to draw.

        `lay_out` is asked for those that are not known, by their places among the keys.
        """
        self._new = {}
        wanted = [at for at, key in enumerate(keys) if key not in self._kept]
        found = lay_out(wanted) if wanted else {}
        for at in wanted:
            for box in found.get(at, ()):
                box.translate(-box.position_x, -box.position_y)
                _rounded(box)
            self._new[keys[at]] = found.get(at, ())
        return [_copied(box) for key in keys for box in self._new.get(key) or self._known(key)]

    def _known(self, key: Key) -> Sequence[Any]:
        if key in self._kept:
            self._kept.move_to_end(key)
        return self._kept.get(key, ())

    def keep(self) -> None:
        """The sheet in hand is fit to print: keep what was laid out for it."""
        self._kept.update(self._new)
        self._new = {}
        if len(self._kept) > MOST:
            while len(self._kept) > MOST // 2:
                self._kept.popitem(last=False)
            gc.unfreeze()  # what went names itself in circles, and those are looked for among the new only (`render`)
            gc.collect()


BLOCKS = Blocks()


def keys_of(page: Element, blocks: Sequence[Element], follows: Key, css: str, assets: Mapping[str, str]) -> list[Key]:
    """What each of a page's blocks is known by; `follows` is what else their layout follows from."""
    around = (*follows, css, _told(page), _told(next(page.iter("body"))))
    found: list[Key] = []
    seen: Counter[Key] = Counter()
    before: Key = ()
    for block in blocks:
        text = tostring(block, encoding="unicode")
        named = tuple(asset for name, asset in assets.items() if f"asset:{name}" in text or f"asset:{name}" in css)
        key = (*around, before, text, named)
        seen[key] += 1
        found.append((*key, seen[key]))  # two that are alike on one sheet have elements of their own
        before = _told(block)
    return found


def _told(element: Element) -> Key:
    return (element.tag, *sorted(element.attrib.items()))


def _rounded(box: Any) -> None:
    box.position_y = round(box.position_y, _DIGITS)
    if isinstance(box.height, float):
        box.height = round(box.height, _DIGITS)
    for child in box.all_children():
        _rounded(child)


def _copied(box: Any) -> Any:
    """A box and all in it, anew but for what neither moving nor drawing it changes."""
    if isinstance(box, AbsolutePlaceholder):
        box = box._box
    new = box.copy()
    new.children = [_copied(child) for child in box.children]
    if hasattr(box, "column_groups"):
        new.column_groups = [_copied(group) for group in box.column_groups]
    return new
