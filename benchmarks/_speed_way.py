"""One way of making the same sheets, in a process of its own: _speed_way.py WAY COUNT FOLDER. Prints what it took.

FOLDER holds `orders` (pickled by speed.py for this very run), `contents` (the same sheets as headings, paragraphs and
tables, for typesetters that read no HTML) and `forms`, kept layouts. Writes into FOLDER/made.
"""

from __future__ import annotations

import io
import json
import pickle
import subprocess
import sys
import tempfile
from collections.abc import Callable, Iterator
from html import escape
from importlib import import_module
from itertools import islice
from pathlib import Path
from typing import Any


def kept(folder: Path, count: int) -> Iterator[bytes]:
    """docgen: what was laid out before is filled."""
    from docgen.press.shelf import Shelf
    from docgen.press.workers import printed

    shelf = Shelf(folder / "kept")
    for order in _orders(folder, count):
        yield printed(order, shelf).pdf


def cold(folder: Path, count: int) -> Iterator[bytes]:
    """docgen: nothing is kept; the first is laid out, the others are filled."""
    from docgen.press.shelf import Shelf
    from docgen.press.workers import printed

    shelf = Shelf(folder / f"cold-{count}-{len(list(folder.iterdir()))}")
    for order in _orders(folder, count):
        yield printed(order, shelf).pdf


def plain(folder: Path, count: int) -> Iterator[bytes]:
    """WeasyPrint as its handbook shows it: one call a sheet."""
    import weasyprint

    for order in _orders(folder, count):
        html = order.html.replace("<head>", f"<head><style>{order.css}{order.faces}</style>", 1)
        data: bytes = weasyprint.HTML(string=html).write_pdf(pdf_variant="pdf/ua-1", pdf_forms=True)
        yield data


def chromium(folder: Path, count: int) -> Iterator[bytes]:
    """Chromium without a window, started for each sheet, as its command line prints."""
    page, made = folder / "page.html", folder / "page.pdf"
    with tempfile.TemporaryDirectory() as profile:
        words = ["chromium", "--headless", "--no-sandbox", "--disable-gpu", "--no-pdf-header-footer",
                 f"--user-data-dir={profile}", f"--print-to-pdf={made}", page.as_uri()]  # fmt: skip
        for order in _orders(folder, count):
            page.write_text(order.html.replace("<head>", f"<head><style>{order.css}{order.faces}</style>", 1), "utf-8")
            subprocess.run(words, check=True, capture_output=True)
            yield made.read_bytes()


def _orders(folder: Path, count: int) -> Iterator[Any]:
    """So many orders, read one by one; when they are at their end, from the beginning again."""
    with (folder / "orders").open("rb") as file:
        for _ in range(count):
            try:
                yield pickle.load(file)
            except EOFError:
                file.seek(0)
                yield pickle.load(file)


def typst(folder: Path, count: int) -> Iterator[bytes]:
    """Typst, one compilation a sheet in one process."""
    compiler = import_module("typst")
    fonts = _fonts(folder)["fonts"]
    for blocks in _contents(folder, count):
        source = "\n\n".join(map(_typst, blocks)).encode()
        head = b'#set page("a4", margin: 15mm)\n#set text(font: "Atkinson Hyperlegible", size: 9pt)\n'
        yield compiler.compile(head + source, font_paths=fonts)


def _typst(block: Any) -> str:
    kind, what = block
    if kind == "table":
        cells = ", ".join(f"[#text({json.dumps(cell, ensure_ascii=False)})]" for row in what for cell in row)
        return f"#table(columns: ({', '.join(['1fr'] * len(what[0]))}), {cells})"
    said = f"#text({json.dumps(what, ensure_ascii=False)})"
    return f"= {said}" if kind == "heading" else said


