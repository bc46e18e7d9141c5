"""From a document in the making to the form that it is written from, and that other values may be filled into."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

import pydyf
from weasyprint.document import Document

from docgen.press.form import Alphabet, Drawing, Form, Slot, text_operators
from docgen.press.meta import PX_PER_MM, Order
from docgen.press.slots import Found, style_key


def form_of(document: Document, pdf: pydyf.PDF, told: Sequence[int], order: Order) -> Form:
    """The form of a drawn document; `told` are the numbers of the objects that tell of it (``metadata.parts_of``).

    A value has a slot where the operators that place and show it are, to the byte, those that the library wrote. One
    that is shown otherwise, wherever it be, is part of the layout.
    """
    count = len(document.pages)
    texts = [order.texts(number, count) for number in range(1, count + 1)]
    alphabets: dict[tuple[object, ...], tuple[int, Alphabet]] = {}
    for page in document.pages:
        for key, letters in getattr(page, "alphabets", {}).items():
            alphabets.setdefault(key, (len(alphabets), letters))
    drawn = []
    for reference, page, mine in zip(pdf.page_references, document.pages, texts, strict=True):
        stream = resolve(pdf, resolve(pdf, reference)["Contents"])
        drawn.append(_tokens(stream, getattr(page, "found", ()), mine, alphabets))
    good = {slot.name for one in drawn for _, _, slot in one.cuts}
    bad = {name for one in drawn for name in one.bad}
    constant, table = _constant(pdf, {*told, *(one.number for one in drawn)})
    return Form(
        constant=constant,
        table=table,
        root=pdf.catalog.reference.decode(),
        drawings=tuple(_drawing(one, good - bad) for one in drawn),
        fixed={
            name: text for name, text in texts[0].items() if name in bad or (name not in good and not text.strip())
        },
        alphabets=tuple(letters for _, letters in alphabets.values()),
        told=tuple(told),
        sizes=sizes_of(document),
    )


def resolve(pdf: pydyf.PDF, reference: bytes) -> Any:
    """The object behind a reference."""
    return pdf.objects[int(reference.split()[0])]


def sizes_of(document: Document) -> tuple[tuple[float, float], ...]:
    """Each page's width and height in mm."""
    return tuple((round(p.width / PX_PER_MM, 3), round(p.height / PX_PER_MM, 3)) for p in document.pages)


@dataclass
class _Tokens:
    """A page's drawing: its operators, where each slot's text is placed and shown, and the values without a slot."""

    number: int
    tokens: list[str]
    cuts: list[tuple[int, int, Slot]]
    bad: set[str]


def _tokens(
    stream: pydyf.Stream, values: Sequence[Found], texts: Mapping[str, str],
    alphabets: Mapping[tuple[object, ...], tuple[int, Alphabet]],
) -> _Tokens:  # fmt: skip
    tokens = [pydyf._to_bytes(token).decode("latin-1") for token in stream.stream]
    places: dict[str, list[int]] = {}
    for at, token in enumerate(tokens):
        if token.endswith(" Tm"):
            places.setdefault(token, []).append(at)
    found = _Tokens(stream.number, tokens, [], set())
    for one in values:
        cut = None
        if one.slot is not None and one.box.text == texts.get(one.name):
            number, letters = alphabets[style_key(one.box.style)]
            slot = replace(one.slot, face=number)
            drawn = text_operators(slot, one.box.text, letters)
            cut = _cut(tokens, places, drawn) if drawn else None
        if cut is None:
            found.bad.add(one.name)
        else:
            found.cuts.append((*cut, slot))
    found.cuts.sort(key=lambda cut: cut[0])
    return found


def _cut(tokens: Sequence[str], places: Mapping[str, list[int]], drawn: tuple[str, str]) -> tuple[int, int] | None:
    found = places.get(drawn[0], [])
    if len(found) != 1:
        return None
    at = found[0] + 1
    if tokens[at].endswith(" Tf"):
        at += 1
    alone = tokens[at + 1] == "ET" or tokens[at + 1].endswith(" Tm")
    return (found[0], at) if tokens[at] == drawn[1] and alone else None


def _drawing(drawn: _Tokens, free: set[str]) -> Drawing:
    """The drawing, parted at the slots of values that may change."""
    pieces, begin, slots = [], 0, []
    before = ""
    for place, show, slot in drawn.cuts:
        if slot.name not in free:
            continue
        slots.append(slot)
        pieces.append(before + "".join(f"{one}\n" for one in drawn.tokens[begin:place]))
        pieces.append("\n" + "".join(f"{one}\n" for one in drawn.tokens[place + 1 : show]))
        before, begin = "\n", show + 1
    pieces.append(before + "\n".join(drawn.tokens[begin:]))
    return Drawing(drawn.number, tuple(slots), tuple(pieces))


def _constant(pdf: pydyf.PDF, differ: set[int]) -> tuple[bytes, tuple[tuple[int, int, int], ...]]:
    """The file's beginning, with all objects that do not differ, and where they lie; the small ones in one stream.

    That stream is one more object than the document has.
    """
    out = [b"%PDF-1.7\n%\xf0\x9f\x96\xa4\n"]
    at = len(out[0])
    table: list[tuple[int, int, int]] = [(0, 0, 0xFFFF)]
    small: list[tuple[int, bytes]] = []
    bundle = len(pdf.objects)
    for item in pdf.objects[1:]:
        if item.number in differ:
            table.append((0, 0, 0))
        elif item.compressible:
            table.append((2, bundle, len(small)))
            small.append((item.number, item.data))
        else:
            table.append((1, at, 0))
            out.append(item.indirect + b"\n")
            at += len(out[-1])
    heads, place = [], 0
    for number, data in small:
        heads.append(f"{number} {place}")
        place += len(data) + 1
    head = " ".join(heads).encode()
    extra = {"Type": "/ObjStm", "N": len(small), "First": len(head) + 1}
    stream = pydyf.Stream([head, *(data for _, data in small)], extra, compress=True)
    out.append(b"%d 0 obj\n%b\nendobj\n" % (bundle, stream.data))
    return b"".join(out), (*table, (1, at, 0))
