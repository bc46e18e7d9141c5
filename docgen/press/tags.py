"""The tags of a document, and the marks of what they name (ISO 32000-1, 14.6 to 14.8; ISO 14289-1).

WeasyPrint's own tags leave out languages and scopes, number the corners of figures from the top, and name running
heads and feet like any other content. These are built in their place, of the same boxes.
"""

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from itertools import chain
from typing import Any

import pydyf
import weasyprint.pdf
from weasyprint.document import Document
from weasyprint.formatting_structure import boxes
from weasyprint.layout.absolute import AbsolutePlaceholder
from weasyprint.pdf.stream import Stream

from docgen.press.meta import PT_PER_PX

_TAGS = {
    "div": "Div", "a": "Link", "span": "Span", "main": "Part", "article": "Art", "section": "Sect", "p": "P",
    "blockquote": "BlockQuote", "dl": "L", "ul": "L", "ol": "L", "li": "LI", "dt": "LI", "dd": "LI",
    "li::marker": "Lbl", "table": "Table", "thead": "THead", "tbody": "TBody", "tfoot": "TFoot", "tr": "TR", "th": "TH",
    "td": "TD", "img": "Figure", "{http://www.w3.org/2000/svg}svg": "Figure", "caption": "Caption",
    "figcaption": "Caption", **{f"h{level}": f"H{level}" for level in range(1, 7)},
}  # fmt: skip
"""What an element is called as a tag; any other is NonStruct."""
_PAINTS = {b"S", b"s", b"f", b"F", b"f*", b"B", b"B*", b"b", b"b*", b"EI"}
_PAINTS_WITH = (b"TJ", b"Tj", b" Do", b" sh")


def walk(box: Any) -> Iterator[Any]:
    """A box and everything in it, in drawing-tree order."""
    box = box._box if isinstance(box, AbsolutePlaceholder) else box
    yield box
    for child in getattr(box, "children", ()):
        yield from walk(child)


def mark_furniture(document: Document) -> None:
    """Have what stands in running heads and feet drawn as theirs, but for the first paragraph there.

    It is what a foot has to say (whose figures come first), and is read out once, at the end.
    """
    said: list[Any] = []
    for page in document.pages:
        inside = [one for box in page._page_box.children if isinstance(box, boxes.MarginBox) for one in walk(box)]
        if not said and (first := next((box for box in inside if box.element_tag == "p"), None)):
            said = list(walk(first))
        for box in inside:
            if not any(box is one for one in said):
                box.furniture = "/Header" if box.position_y < page.height / 2 else "/Footer"


class _Marked(Stream):  # type: ignore[misc]
    """A page's drawing, each thing in it marked as the content that it is, or as none; blanks are not marked."""

    _within = 0

    @contextmanager
    def marked(self, box: Any, tag: str) -> Iterator[None]:
        """Called by WeasyPrint to draw a text or a picture."""
        number, start, furniture = len(self._tags), len(self.stream), getattr(box, "furniture", None)
        if furniture:
            details = pydyf.Dictionary({"Type": "/Pagination", "Subtype": furniture})
            self.begin_marked_content("Artifact", details)
        else:
            self.begin_marked_content(tag, pydyf.Dictionary({"MCID": number}))
        self._within += 1
        yield
        self._within -= 1
        drawn = (token for token in self.stream[start:] if isinstance(token, bytes))
        if furniture or tag != "Span" or any(token in _PAINTS or token.endswith(_PAINTS_WITH) for token in drawn):
            self.end_marked_content()
            if not furniture:
                self._tags[box] = number
        else:
            del self.stream[start : start + 3]  # colours set within stay: what follows counts on them

    @contextmanager
    def artifact(self) -> Iterator[None]:
        """Called by WeasyPrint to draw what is no content; the rule under a text becomes part of that text."""
        if self._within:
            yield
        else:
            with super().artifact():
                yield


