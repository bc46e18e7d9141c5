"""A document as it was laid out once, with slots that values are filled into: no layout, no printing library.

What is alike for all is kept as the bytes that it has in a file; what differs (the drawing of each page, what the
document says of itself, the attached job) is written anew. A value goes into the text operator that it was laid out
with, in the same subset of the font, inside the same marked content, so that tags and reading order stay as they are.
The widths of its glyphs were told by the library that laid the page out; values are set without kerning and ligatures,
so that each glyph stands by itself.

Nothing is filled where it would look other than laid out: a value with a glyph that was not kept, one that is wider
than its room, one that would move what stands beside it. ``filled`` then gives None, and the page is laid out.
"""

import zlib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property, lru_cache
from hashlib import md5
from itertools import pairwise
from struct import Struct
from typing import Literal

import pydyf

from docgen.press.meta import Order, Pressed
from docgen.press.metadata import Part, parts_of
from docgen.press.qr import codes_drawing

_LITTLE = 60
"""Bytes up to which packing saves nothing."""
CLOSE = 0.01
"""CSS pixels by which two widths may differ that count as the same."""
Side = Literal["start", "end", "middle", "same"]


@dataclass(frozen=True)
class Slot:
    """The place of a value on a page, in CSS pixels.

    name  : the value's place among the page's, or "number" for its face's
    x, y  : where its text begins, on its base line
    width : of the text that it was laid out with
    room  : how wide a text may be
    side  : what stays where it is when the text is of another width; "same" allows no other
    face  : which of the form's alphabets it is set in
    """

    name: str
    x: float
    y: float
    width: float
    room: float
    side: Side
    face: int

    def left(self, width: float) -> float | None:
        """Where a text of some width begins; None where it has no room."""
        if abs(width - self.width) <= CLOSE:
            return self.x
        if self.side == "same" or width > self.room + CLOSE:
            return None
        spare = self.width - width
        return self.x + {"start": 0.0, "middle": spare / 2, "end": spare}[self.side]


Alphabet = Mapping[str, tuple[str, float]]
"""How each character is shown, in the notation of TJ, and how far it advances, in CSS pixels."""


@dataclass(frozen=True)
class Drawing:
    """A page's drawing: object number, its slots in order, and what stands before, within, between and behind them.

    Each slot parts the drawing twice: where its text is placed, and where it is shown.
    """

    number: int
    slots: tuple[Slot, ...]
    pieces: tuple[str, ...]

    @cached_property
    def packed(self) -> tuple[tuple[bytes, bytes], ...]:
        """The pieces as they are, and packed each by itself, so that a value can stand between two of them."""
        raw = [piece.encode("latin-1") for piece in self.pieces]
        return tuple((one, _piece(one)) for one in raw)


def _piece(data: bytes) -> bytes:
    """Data as whole deflate blocks (RFC 1951) that refer to nothing before them; little of it as it is."""
    if len(data) <= _LITTLE:
        return b"\x00%b%b%b" % (len(data).to_bytes(2, "little"), (len(data) ^ 0xFFFF).to_bytes(2, "little"), data)
    packing = zlib.compressobj(6, zlib.DEFLATED, -15)
    return packing.compress(data) + packing.flush(zlib.Z_FULL_FLUSH)


