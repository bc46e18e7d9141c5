"""How much of a processor a printed sheet costs, beside general typesetters; and what a change costs, or none.

Usage: python benchmarks/speed.py [--large]
Typesetters that are no part of this project are measured where DOCGEN_PEERS names a Python that has them.

Sign-off sheets, each of another engine: the demo's clutch service with random figures in its values. Ours are made from
the page and its style (HTML, CSS), the others' from the same words, headings and table cells, drawn plainly; none reads
a club. Each way runs in a process of its own, start and imports counted; ways are interleaved, three rounds, medians.
Figures are CPU time, user and system, of the process and its children: ratios within one run can be trusted, absolutes
only on this machine. Then the demo and a large club (--large: 1,000 engines, 2,000 sheets) by the command line.
docs/speed.md is what it prints.
"""

from __future__ import annotations

import json
import os
import pickle
import platform
import random
import resource
import shutil
import statistics
import subprocess
import sys
import tempfile
from dataclasses import replace
from datetime import date
from importlib.resources import files
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parents[1]
sys.path.insert(0, str(ROOT))

from benchmarks.due_scale import big_club  # noqa: E402
from docgen.club.read import read_club  # noqa: E402
from docgen.job.number import SIGNOFF, SheetNumber  # noqa: E402
from docgen.job.resolve import resolve  # noqa: E402
from docgen.press.fetch import SealedFetcher  # noqa: E402
from docgen.press.orders import order  # noqa: E402
from docgen.press.page import Page  # noqa: E402
from docgen.press.shelf import PLACE, Shelf  # noqa: E402
from docgen.press.workers import Order, printed  # noqa: E402
from docgen.sheets.signoff import signoff  # noqa: E402
from tests.press.filled import with_values  # noqa: E402

DAY = date(2027, 2, 20)
ROUNDS = 3
COUNTS = {
    "kept": (1, 20, 200, 2000),
    "cold": (1, 20, 200, 2000),
    "plain": (1, 20),
    "typst": (1, 20, 200),
    "reportlab": (1, 20, 200),
}
"""What is run; the plain loop costs the same for each sheet, so twenty tell what two hundred would."""
PEERS = ("typst", "reportlab")
TWIN = os.environ | {"PYTHONPATH": str(ROOT)}
DOCGEN = [sys.executable, "-c", "from docgen.cli import main; main()"]


def spent(command: list[str], **more: Any) -> tuple[float, str]:
    """CPU seconds of a process with its children, and what it printed."""
    with tempfile.TemporaryFile() as out:
        process = subprocess.Popen(
            command, stdout=out, env={k: v for k, v in TWIN.items() if k != "PYTHONDONTWRITEBYTECODE"}, **more
        )
        _, status, used = os.wait4(process.pid, 0)
        out.seek(0)
        said = out.read().decode()
    if status:
        raise RuntimeError(f"{command} ended with {status}")
    return used.ru_utime + used.ru_stime, said


def make_orders(count: int) -> list[Order]:
    """The same sheet of so many engines."""
    folder = read_club(ROOT)
    job = resolve(folder, folder.engines["017"], folder.procedures["clutch-service"], DAY)
    first = order("speed", signoff(job, folder.club.value), job, folder.club.value.club, forms=True)
    chance = random.Random(1)
    made = []
    for n in range(count):
        number = SheetNumber(f"{n:03}", "CLU", 6, 1, SIGNOFF)
        other = with_values(
            first, lambda text: "".join(str(chance.randrange(10)) if char.isdigit() else char for char in text)
        )
        assert first.numbers is not None
        meta = replace(first.meta, identifier=number.body, subject=number.body)
        job_file = replace(first.attachments[0], data=first.attachments[0].data.replace(b"017", b"%03d" % n))
        numbers = replace(first.numbers, number=number)
        made.append(replace(other, key=str(n), meta=meta, numbers=numbers, attachments=(job_file,)))
    return made


def contents(made: Order) -> list[tuple[str, Any]]:
    """The sheet's words as headings, paragraphs and tables, in reading order."""
    body = Page(made.html, SealedFetcher(assets=made.assets)).etree_element.find("body")
    assert body is not None
    return [block for child in body for block in _blocks(child)]


def _blocks(element: Any) -> Any:
    text = " ".join("".join(element.itertext()).split())
    if element.tag == "table":
        rows = [[" ".join("".join(cell.itertext()).split()) for cell in row] for row in element.iter("tr")]
        wide = max(map(len, rows))
        yield "table", [row + [""] * (wide - len(row)) for row in rows]
    elif element.tag in ("h1", "h2"):
        yield "heading", text
    elif element.tag in ("section", "div") and len(element):
        for child in element:
            yield from _blocks(child)
    elif text:
        yield "paragraph", text