class _Tree:
    """The tag tree of a document in the making; what the feet have to say stands at its end."""

    def __init__(self, pdf: pydyf.PDF, document: Document, _version: object, streams: Sequence[Any]) -> None:
        self.pdf, self.language = pdf, document.metadata.lang
        self.owners: list[tuple[Any, bytes]] = []
        pdf.add_object(root := pydyf.Dictionary({"Type": "/StructTreeRoot", "K": pydyf.Array()}))
        whole = self.add("Document", root)
        numbers, last = pydyf.Array(), pydyf.Array()
        for number, (page, stream) in enumerate(zip(document.pages, streams, strict=True)):
            self.height, self.page, self.marks = page.height, pdf.page_references[number], stream._tags
            self.named: dict[int, bytes] = {}
            for box in page._page_box.children:
                if not isinstance(box, boxes.MarginBox):
                    self.tag(box, whole)
                elif said := [one for one in walk(box) if one.element_tag == "p" and not hasattr(one, "furniture")]:
                    self.tag(said[0], whole)
                    last.append(whole["K"].pop())
            assert len(self.named) == len(self.marks), "what is marked has a tag"
            numbers.extend((number, pydyf.Array(self.named[mark] for mark in sorted(self.named))))
        whole["K"].extend(last)
        for number, (annotation, owner) in enumerate(self.owners, len(document.pages)):
            annotation["StructParent"] = number
            numbers.extend((number, owner))
        pdf.add_object(parents := pydyf.Dictionary({"Nums": numbers}))
        root["ParentTree"] = parents.reference
        pdf.catalog["StructTreeRoot"] = root.reference
        pdf.catalog["ViewerPreferences"] = pydyf.Dictionary({"DisplayDocTitle": "true"})
        pdf.catalog["MarkInfo"] = pydyf.Dictionary({"Marked": "true"})

    def add(self, tag: str, parent: Any) -> Any:
        """A tag at the end of its parent."""
        item = pydyf.Dictionary({"Type": "/StructElem", "S": f"/{tag}", "K": pydyf.Array(), "P": parent.reference})
        if tag != "Document":
            item["Pg"] = self.page
        self.pdf.add_object(item)
        parent["K"].append(item.reference)
        return item

    def tag(self, box: Any, parent: Any) -> None:
        """The tag of a box, and of all in it."""
        box = box._box if isinstance(box, AbsolutePlaceholder) else box
        name, children = box.element_tag or "", getattr(box, "children", ())
        if name in ("html", "body"):
            for child in children:
                self.tag(child, parent)
            return
        tag = _TAGS.get("a" if name.startswith("a:") else name, "NonStruct")
        if tag in ("TD", "TH") and parent["S"] in ("/TD", "/TH"):
            tag = "NonStruct"  # what the library puts between a cell and its content; so with a list's items
        elif tag == "LI" and parent["S"] in ("/LI", "/LBody"):
            tag = "LBody" if parent["S"] == "/LI" else "NonStruct"
        elif tag == "LI" and ("list-item" not in box.style["display"] or box.style["list_style_type"] == "none"):
            parent, tag = self.add("LI", parent), "LBody"
        elif tag == "Table" and box.is_table_wrapper and (table := box.get_wrapped_table()):
            children = [one for child in children for one in (child.children if child is table else [child])]
        item = self.add(tag, parent)
        self._describe(item, box, tag)
        inside = (one.children if isinstance(one, boxes.LineBox) else [one] for one in children)
        for child in chain.from_iterable(inside):
            if not isinstance(child, boxes.TextBox):  # a list in a list belongs to the outer list, not to its item
                self.tag(child, parent if tag == "LI" and child.element_tag in ("ul", "ol") else item)
            elif child in self.marks:
                self._mark(child, item if tag == "Link" or "Lang" in item else self.add("Span", item))
        if isinstance(box, boxes.ReplacedBox) and box in self.marks:
            self._mark(box, item)
        if tag == "LI":
            self._body(item)
        if tag in ("Span", "NonStruct") and not item["K"]:  # it says nothing
            parent["K"].remove(item.reference)
            self.pdf.objects.pop()

    def _describe(self, item: Any, box: Any, tag: str) -> None:
        element = box.element
        if tag == "Figure":
            left, bottom = box.content_box_x(), self.height - box.content_box_y() - box.height
            sides = (left, bottom, left + box.width, bottom + box.height)
            item["A"] = pydyf.Dictionary({"O": "/Layout", "BBox": pydyf.Array(side * PT_PER_PX for side in sides)})
            title = element.findtext("{http://www.w3.org/2000/svg}title")
            item["Alt"] = pydyf.String(element.get("alt") if title is None else title)
        elif tag in ("TH", "TD"):
            told = {"ColSpan": box.colspan, "RowSpan": box.rowspan}
            item["A"] = pydyf.Dictionary({"O": "/Table"} | {key: many for key, many in told.items() if many != 1})
            if tag == "TH":
                item["A"]["Scope"] = "/Row" if element.get("scope") in ("row", "rowgroup") else "/Column"
        elif tag == "Span" and element.get("lang", self.language) != self.language:
            item["Lang"] = pydyf.String(element.get("lang"))
        if box.link_annotation:
            box.link_annotation["Contents"] = pydyf.String(" ".join("".join(element.itertext()).split()))
            self._own(box.link_annotation, item)
        if box.widget_annotation:
            self._own(box.widget_annotation, self.add("Form", item))

    def _own(self, annotation: Any, item: Any) -> None:
        named = pydyf.Dictionary({"Type": "/OBJR", "Obj": annotation.reference, "Pg": self.page})
        self.pdf.add_object(named)
        item["K"].append(named.reference)
        self.owners.append((annotation, item.reference))

    def _mark(self, box: Any, item: Any) -> None:
        item["K"].append(self.marks[box])
        self.named[self.marks[box]] = item.reference

    def _body(self, item: Any) -> None:
        """7.6: what is in a list item is its label or its body."""
        kids = [self.pdf.objects[int(kid.split()[0])] for kid in item["K"]]
        loose = [kid for kid in kids if kid["S"] not in ("/Lbl", "/LBody")]
        if loose:
            at = kids.index(loose[0])
            body = self.add("LBody", item)
            body["K"].extend(kid.reference for kid in loose)
            for kid in loose:
                kid["P"] = body.reference
            item["K"] = pydyf.Array(kid.reference for kid in kids if kid["P"] != body.reference)
            item["K"].insert(at, body.reference)


weasyprint.pdf.Stream, weasyprint.pdf.add_tags = _Marked, _Tree
