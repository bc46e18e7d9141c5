"""Content that is not to be read out: running heads and feet, ornaments, blanks (ISO 14289-1, 7.1 and 7.8).

WeasyPrint marks it like any other content, builds tags for it, and leaves some of those tags out of the tree. Here the
marks become artifacts or go, and the tags with them.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pydyf

from docgen.press.marks import tidy
from docgen.press.objects import ORNAMENT, PT_PER_PX, resolve, structure

_SHELLS = ("/Span", "/NonStruct")  # tags that say nothing once they are empty


def hide_furniture(pdf: pydyf.PDF) -> None:
    """Turn running heads, feet and ornaments into artifacts, and drop the tags of blanks.

    A paragraph among them is what a foot has to say (whose figures come first): it is read out once, at the end.
    """
    root = resolve(pdf, pdf.catalog["StructTreeRoot"])
    ornaments = {item.number for item in structure(pdf) if _is_ornament(item)}
    for number in ornaments:
        _cut(pdf, pdf.objects[number])
    linked = set(_linked(pdf, root["K"][0]))
    said = next((item for item in structure(pdf) if item["S"] == "/P" and item.number not in linked), None)
    if said is not None:
        document = resolve(pdf, root["K"][0])
        document["K"].append(said.reference)
        said["P"] = document.reference
        linked.update(_linked(pdf, said.reference))
    artifacts: dict[bytes, dict[int, str]] = {}
    spare: dict[bytes, dict[int, pydyf.Dictionary]] = {}
    for item in list(structure(pdf)):
        marks = [kid for kid in item["K"] if isinstance(kid, int)]
        if item.number not in linked:
            kind = "Layout" if item.number in ornaments else "Pagination"
            artifacts.setdefault(item["Pg"], {}).update(dict.fromkeys(marks, kind))
            item.clear()  # the number stays: the PDF writer miscounts freed objects
        elif item["S"] == "/Span" and len(item["K"]) == len(marks) == 1:
            spare.setdefault(item["Pg"], {})[marks[0]] = item
    parents = resolve(pdf, root["ParentTree"])["Nums"]
    for reference in pdf.page_references:
        page = resolve(pdf, reference)
        mine, blanks = artifacts.get(reference, {}), spare.get(reference, {})
        height = page["MediaBox"][3] / PT_PER_PX
        gone = tidy(resolve(pdf, page["Contents"]), mine, set(blanks), height)
        for mcid in gone:
            _cut(pdf, blanks[mcid])
            blanks[mcid].clear()
        owners = parents[2 * page["StructParents"] + 1]
        for mcid in (*mine, *gone):
            owners[mcid] = "null"
    for item in list(structure(pdf)):
        if item.get("S") in _SHELLS and not item["K"]:
            _cut(pdf, item)
            item.clear()


def _is_ornament(item: pydyf.Dictionary) -> bool:
    return "Alt" in item and item["Alt"].string == ORNAMENT


def _cut(pdf: pydyf.PDF, item: pydyf.Dictionary) -> None:
    """Take a tag out of its parent, and the parent out of its own when it is an empty shell then."""
    parent = resolve(pdf, item["P"])
    if item.reference in parent.get("K", ()):
        parent["K"].remove(item.reference)
        if not parent["K"] and parent.get("S") in _SHELLS:
            _cut(pdf, parent)
            parent.clear()


def _linked(pdf: pydyf.PDF, reference: bytes) -> Iterator[int]:
    item: Any = resolve(pdf, reference)
    yield item.number
    for kid in item.get("K", ()):
        if isinstance(kid, bytes):
            yield from _linked(pdf, kid)