def sheets() -> dict[tuple[str, int], float]:
    """CPU seconds of each way at each count, the medians; printed as a table."""
    found: dict[tuple[str, int], list[float]] = {}
    sizes: dict[str, list[str]] = {}
    peers = os.environ.get("DOCGEN_PEERS", "")
    with tempfile.TemporaryDirectory() as place:
        folder = Path(place)
        (folder / "made").mkdir()
        orders = make_orders(max(map(max, COUNTS.values())))
        (folder / "orders").write_bytes(b"".join(map(pickle.dumps, orders)))
        face = Path(str(files("fontpkg_atkinson_hyperlegible").joinpath("files")))
        faces = {name: str(face / f"AtkinsonHyperlegible-{name}.ttf") for name in ("Regular", "Bold")}
        told = [{"fonts": [str(face)], "faces": faces}, *(contents(one) for one in orders[:200])]
        (folder / "contents").write_text("\n".join(map(json.dumps, told)), "utf-8")
        printed(orders[0], Shelf(folder / "kept"))
        ways = [way for way in COUNTS if way not in PEERS or peers]
        for turn in range(ROUNDS):
            for count in sorted({n for numbers in COUNTS.values() for n in numbers}):
                for way in ways[turn:] + ways[:turn]:
                    if count in COUNTS[way] and (count <= 200 or turn == 0):
                        python = peers if way in PEERS else sys.executable
                        script = str(ROOT / "benchmarks" / "_speed_way.py")
                        used, said = spent([python, script, way, str(count), str(folder)])
                        found.setdefault((way, count), []).append(used)
                        sizes[way] = said.split()
    counts = sorted({count for _, count in found})
    print("| way | " + " | ".join(f"{count:,}" for count in counts) + " | bytes a sheet | peak MB |")
    print("|---|" + "---|" * (len(counts) + 2))
    for way in ways:
        cells = [_cell(found.get((way, count)), count) for count in counts]
        print(f"| {way} | {' | '.join(cells)} | {int(sizes[way][0]):,} | {sizes[way][1]} |")
    return {key: statistics.median(each) / key[1] for key, each in found.items()}


def _cell(seconds: list[float] | None, count: int) -> str:
    if not seconds:
        return ""
    each = [1000 * one / count for one in seconds]
    spread = f" ({min(each):.0f} to {max(each):.0f})" if len(each) > 1 else ""
    return f"{statistics.median(each):.1f} ms{spread}"


def demo() -> dict[str, float]:
    """What the commands cost on the demo, CPU seconds."""
    told: dict[str, float] = {}
    with tempfile.TemporaryDirectory() as place:
        root = Path(place)
        for name in ("procedures", "models", "engines", "shared"):
            if (ROOT / name).is_dir():
                shutil.copytree(ROOT / name, root / name, ignore=shutil.ignore_patterns("issued"))
        for name in ("club.yaml", "glossary.yaml"):
            shutil.copy(ROOT / name, root)
        words = [*DOCGEN, "--club", str(root)]
        due = [*words, "print", "--due", "--on", str(DAY)]
        told["help"] = min(spent([*DOCGEN, "--help"])[0] for _ in range(ROUNDS))
        spent([*words, "due", "--on", str(DAY)])
        told["due"] = min(spent([*words, "due", "--on", str(DAY)])[0] for _ in range(ROUNDS))
        told["demo cold"] = spent([*due, "--processes", "1"])[0]
        told["demo, no change"] = min(spent(due)[0] for _ in range(ROUNDS))
        kept = root / "out" / PLACE
        shutil.move(kept, root / "forms")
        shutil.rmtree(root / "out")
        kept.parent.mkdir(parents=True)
        shutil.move(root / "forms", kept)
        told["demo kept"] = spent([*due, "--processes", "1"])[0]
        path = root / "engines/017/engine.yaml"
        path.write_text(path.read_text("utf-8").replace("keeper: ", "keeper: A. "), "utf-8")
        told["demo, one engine changed"] = spent(due)[0]
    return told


def large() -> dict[str, float]:
    """A thousand engines with fifty events each: two sheets each, then no change, then one engine's."""
    told: dict[str, float] = {}
    with tempfile.TemporaryDirectory() as place:
        root = Path(place)
        big_club(root, 1000)
        words = [*DOCGEN, "--club", str(root)]
        printing = [*words, "print", "--job", "CLU", "--on", str(DAY), "--json"]
        told["due, 50,000 events read the first time"] = spent([*words, "due", "--on", str(DAY)])[0]
        told["due again"] = spent([*words, "due", "--on", str(DAY)])[0]
        told["due for one engine"] = spent([*words, "due", "0007", "--on", str(DAY)])[0]
        used, said = spent([*printing, "--processes", "1"])
        told[f"{len(json.loads(said)):,} sheets printed"] = used
        told["no change"] = min(spent(printing)[0] for _ in range(ROUNDS))
        path = root / "engines/0007/engine.yaml"
        path.write_text(path.read_text("utf-8").replace("keeper: ", "keeper: A. "), "utf-8")
        told["one engine changed"] = spent(printing)[0]
    return told


def main(arguments: list[str]) -> int:
    """Measure, and print what docs/speed.md says."""
    load = os.getloadavg()[0]
    machine = f"{platform.machine()}, {os.cpu_count()} cores, load {load:.1f} when it began"
    print(f"Python {platform.python_version()}, {machine}; WeasyPrint {_version('weasyprint')}\n")
    each = sheets()
    told = demo()
    print("\n| what | CPU s |\n|---|---|")
    for what, seconds in told.items():
        print(f"| {what} | {seconds:.2f} |", flush=True)
    big = large() if "--large" in arguments else {}
    for what, seconds in big.items():
        print(f"| {what} | {seconds:.2f} |", flush=True)
    peers = {way: each[way, 200] for way in PEERS if (way, 200) in each}
    fastest = min(peers, key=lambda way: peers[way], default="")
    peer = f"{1000 * peers[fastest]:.1f} ms {fastest}" if fastest else "none here"
    unchanged = f"{big['no change']:.2f} s" if big else "not run"
    print(
        f"\nsheet at 200: {1000 * each['kept', 200]:.1f} ms; plain WeasyPrint: {1000 * each['plain', 20]:.0f} ms; "
        f"fastest peer: {peer}; no change 2000: {unchanged}; "
        f"demo cold: {told['demo cold']:.1f} s, kept: {told['demo kept']:.1f} s; "
        f"due: {told['due']:.2f} s; help: {told['help']:.2f} s"
    )
    return 0


def _version(name: str) -> str:
    from importlib.metadata import version

    return version(name)


if __name__ == "__main__":
    resource.setrlimit(resource.RLIMIT_CORE, (0, 0))
    sys.exit(main(sys.argv[1:]))
