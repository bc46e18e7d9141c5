"""The XMP packet: title, dates and the claims to be PDF/A-3a (ISO 19005-3) and PDF/UA-1 (ISO 14289-1), in one RDF."""

from __future__ import annotations

from functools import partial
from html import escape as escaped

from docgen.press.meta import CREATOR, Meta

escape = partial(escaped, quote=False)
_UA = "http://www.aiim.org/pdfua/ns/id/"

# PDF/A knows only its own schemas (ISO 19005-3, 6.6.2.3.3), so the PDF/UA one is described in the packet itself.
_EXTENSION = f"""<rdf:Description rdf:about="" xmlns:pdfaExtension="http://www.aiim.org/pdfa/ns/extension/"
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
"""


def _language(text: str) -> str:
    return f'<rdf:Alt><rdf:li xml:lang="x-default">{escape(text)}</rdf:li></rdf:Alt>'


def rdf(meta: Meta, producer: str) -> str:
    """The RDF of one document, saying the same as its information dictionary."""
    lines = [
        f"<dc:title>{_language(meta.title)}</dc:title>",
        f"<dc:creator><rdf:Seq><rdf:li>{escape(meta.author)}</rdf:li></rdf:Seq></dc:creator>" if meta.author else "",
        f"<dc:description>{_language(meta.subject)}</dc:description>" if meta.subject else "",
        f"<dc:language><rdf:Bag><rdf:li>{escape(meta.language)}</rdf:li></rdf:Bag></dc:language>",
        f"<pdf:Keywords>{escape(', '.join(meta.keywords))}</pdf:Keywords>" if meta.keywords else "",
        f"<pdf:Producer>{escape(producer)}</pdf:Producer>",
        f"<xmp:CreatorTool>{CREATOR}</xmp:CreatorTool>",
        f"<xmp:CreateDate>{meta.stamp}</xmp:CreateDate>",
        f"<xmp:ModifyDate>{meta.stamp}</xmp:ModifyDate>",
        "<pdfaid:part>3</pdfaid:part>",
        "<pdfaid:conformance>A</pdfaid:conformance>",
        "<pdfuaid:part>1</pdfuaid:part>",
    ]
    return (
        '<rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#">\n'
        '<rdf:Description rdf:about="" xmlns:dc="http://purl.org/dc/elements/1.1/"'
        ' xmlns:pdf="http://ns.adobe.com/pdf/1.3/" xmlns:xmp="http://ns.adobe.com/xap/1.0/"'
        f' xmlns:pdfaid="http://www.aiim.org/pdfa/ns/id/" xmlns:pdfuaid="{_UA}">\n'
        + "\n".join(line for line in lines if line)
        + f"\n</rdf:Description>\n{_EXTENSION}</rdf:RDF>"
    )
