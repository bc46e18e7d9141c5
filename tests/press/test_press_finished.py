"""The finished file, judged by tools that are not ours: qpdf, poppler, pdfua, outloud, pikepdf's reading of ISO rules.

Sources: ISO 32000-1 (PDF), ISO 19005-3 (PDF/A-3), ISO 14289-1 (PDF/UA-1).
"""

from __future__ import annotations

import hashlib
import io
import json
import re
import subprocess
import sys
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import pikepdf
import pytest

from docgen.press.meta import Attached, Pressed
from docgen.press.qr import qr_svg
from tests.press.conftest import PAPER, html, render

BIN = Path(sys.executable).parent
RUNNING = '<header class="run">Engine 007, every page</header>'
CSS = """@page { size: 100mm 140mm; @top-left { content: element(run) }
@bottom-right { content: "page " counter(page) " of " counter(pages) } }
.run { position: running(run) }
img { width: 8mm } figure svg { width: 20mm }"""


BODY = f"""{RUNNING}
<main><h1>Clutch</h1>
<section><h2>Order of work</h2>
<ol><li>Free the lead.</li><li><p>Undo the nut.</p><ul><li>hex 17 mm</li></ul></li></ol>
<p>See <a href="#readings">the readings</a>, or <a href="http://127.0.0.1/">elsewhere</a>, <em>now</em>.</p>
<figure>{qr_svg("NUMBER OF THIS SHEET")}<figcaption>Fig. 1</figcaption></figure>
<p><img src="asset:logo" alt="Sign of the club"></p></section>
<section style="break-before: page"><h2 id="readings">Readings</h2>
<table><caption>Torques</caption>
<thead><tr><th scope="col">Nut</th><th scope="col">N·m</th><th scope="col">Done</th></tr></thead>
<tbody><tr><th scope="row">1</th><td><input name="t1" title="Torque of nut 1"></td>
<td><input type="checkbox" name="d1" title="Nut 1 done"></td></tr>
<tr><th scope="row" rowspan="2">2</th><td><input name="t2" title="Torque of nut 2"></td>
<td><input type="checkbox" name="d2" title="Nut 2 done"></td></tr>
<tr><td colspan="2">again</td></tr></tbody></table>
<p><input name="oil" title="Dry or oiled"> <input type="date" name="on" title="Date"></p>
<p><textarea name="notes" title="Notes"></textarea></p></section></main>"""


@pytest.fixture(scope="module")
def whole() -> Pressed:
    return render(
        html(BODY),
        PAPER + CSS,
        forms=True,
        attachments=(Attached("job.yaml", b"engine: 007\n", "application/yaml", "What this sheet was made from"),),
        drawings={"logo": '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 8 8"><path d="M0 0h8v8z"/></svg>'},
    )


@pytest.fixture
def file(whole: Pressed, tmp_path: Path) -> Path:
    path = tmp_path / "whole.pdf"
    path.write_bytes(whole.pdf)
    return path


@pytest.fixture
def pdf(whole: Pressed) -> Iterator[pikepdf.Pdf]:
    with pikepdf.open(io.BytesIO(whole.pdf)) as document:
        yield document


def test_pages_and_sizes(whole: Pressed) -> None:
    assert (whole.pages, whole.sizes) == (2, ((100.0, 140.0), (100.0, 140.0)))


def test_qpdf_finds_nothing(file: Path, run: Callable[..., str]) -> None:
    assert "No syntax or stream encoding errors found" in run("qpdf", "--check", file)


def test_poppler_reads_the_text_in_order(file: Path, run: Callable[..., str]) -> None:
    text = run("pdftotext", "-layout", file, "-")
    words = text.replace("\f", " ").split()
    assert " ".join(words) == (
        "Engine 007, every page Clutch Order of work 1. Free the lead. 2. Undo the nut. – hex 17 mm "
        "See the readings, or elsewhere, now. Fig. 1 page 1 of 2 "
        "Engine 007, every page Readings Torques Nut N·m Done 1 2 again page 2 of 2"
    )


def test_every_font_is_embedded_and_ours(file: Path, run: Callable[..., str]) -> None:
    rows = [line.split() for line in run("pdffonts", file).splitlines()[2:]]
    assert sorted(row[0].split("+")[1] for row in rows) == ["Body", "Body-Bold", "Body-Italic", "Field"]
    assert {tuple(row[-5:-2]) for row in rows} == {("yes", "yes", "yes")}  # embedded, a subset, with Unicode


