"""Bound documents: each sheet once, on a front page, where the contents say; read back by tools that are not ours."""

from __future__ import annotations

import io
import re
import subprocess
import sys
from collections.abc import Sequence
from pathlib import Path

import pikepdf
import pypdf
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from docgen.press.binding import Section, bind
from docgen.press.meta import Attached, Order, PressError
from docgen.sheets.binder import Where
from tests.press.conftest import META

SIZES = {"A4": (210, 297), "A3": (420, 297), "Letter": (215.9, 279.4)}
CSS = "@page { size: %smm %smm; margin: 10mm } h1 { break-before: page } h1:first-child { break-before: auto }"


def order(name: str, pages: int, size: tuple[float, float]) -> Order:
    body = "".join(
        f'<h1 id="top-{n}">Sheet {name} page {n} of {pages}</h1><p><a href="#top-1">first</a> {name}</p>'
        for n in range(1, pages + 1)
    )
    html = f"<!DOCTYPE html><html lang=en><head><title>{name}</title></head><body>{body}</body></html>"
    attached = (Attached("job.yaml", name.encode(), "application/yaml", "A job"),)
    return Order(key=name, html=html, css=CSS % size, attachments=attached, **META)


def contents(names: Sequence[str], lines: int = 1) -> object:
    def made(starts: Sequence[Where]) -> Order:
        rows = "".join(
            f'<p style="min-height: {lines}mm"><a href="#{start.anchor}">'
            f"{name} begins on {start.page}, {start.pages} pages</a></p>"
            for name, start in zip(names, starts, strict=True)
        )
        html = f"<!DOCTYPE html><html lang=en><head><title>C</title></head><body><h1>Contents</h1>{rows}</body></html>"
        return Order(key="Contents", html=html, css=CSS % SIZES["A4"], **META)

    return made


def blank(size: tuple[float, float]) -> Order:
    html = "<!DOCTYPE html><html lang=en><head><title>B</title></head><body><p>Blank on purpose.</p></body></html>"
    return Order(key="blank", html=html, css=CSS % size, **META)


def bound(sheets: Sequence[tuple[int, str]], lines: int = 1) -> bytes:
    names = [f"S{n}" for n in range(len(sheets))]
    sections = [
        Section(f"Section {name}", f"{name}-", order(name, pages, SIZES[size]))
        for name, (pages, size) in zip(names, sheets, strict=True)
    ]
    return bind(sections, contents(names, lines), blank).pdf  # type: ignore[arg-type]


sheets = st.lists(st.tuples(st.integers(1, 5), st.sampled_from(sorted(SIZES))), min_size=1, max_size=6)


@settings(max_examples=15)
@given(sheets, st.sampled_from([1, 60]))
def test_each_sheet_once_on_a_front_page_where_the_contents_say(plan: list[tuple[int, str]], lines: int) -> None:
    reader = pypdf.PdfReader(io.BytesIO(bound(plan, lines)))
    texts = [page.extract_text() for page in reader.pages]
    whole = "\n".join(texts)
    begins = {name: (int(page), int(count)) for name, page, count in
              re.findall(r"(S\d+) begins on (\d+), (\d+) pages", whole.replace("\n", " "))}  # fmt: skip
    assert list(begins) == [f"S{n}" for n in range(len(plan))]
    for n, (pages, size) in enumerate(plan):
        for at in range(1, pages + 1):
            assert whole.count(f"Sheet S{n} page {at} of {pages}") == 1
        first, count = begins[f"S{n}"]
        assert first % 2 == 1
        assert f"Sheet S{n} page 1 of {pages}" in texts[first - 1]
        assert count == pages
        assert reader.page_labels[first - 1] == f"S{n}-1"
        wide, high = SIZES[size]
        box = reader.pages[first - 1].mediabox
        assert (float(box.width), float(box.height)) == pytest.approx((wide * 72 / 25.4, high * 72 / 25.4), abs=0.1)
        if count % 2:
            assert texts[first - 1 + count].strip() == "Blank on purpose."
            assert reader.page_labels[first - 1 + count] == "–"
            assert reader.pages[first - 1 + count].mediabox == box
    assert len(reader.pages) % 2 == 0
    tops = [one for one in reader.outline if not isinstance(one, list)]
    marks = [(one.title, reader.get_destination_page_number(one)) for one in tops]
    assert marks == [("Contents", 0), *((f"Section S{n}", begins[f"S{n}"][0] - 1) for n in range(len(plan)))]


def test_links_of_the_contents_lead_to_their_sections_and_a_section_s_own_stay_in_it() -> None:
    pdf = pikepdf.open(io.BytesIO(bound([(2, "A4"), (3, "A3")])))
    names = {str(k): v for k, v in zip(*[iter(pdf.Root.Names.Dests.Names)] * 2, strict=True)}
    pages = [page.objgen for page in pdf.pages]

    def targets(number: int) -> list[int]:
        found = []
        for note in pdf.pages[number].get("/Annots", []):
            where = names[str(note.A.D)] if "/A" in note else names[str(note.Dest)]
            found.append(pages.index(where[0].objgen))
        return found

    assert targets(0) == [2, 4]
    assert targets(2) == [2]
    assert targets(5) == [4]


def test_the_whole_is_archival_accessible_and_asks_for_both_sides(tmp_path: Path) -> None:
    data = bound([(1, "A4"), (2, "A3"), (3, "Letter")])
    pdf = pikepdf.open(io.BytesIO(data))
    wishes = pdf.Root.ViewerPreferences
    assert (str(wishes.Duplex), bool(wishes.PickTrayByPDFSize), bool(wishes.DisplayDocTitle)) == (
        "/DuplexFlipLongEdge", True, True,
    )  # fmt: skip
    assert sorted(pdf.attachments) == ["s0-job.yaml", "s1-job.yaml", "s2-job.yaml"]
    assert pdf.attachments["s1-job.yaml"].get_file().read_bytes() == b"S1"
    with pdf.open_metadata() as meta:
        assert (meta["pdfaid:part"], meta["pdfaid:conformance"], meta["pdfuaid:part"]) == ("3", "A", "1")
    (tmp_path / "bound.pdf").write_bytes(data)
    done = subprocess.run(["qpdf", "--check", tmp_path / "bound.pdf"], capture_output=True, check=False)
    assert done.returncode == 0, done.stdout + done.stderr
    checked = subprocess.run(
        [Path(sys.executable).parent / "pdfua", "check", "--format", "json", tmp_path / "bound.pdf"],
        capture_output=True, text=True, check=False,
    )  # fmt: skip
    assert '"severity": "error"' not in checked.stdout, checked.stdout
    assert '"errors": 0' in checked.stdout, checked.stdout + checked.stderr
    assert data == bound([(1, "A4"), (2, "A3"), (3, "Letter")])


def test_every_section_s_faults_are_said_at_once() -> None:
    html = "<html lang=en><body><img src='asset:none' alt='x'></body></html>"
    bad = Order(key="bad", html=html, css=CSS % SIZES["A4"], **META)
    good = order("S1", 1, SIZES["A4"])
    sections = [Section("One", "a-", bad), Section("Two", "b-", good), Section("Three", "c-", bad)]
    with pytest.raises(PressError) as refused:
        bind(sections, contents(["a", "b", "c"]), blank)  # type: ignore[arg-type]
    assert [fault.partition(":")[0] for fault in refused.value.faults] == ["One", "Three"]