def reportlab(folder: Path, count: int) -> Iterator[bytes]:
    """ReportLab's page templates, one document a sheet."""
    metrics, sheets = import_module("reportlab.pdfbase.pdfmetrics"), import_module("reportlab.platypus")
    face, style = (
        import_module("reportlab.pdfbase.ttfonts").TTFont,
        import_module("reportlab.lib.styles").ParagraphStyle,
    )
    paper = import_module("reportlab.lib.pagesizes").A4
    for name, file in _fonts(folder)["faces"].items():
        metrics.registerFont(face(name, file))
    body = style("body", fontName="Regular", fontSize=9, leading=11)
    head = style("head", fontName="Bold", fontSize=11, leading=14)
    for blocks in _contents(folder, count):
        story = []
        for kind, what in blocks:
            if kind == "table":
                rows = [[sheets.Paragraph(escape(cell), body) for cell in row] for row in what]
                story.append(sheets.Table(rows, style=[("GRID", (0, 0), (-1, -1), 0.5, (0, 0, 0))]))
            else:
                story.append(sheets.Paragraph(escape(what), head if kind == "heading" else body))
        out = io.BytesIO()
        sheets.SimpleDocTemplate(
            out, pagesize=paper, leftMargin=42, rightMargin=42, topMargin=42, bottomMargin=42
        ).build(story)
        yield out.getvalue()


def xelatex(folder: Path, count: int) -> Iterator[bytes]:
    """XeLaTeX, all sheets as one document: what it costs to start is shared by them."""
    face = _fonts(folder)["faces"]
    regular, bold = Path(face["Regular"]), Path(face["Bold"])
    head = (
        "\\documentclass[9pt]{extarticle}\\usepackage[a4paper,margin=15mm]{geometry}\\usepackage{fontspec,array}"
        f"\\setmainfont{{{regular.name}}}[Path={regular.parent}/,BoldFont={bold.name}]"
        "\\pagestyle{empty}\\parindent0pt\\begin{document}\n"
    )
    sheets = ("\n\n".join(map(_latex, blocks)) for blocks in _contents(folder, count))
    with tempfile.TemporaryDirectory() as place:
        source = Path(place, "sheets.tex")
        source.write_text(head + "\\newpage\n".join(sheets) + "\\end{document}\n", "utf-8")
        words = ["xelatex", "-interaction=batchmode", "-halt-on-error", source.name]
        subprocess.run(words, cwd=place, check=True, capture_output=True)
        data = source.with_suffix(".pdf").read_bytes()
    yield from (data[: len(data) // count] for _ in range(count))


_PLAIN = str.maketrans({one: f"\\symbol{{{ord(one)}}}" for one in "\\{}$&#^_%~"})


def _latex(block: Any) -> str:
    kind, what = block
    if kind == "table":
        columns = f"p{{\\dimexpr\\linewidth/{len(what[0])}-2\\tabcolsep-2pt}}|" * len(what[0])
        rows = "".join(" & ".join(cell.translate(_PLAIN) for cell in row) + "\\\\\\hline\n" for row in what)
        return f"\\begin{{tabular}}{{|{columns}}}\\hline\n{rows}\\end{{tabular}}"
    return f"\\section*{{{what.translate(_PLAIN)}}}" if kind == "heading" else what.translate(_PLAIN)


def _fonts(folder: Path) -> Any:
    with (folder / "contents").open(encoding="utf-8") as file:
        return json.loads(next(file))


def _contents(folder: Path, count: int) -> Iterator[Any]:
    with (folder / "contents").open(encoding="utf-8") as file:
        yield from map(json.loads, islice(file, 1, count + 1))


WAYS: dict[str, Callable[[Path, int], Iterator[bytes]]] = {
    one.__name__: one for one in (kept, cold, plain, typst, reportlab, xelatex, chromium)
}


def main(arguments: list[str]) -> int:
    """Make the sheets and write each; print their bytes, in the mean, and the most memory it took, MB (Linux)."""
    way, count, folder = arguments[0], int(arguments[1]), Path(arguments[2])
    total = number = 0
    for data in WAYS[way](folder, count):
        (folder / "made" / f"{way}-{number % 2000}.pdf").write_bytes(data)
        total, number = total + len(data), number + 1
    peak = next(line.split()[1] for line in Path("/proc/self/status").read_text().splitlines() if "VmHWM" in line)
    print(total // number, int(peak) // 1024)
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