def test_pdfua_finds_nothing(file: Path) -> None:
    done = subprocess.run(
        [BIN / "pdfua", "check", "--format", "json", str(file)], capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stdout
    assert '"severity"' not in done.stdout


def test_outloud_finds_nothing(file: Path, tmp_path: Path) -> None:
    report = tmp_path / "report.json"
    subprocess.run([BIN / "outloud", "-q", "--json", report, str(file)], capture_output=True, check=False)
    said = json.loads(report.read_text())
    found = {(one["rule"], one["severity"]) for one in _findings(said)}
    # TAG-003 takes the printed value of a field for text that no tag announces; the field itself announces it.
    assert found - {("TAG-003", "warning")} == set()


def _findings(said: Any) -> Iterator[dict[str, str]]:
    if isinstance(said, dict):
        if "rule" in said and "severity" in said:
            yield said
        for value in said.values():
            yield from _findings(value)
    elif isinstance(said, list):
        for value in said:
            yield from _findings(value)


def test_xmp_claims_both_standards_and_says_what_the_information_says(pdf: pikepdf.Pdf) -> None:
    packet = ElementTree.fromstring(pdf.Root.Metadata.read_bytes())
    ns = {
        "rdf": "http://www.w3.org/1999/02/22-rdf-syntax-ns#",
        "dc": "http://purl.org/dc/elements/1.1/",
        "pdf": "http://ns.adobe.com/pdf/1.3/",
        "xmp": "http://ns.adobe.com/xap/1.0/",
        "a": "http://www.aiim.org/pdfa/ns/id/",
        "ua": "http://www.aiim.org/pdfua/ns/id/",
    }
    assert len(packet.findall("rdf:RDF", ns)) == 1
    said = {
        path: packet.findtext(f".//{path}", namespaces=ns)
        for path in (
            "a:part a:conformance ua:part dc:title/rdf:Alt/rdf:li dc:creator/rdf:Seq/rdf:li "
            "dc:description/rdf:Alt/rdf:li dc:language/rdf:Bag/rdf:li pdf:Keywords xmp:CreatorTool "
            "xmp:CreateDate xmp:ModifyDate pdf:Producer"
        ).split()
    }
    assert said == {
        "a:part": "3",
        "a:conformance": "A",
        "ua:part": "1",
        "dc:title/rdf:Alt/rdf:li": "Clutch service",
        "dc:creator/rdf:Seq/rdf:li": "A. Preparer",
        "dc:description/rdf:Alt/rdf:li": "Engine 007",
        "dc:language/rdf:Bag/rdf:li": "en",
        "pdf:Keywords": "clutch, 007",
        "xmp:CreatorTool": "docgen",
        "xmp:CreateDate": "2026-01-18T12:30:00Z",
        "xmp:ModifyDate": "2026-01-18T12:30:00Z",
        "pdf:Producer": "WeasyPrint 70.0",
    }
    assert {key: str(value) for key, value in pdf.docinfo.items()} == {
        "/Title": "Clutch service",
        "/Author": "A. Preparer",
        "/Subject": "Engine 007",
        "/Keywords": "clutch, 007",
        "/Creator": "docgen",
        "/Producer": "WeasyPrint 70.0",
        "/CreationDate": "D:20260118123000Z",
        "/ModDate": "D:20260118123000Z",
    }


def test_catalogue_entries_that_the_standards_ask_for(pdf: pikepdf.Pdf) -> None:
    root = pdf.Root
    assert str(root.Lang) == "en"
    assert bool(root.MarkInfo.Marked)
    assert bool(root.ViewerPreferences.DisplayDocTitle)
    assert [str(intent.S) for intent in root.OutputIntents] == ["/GTS_PDFA1"]
    assert bytes(pdf.trailer.ID[0]) == b"007-CLU-4-1"
    assert [str(page.obj.Tabs) for page in pdf.pages] == ["/S", "/S"]
    assert "/NeedAppearances" not in root.AcroForm
    assert "/XFA" not in root.AcroForm


def test_nothing_runs_and_no_address_is_in_the_file(pdf: pikepdf.Pdf) -> None:
    text = b"".join(obj.unparse(resolved=True) for obj in pdf.objects if isinstance(obj, pikepdf.Dictionary))
    assert not re.search(rb"/(JavaScript|JS|Launch|SubmitForm|URI|GoToR|OpenAction|AA)\b", text)
    assert b"127.0.0.1" not in text


def test_attachment_is_listed_once_with_dates_and_relationship(pdf: pikepdf.Pdf) -> None:
    (name,) = pdf.attachments
    spec = pdf.attachments[name].obj
    stream = spec.EF.F
    assert (name, str(spec.AFRelationship), str(spec.UF), str(spec.Desc)) == (
        "job.yaml",
        "/Source",
        "job.yaml",
        "What this sheet was made from",
    )
    assert [one.objgen for one in pdf.Root.AF] == [spec.objgen]
    assert str(stream.Subtype) == "/application/yaml"
    assert (str(stream.Params.CreationDate), str(stream.Params.ModDate)) == ("D:20260118123000Z",) * 2
    assert bytes(stream.Params.CheckSum) == hashlib.md5(b"engine: 007\n", usedforsecurity=False).digest()
    assert stream.read_bytes() == b"engine: 007\n"


def _tree(element: pikepdf.Object) -> Any:
    """A tag and what is in it, marks left out."""
    kids = element.get("/K", pikepdf.Array())
    kids = kids if isinstance(kids, pikepdf.Array) else [kids]
    below = [_tree(kid) for kid in kids if isinstance(kid, pikepdf.Dictionary) and "/S" in kid]
    tag = str(element.S)[1:]
    extra = "".join(f" {key[1:]}={element.A[key]}" for key in ("/Scope",) if "/A" in element and key in element.A)
    if "/Alt" in element:
        extra += f" ({element.Alt})"
    below = [one for one in below if one != "Span"]
    return {tag + extra: below} if below else tag + extra


def test_tag_tree(pdf: pikepdf.Pdf) -> None:
    (document,) = pdf.Root.StructTreeRoot.K
    head = ["TH Scope=/Column"] * 3
    field = {"NonStruct": ["Form"]}
    assert _tree(document) == {
        "Document": [
            {
                "Part": [
                    "H1",
                    {
                        "Sect": [
                            "H2",
                            {
                                "L": [
                                    {"LI": ["Lbl", "LBody"]},
                                    {"LI": ["Lbl", {"LBody": ["P"]}]},
                                    {"L": [{"LI": ["Lbl", "LBody"]}]},
                                ]
                            },
                            {"P": ["Link", "NonStruct"]},
                            {
                                "NonStruct": [
                                    {"NonStruct": ["Figure (QR code: NUMBER OF THIS SHEET)"]},
                                    "Caption",
                                ]
                            },
                            {"P": ["Figure (Sign of the club)"]},
                        ]
                    },
                ]
            },
            {
                "Part": [
                    {
                        "Sect": [
                            "H2",
                            {
                                "Table": [
                                    "Caption",
                                    {"THead": [{"TR": head}]},
                                    {
                                        "TBody": [
                                            {"TR": ["TH Scope=/Row", {"TD": [field]}, {"TD": [field]}]},
                                            {"TR": ["TH Scope=/Row", {"TD": [field]}, {"TD": [field]}]},
                                            {"TR": ["TD"]},
                                        ]
                                    },
                                ]
                            },
                            {"P": [field, field]},
                            {"P": [field]},
                        ]
                    },
                ]
            },
        ]
    }


def test_running_heads_are_artifacts(pdf: pikepdf.Pdf) -> None:
    for page in pdf.pages:
        opened = [
            (str(operands[0]), operands[1])
            for operands, operator in pikepdf.parse_content_stream(page)
            if str(operator) == "BDC"
        ]
        furniture = [
            (str(rest.Type), str(rest.get("/Subtype", "")))
            for tag, rest in opened
            if tag == "/Artifact" and "/Type" in rest
        ]
        assert furniture == [("/Pagination", "/Header"), ("/Pagination", "/Footer")]
        marked = [int(rest.MCID) for tag, rest in opened if tag != "/Artifact"]
        parents = pdf.Root.StructTreeRoot.ParentTree.Nums[2 * int(page.obj.StructParents) + 1]
        assert [number for number, owner in enumerate(parents) if owner is not None] == sorted(marked)


def test_figure_outline_is_where_the_figure_is(pdf: pikepdf.Pdf) -> None:
    figures = [
        obj for obj in pdf.objects if isinstance(obj, pikepdf.Dictionary) and obj.get("/S") == pikepdf.Name.Figure
    ]
    boxes = [[round(float(value) * 25.4 / 72, 1) for value in figure.A.BBox] for figure in figures]
    for left, bottom, right, top in boxes:
        assert 10 <= left < right <= 90
        assert 10 <= bottom < top <= 130
    assert [round(box[2] - box[0], 1) for box in boxes] == [20.0, 8.0]


def test_link_stays_inside_and_says_where_it_goes(pdf: pikepdf.Pdf) -> None:
    (link,) = (
        obj for obj in pdf.objects if isinstance(obj, pikepdf.Dictionary) and obj.get("/Subtype") == pikepdf.Name.Link
    )
    assert (str(link.Contents), str(link.Dest), int(link.F)) == ("the readings", "readings", 4)


def test_blanks_have_no_tags_and_a_rule_under_text_belongs_to_it(page: Callable[..., Pressed]) -> None:
    done = page("<h1>A</h1><p><b>b</b> <i>c</i> <u>d</u></p><p><em> </em>e<span><i></i></span></p>")
    with pikepdf.open(io.BytesIO(done.pdf)) as document:
        (root,) = document.Root.StructTreeRoot.K
        assert _tree(root) == {"Document": ["H1", {"P": ["NonStruct", "NonStruct", "NonStruct"]}, "P"]}
        marks = [
            (str(operands[0]) if operands else "", str(operator))
            for operands, operator in pikepdf.parse_content_stream(document.pages[0])
            if str(operator) in ("BDC", "BMC", "EMC")
        ]
        assert marks == [("/Span", "BDC"), ("", "EMC")] * 5
