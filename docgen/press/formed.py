"""From a laid-out document in the making to the form that it leaves behind, to be filled without another layout.

A form is made only when filling it with its own values gives every object, to the byte, as the library made it.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import pydyf
from weasyprint.document import Document

from docgen.press.finish import PRODUCER
from docgen.press.form import Alphabet, Drawing, Form, Part, Slot, shown
from docgen.press.objects import PRINT_FIELD, resolve
from docgen.press.slots import Kept, style_key
from docgen.press.values import Filling
from docgen.press.xmp import rdf


def form_of(
    document: Document, pdf: pydyf.PDF, filling: Filling, sizes: tuple[tuple[float, float], ...]
) -> tuple[Form, bytes] | None:
    """The form of a finished document, just before it is written, and the file that it gives with its own values.

    None where there is something that a form cannot tell.
    """
    faces: list[Kept] = [page.kept for page in document.pages]
    alphabets: dict[tuple[object, ...], tuple[int, Alphabet]] = {}
    for face in faces:
        for key, letters in face.alphabets.items():
            alphabets.setdefault(key, (len(alphabets), letters))
    drawings = []
    sure: dict[str, bool] = {}
    for number, (face, reference) in enumerate(zip(faces, pdf.page_references, strict=True), 1):
        texts = filling.texts(number, len(faces))
        stream = resolve(pdf, resolve(pdf, reference)["Contents"])
        codes = filling.numbers is not None and bool(filling.numbers.codes(number))
        drawing, good, bad = _drawing(stream, codes, face, texts, alphabets)
        drawings.append((drawing, texts))
        for name in good:
            sure.setdefault(name, True)
        for name in bad:
            sure[name] = False
    if not all(sure.get(name, False) for face, texts in drawings for name in texts if not name.isdigit()):
        return None
    free = {name for name, good in sure.items() if good}
    unseen = {str(at) for at, text in enumerate(filling.values) if text.strip() and str(at) not in sure}
    form = _form(pdf, tuple(_only(drawing, free, texts) for drawing, texts in drawings), filling,
                 tuple(letters for _, letters in alphabets.values()), free | unseen, sizes)  # fmt: skip
    parts = form.parts(filling) if form is not None else None
    if form is None or parts is None or not _proved(form, parts, pdf):
        return None
    return form, form.written(parts, filling.meta.identifier)


_Cut = tuple[int, int, Slot]
"""Where in a stream a slot's text is placed and shown."""


@dataclass
class _Tokens:
    number: int
    tokens: list[str]
    cuts: list[_Cut]


def _drawing(
    stream: pydyf.Stream, codes: bool, face: Kept, texts: Mapping[str, str],
    alphabets: Mapping[tuple[object, ...], tuple[int, Alphabet]],
) -> tuple[_Tokens, set[str], set[str]]:  # fmt: skip
    more = stream.stream[-1:] if codes else []
    told = [pydyf._to_bytes(token) for token in (stream.stream[:-1] if codes else stream.stream)]
    stream.stream[:] = [b"\n".join(told), *more]  # in one piece, for what reads it again
    tokens = [token.decode("latin-1") for token in told]
    places: dict[str, list[int]] = {}
    for at, token in enumerate(tokens):
        if token.endswith(" Tm"):
            places.setdefault(token, []).append(at)
    cuts: list[_Cut] = []
    good, bad = set(), set()
    for one in face.found:
        cut = None
        if one.slot is not None and one.box.text == texts.get(one.name):
            number, letters = alphabets[style_key(one.box.style)]
            slot = replace(one.slot, face=number)
            drawn = shown(slot, one.box.text, letters)
            cut = _cut(tokens, places, slot, drawn) if drawn else None
        if cut is None:
            bad.add(one.name)
        else:
            cuts.append(cut)
            good.add(one.name)
    return _Tokens(stream.number, tokens, sorted(cuts, key=lambda one: one[0])), good, bad


def _cut(tokens: Sequence[str], places: Mapping[str, list[int]], slot: Slot, drawn: tuple[str, str]) -> _Cut | None:
    found = places.get(drawn[0], [])
    if len(found) != 1:
        return None
    at = found[0] + 1
    if tokens[at].endswith(" Tf"):
        at += 1
    alone = tokens[at + 1] == "ET" or tokens[at + 1].endswith(" Tm")
    return (found[0], at, slot) if tokens[at] == drawn[1] and alone else None


def _only(drawn: _Tokens, free: set[str], texts: Mapping[str, str]) -> Drawing:
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


def _form(
    pdf: pydyf.PDF, drawings: tuple[Drawing, ...], filling: Filling, alphabets: tuple[Alphabet, ...], free: set[str],
    sizes: tuple[tuple[float, float], ...],
) -> Form | None:  # fmt: skip
    xmp = resolve(pdf, pdf.catalog["Metadata"])
    said = rdf(filling.meta, PRODUCER)
    whole = b"\n".join(xmp.stream).decode()
    packet = whole.partition(said)
    attached = tuple(
        one.number for one in pdf.objects if isinstance(one, pydyf.Stream) and one.extra.get("Type") == "/EmbeddedFile"
    )
    printed = next((one for one in pdf.objects if isinstance(one, pydyf.Dictionary) and _names_print(one)), None)
    named = pydyf.String(filling.meta.identifier).data
    field = printed.data.partition(named) if printed is not None else (b"", b"", b"")
    differ = {*(one.number for one in drawings), xmp.number, *attached}
    differ |= {printed.number} if printed is not None else set()
    if not packet[1] or len(attached) != len(filling.attachments):
        return None
    constant, table = _constant(pdf, differ)
    return Form(
        constant=constant,
        table=table,
        root=pdf.catalog.reference.decode(),
        drawings=drawings,
        fixed={str(at): text for at, text in enumerate(filling.values) if str(at) not in free},
        alphabets=alphabets,
        producer=PRODUCER,
        info=len(table) - 2,
        xmp=xmp.number,
        packet=(packet[0], packet[2]),
        attached=attached,
        printed=printed.number if printed is not None else 0,
        field=(field[0].decode("latin-1"), field[2].decode("latin-1")),
        sizes=sizes,
    )


def _names_print(item: pydyf.Dictionary) -> bool:
    return isinstance(item.get("T"), pydyf.String) and item["T"].string == PRINT_FIELD


def _constant(pdf: pydyf.PDF, differ: set[int]) -> tuple[bytes, tuple[tuple[int, int, int], ...]]:
    """The file's beginning, with all objects that do not differ, and where they lie; the small ones in one stream.

    Two more objects than the document has: what it says of itself, and that stream.
    """
    out = [b"%PDF-1.7\n%\xf0\x9f\x96\xa4\n"]
    at = len(out[0])
    table: list[tuple[int, int, int]] = [(0, 0, 0xFFFF)]
    small: list[tuple[int, bytes]] = []
    bundle = len(pdf.objects) + 1
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
    return b"".join(out), (*table, (0, 0, 0), (1, at, 0))


def _proved(form: Form, parts: Mapping[int, Part], pdf: pydyf.PDF) -> bool:
    """Whether what is filled in is, object by object, what the library made."""
    made = {number: pdf.info if number == form.info else pdf.objects[number] for number in parts}
    return all(
        _raw(made[number]) == (_raw(part) if isinstance(part, pydyf.Stream) else part) for number, part in parts.items()
    )


def _raw(item: pydyf.Object) -> bytes:
    """An object before it is packed."""
    return pydyf.Stream(item.stream, item.extra).data if isinstance(item, pydyf.Stream) else item.data  # type: ignore[no-any-return]