@dataclass(frozen=True)
class Form:
    """The laid-out document.

    constant : the file up to its first part that differs
    table    : where each object lies: kind, place, and generation or index, as in a cross-reference stream
    drawings : of the pages
    fixed    : values that are part of the layout, by their place
    alphabets: see ``Slot.face``
    told     : numbers of the objects that tell of the document (see ``metadata.parts_of``)
    sizes    : of the pages, mm
    """

    constant: bytes
    table: tuple[tuple[int, int, int], ...]
    root: str
    drawings: tuple[Drawing, ...]
    fixed: Mapping[str, str]
    alphabets: tuple[Alphabet, ...]
    told: tuple[int, ...]
    sizes: tuple[tuple[float, float], ...]

    def filled(self, order: Order) -> Pressed | None:
        """An order's document, where it is this one with other values in it; None when they need another layout."""
        texts = [order.texts(face, len(self.drawings)) for face in range(1, len(self.drawings) + 1)]
        if any(texts[0][name] != text for name, text in self.fixed.items()):
            return None
        found: dict[int, Part] = {}
        for face, drawing in enumerate(self.drawings, 1):
            drawn = _drawn(drawing, texts[face - 1], self.alphabets)
            if drawn is None:
                return None
            if order.numbers is not None and (codes := order.numbers.codes(face)):
                last = b"\n" + codes_drawing(codes)
                drawn.append((last, _piece(last)))
            # As RFC 1950 has it: packed blocks that refer to none before them, and a sum over all.
            told = zlib.adler32(b"".join(raw for raw, _ in drawn)).to_bytes(4, "big")
            found[drawing.number] = _stream({}, b"\x78\xda%b\x03\x00%b" % (b"".join(one for _, one in drawn), told))
        found |= zip(self.told, parts_of(order), strict=False)  # a page without a field has none that names its print
        return Pressed(self._written(found, order.identifier), len(self.drawings), self.sizes)

    def _written(self, parts: Mapping[int, Part], identifier: str) -> bytes:
        """The whole file (ISO 32000-1, 7.5.8: its cross-references in a stream)."""
        out, at = [self.constant], len(self.constant)
        rows = bytearray(self._rows)
        for number, part in sorted(parts.items()):
            out.append(b"%d 0 obj\n%b\nendobj\n" % (number, part if isinstance(part, bytes) else _packed(part)))
            rows[_ROW.size * number : _ROW.size * (number + 1)] = _ROW.pack(1, at, 0)
            at += len(out[-1])
        rows += _ROW.pack(1, at, 0)
        told = md5(b"".join(out), usedforsecurity=False).hexdigest()
        table = pydyf.Stream([bytes(rows)], {
            "Type": "/XRef",
            "Index": pydyf.Array((0, len(self.table) + 1)),
            "W": pydyf.Array((1, 4, 2)),
            "Size": len(self.table) + 1,
            "Root": self.root,
            "Info": f"{self.told[0]} 0 R",
            "ID": pydyf.Array((pydyf.String(identifier).data, pydyf.String(told).data)),
        })  # fmt: skip
        out.append(b"%d 0 obj\n%b\nendobj\nstartxref\n%d\n%%%%EOF\n" % (len(self.table), _packed(table), at))
        return b"".join(out)

    @cached_property
    def _rows(self) -> bytes:
        return b"".join(_ROW.pack(*row) for row in self.table)


_ROW = Struct(">BIH")
"""A row of the cross-references: kind, place or object stream, generation or index."""


def _packed(stream: pydyf.Stream) -> bytes:
    return _stream(stream.extra, _deflated(b"\n".join(stream.stream)))


def _stream(extra: Mapping[str, object], body: bytes) -> bytes:
    head = pydyf.Dictionary({**extra, "Filter": "/FlateDecode", "Length": len(body)})
    return b"%b\nstream\n%b\nendstream" % (head.data, body)


@lru_cache(maxsize=8)
def _deflated(data: bytes) -> bytes:
    """Packed, in half the time that the usual level takes; remembered: the sheets of a job carry the same one along."""
    return zlib.compress(data, 4)


def _drawn(
    drawing: Drawing, texts: Mapping[str, str], alphabets: Sequence[Alphabet]
) -> list[tuple[bytes, bytes]] | None:
    pieces = drawing.packed
    out = [pieces[0]]
    for slot, (within, behind) in zip(drawing.slots, list(pairwise(pieces[1:]))[::2], strict=True):
        set_ = text_operators(slot, texts[slot.name], alphabets[slot.face])
        if set_ is None:
            return None
        place, show = (one.encode("latin-1") for one in set_)
        out += [(place, _piece(place)), within, (show, _piece(show)), behind]
    return out


def text_operators(slot: Slot, text: str, alphabet: Alphabet) -> tuple[str, str] | None:
    """The operators that place and show a text in a slot; None where it does not fit."""
    if not text.strip() or "  " in text or text != text.strip() or not alphabet.keys() >= set(text):
        return None
    x = slot.left(sum(alphabet[char][1] for char in text))
    if x is None:
        return None
    stream = pydyf.Stream()
    stream.set_text_matrix(1, 0, 0, -1, x, slot.y)
    glyphs = "<" + "".join(alphabet[char][0] for char in text)
    stream.show_text(glyphs[:-1] if glyphs.endswith("<") else glyphs + ">")
    place, show = stream.stream
    return place.decode(), show.decode()
