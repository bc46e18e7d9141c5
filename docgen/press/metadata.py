"""What a document says of itself and carries along, as objects of the PDF; they differ from sheet to sheet.

The XMP packet has the same title and dates as the information dictionary, and the claims to be PDF/A-3a (ISO 19005-3)
and PDF/UA-1 (ISO 14289-1), in one RDF.
"""

from hashlib import md5
from html import escape
from importlib.metadata import version
from typing import TypeAlias

import pydyf

from docgen.press.meta import CREATOR, PRINT_FIELD, Attached, Order

Part: TypeAlias = "pydyf.Stream | bytes"
"""An object of the file: a stream, not packed yet, or any other as it is written."""
PRODUCER = f"WeasyPrint {version('weasyprint')}"
READ_ONLY = 1
_UA = "http://www.aiim.org/pdfua/ns/id/"
# PDF/A knows only its own schemas (ISO 19005-3, 6.6.2.3.3), so the PDF/UA one is described in the packet itself.
_PACKET = f"""<?xpacket begin="" id="W5M0MpCehiHzreSzNTczkc9d"?>
<x:xmpmeta xmlns:x="adobe:ns:meta/">
<rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#">
<rdf:Description rdf:about="" xmlns:dc="http://purl.org/dc/elements/1.1/" xmlns:pdf="http://ns.adobe.com/pdf/1.3/"\
 xmlns:xmp="http://ns.adobe.com/xap/1.0/" xmlns:pdfaid="http://www.aiim.org/pdfa/ns/id/" xmlns:pdfuaid="{_UA}">
%s
</rdf:Description>
<rdf:Description rdf:about="" xmlns:pdfaExtension="http://www.aiim.org/pdfa/ns/extension/"
 xmlns:pdfaSchema="http://www.aiim.org/pdfa/ns/schema#" xmlns:pdfaProperty="http://www.aiim.org/pdfa/ns/property#">
<pdfaExtension:schemas><rdf:Bag><rdf:li rdf:parseType="Resource">
<pdfaSchema:schema>PDF/UA identification</pdfaSchema:schema>
<pdfaSchema:namespaceURI>{_UA}</pdfaSchema:namespaceURI>
<pdfaSchema:prefix>pdfuaid</pdfaSchema:prefix>
<pdfaSchema:property><rdf:Seq><rdf:li rdf:parseType="Resource">
<pdfaProperty:name>part</pdfaProperty:name>
<pdfaProperty:valueType>Integer</pdfaProperty:valueType>
<pdfaProperty:category>internal</pdfaProperty:category>
<pdfaProperty:description>Part of ISO 14289 that the file keeps to</pdfaProperty:description>
</rdf:li></rdf:Seq></pdfaSchema:property>
</rdf:li></rdf:Bag></pdfaExtension:schemas>
</rdf:Description>
</rdf:RDF>
</x:xmpmeta>
<?xpacket end="r"?>"""
_ALT = '<rdf:Alt><rdf:li xml:lang="x-default">%s</rdf:li></rdf:Alt>'
_PROPERTIES = (
    ("dc:title", _ALT),
    ("dc:creator", "<rdf:Seq><rdf:li>%s</rdf:li></rdf:Seq>"),
    ("dc:description", _ALT),
    ("dc:language", "<rdf:Bag><rdf:li>%s</rdf:li></rdf:Bag>"),
    *((name, "%s") for name in ("pdf:Keywords", "pdf:Producer", "xmp:CreatorTool", "xmp:CreateDate", "xmp:ModifyDate")),
    *((name, "%s") for name in ("pdfaid:part", "pdfaid:conformance", "pdfuaid:part")),
)


def parts_of(order: Order) -> list[Part]:
    """What an order says of itself: information (ISO 32000-1, 14.3.3), XMP packet, attached files, its print's name.

    The last is a hidden field of forms.
    """
    hidden = {"FT": "/Tx", "T": pydyf.String(PRINT_FIELD), "V": pydyf.String(order.identifier), "Ff": READ_ONLY}
    named: list[Part] = [pydyf.Dictionary(hidden).data] if order.forms else []
    said = {"Producer": PRODUCER, "Title": order.title, "Author": order.author, "Subject": order.subject,
            "Keywords": ", ".join(order.keywords), "Creator": CREATOR}  # fmt: skip
    texts = {key: pydyf.String(text) for key, text in said.items() if text}
    information = pydyf.Dictionary({**texts, "CreationDate": _day(order), "ModDate": _day(order)})
    return [information.data, _packet(order), *(_attached(one, order) for one in order.attachments), *named]


def _packet(order: Order) -> pydyf.Stream:
    stamp = order.created.isoformat(timespec="seconds").replace("+00:00", "Z")
    keywords = ", ".join(order.keywords)
    said = (order.title, order.author, order.subject, order.language, keywords, PRODUCER, CREATOR, stamp, stamp)
    lines = (
        f"<{name}>{form % escape(text, quote=False)}</{name}>"
        for (name, form), text in zip(_PROPERTIES, (*said, "3", "A", "1"), strict=True)
        if text
    )
    return pydyf.Stream([(_PACKET % "\n".join(lines)).encode()], {"Type": "/Metadata", "Subtype": "/XML"})


def _attached(one: Attached, order: Order) -> pydyf.Stream:
    """An attached file (ISO 32000-1, 7.11.4)."""
    told = pydyf.Dictionary({
        "CheckSum": f"<{md5(one.data, usedforsecurity=False).hexdigest()}>",
        "Size": len(one.data),
        "CreationDate": _day(order),
        "ModDate": _day(order),
    })  # fmt: skip
    extra = {"Type": "/EmbeddedFile", "Subtype": "/" + one.media_type.replace("/", "#2f"), "Params": told}
    return pydyf.Stream([one.data], extra)


def _day(order: Order) -> pydyf.String:
    return pydyf.String(f"D:{order.created:%Y%m%d%H%M%S}Z")
